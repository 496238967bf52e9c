// What each layer is exposed to, and what a third of a stop does to the print: three small
// prints, one layer exposed less, as meant, and more.

/** @import { Api, Block } from "../../types/api.js" */

import { attr, h, paint, show, text } from "../../ui/dom.js";
import { radios } from "../../ui/controls.js";
import { fill } from "../../ui/filled.js";
import { asker } from "../../print/ask.js";

const printers = ["cyan", "magenta", "yellow"];
const captions = ["⅓ stop less", "as meant", "⅓ stop more"];

/**
 * @param {Api} api
 * @param {Node} exposures of the layers, a table
 * @returns {Block}
 */
export function build(api, exposures) {
  const layer = radios({ legend: "Layer", commit: fill(api, "thirds.layer") });
  const prints = asker(api, () => api.printThirds(api.view().filled["thirds.layer"]), 12);
  const canvases = captions.map((caption) => h("canvas", { role: "img", "aria-label": `The picture exposed ${caption}` }));
  const row = h("div", { class: "thirds" }, ...canvases.map((canvas, i) => h("figure", {}, canvas, h("figcaption", { text: captions[i] }))));
  const refused = h("p", { class: "hint" });
  let drawn = "";
  const node = h("details", { class: "folded", toggle: () => api.refresh() }, h("summary", { text: "Exposures, and what ⅓ stop does" }), exposures, layer.node, row, refused);
  return {
    node,
    update(view) {
      const printer = view.filled["thirds.layer"];
      show(node, view.ready);
      layer.set(printers.map((id) => ({ id, name: id })), printer);
      if (!view.ready || !node.open) return;
      const key = `${printer} ${view.masked} ${view.pictureKey}`;
      const now = prints.want(key, view);
      attr(row, "aria-busy", now ? null : "true");
      text(refused, prints.why(key));
      show(refused, refused.textContent !== "");
      if (!now || drawn === key) return;
      drawn = key;
      canvases.forEach((canvas, i) => {
        paint(canvas, now[i]);
        attr(canvas, "aria-label", `The picture with ${printer} exposed ${captions[i]}`);
      });
    },
  };
}
