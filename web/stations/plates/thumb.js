// A small picture of a plate, painted again only when the picture changes.

import { h } from "../../ui/dom.js";

export function thumb() {
  const node = h("canvas", { class: "thumb", role: "img" });
  let painted = "";
  return {
    node,
    update(plate) {
      node.setAttribute("aria-label", `The ${plate.filter} plate, ${plate.file}`);
      const wanted = `${plate.source}/${plate.thumb}`;
      if (wanted === painted) return;
      const picture = window.threeply.thumb(plate.source);
      if (!picture) return;
      painted = wanted;
      node.width = picture.w;
      node.height = picture.h;
      node.getContext("2d").putImageData(new ImageData(picture.rgba, picture.w, picture.h), 0, 0);
    },
  };
}
