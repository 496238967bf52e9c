// A small picture of a plate, painted again only when the picture changes.

/** @import { Plate } from "../../types/model.js" */

import { attr, h, paint } from "../../ui/dom.js";

export function thumb() {
  const node = h("canvas", { class: "thumb", role: "img" });
  let painted = "";
  return {
    node,
    update(/** @type {Plate} */ plate) {
      attr(node, "aria-label", `The ${plate.filter} plate, ${plate.file}`);
      const wanted = `${plate.source}/${plate.thumb}`;
      if (wanted === painted) return;
      const picture = window.threeply.thumb(plate.source);
      if (!picture) return;
      painted = wanted;
      paint(node, picture);
    },
  };
}
