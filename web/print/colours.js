// The colours that pictures show at a point, each with its patch.

/** @import { Colour } from "../types/model.js" */

import { h, keyed, show, style, text } from "../ui/dom.js";
import { figure } from "../ui/words.js";

/**
 * colours is a table of the colours at one point: patch, name, CIELAB, and how far from
 * the first.
 */
export function colours() {
  const rows = h("tbody");
  return {
    node: h("table", { class: "colours" }, rows),
    update(/** @type {Colour[]} */ list) {
      keyed(rows, list, (colour) => colour.id, () => {
        const patch = h("span", { class: "swatch", "aria-hidden": "true" });
        const [name, lab, apart] = [h("span"), h("td"), h("td")];
        return {
          node: h("tr", {}, h("th", { scope: "row" }, patch, name), lab, apart),
          update(/** @type {Colour} */ colour) {
            style(patch, "background-color", colour.hex);
            text(name, colour.label);
            text(lab, colour.lab.map((v) => figure(v)).join(" "));
            text(apart, colour.dE > 0 ? `ΔE00 ${figure(colour.dE, 1)}` : "");
            show(apart, list.length > 1);
          },
        };
      });
    },
  };
}
