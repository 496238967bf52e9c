// The turns: the stack after each transfer, and which way the picture reads
// there, told by a letter as printers do.

/** @import { Child } from "../ui/dom.js" */
/** @import { Api, Blocks } from "../types/api.js" */
/** @import { Model, Turn } from "../types/model.js" */

import { h, attr, keyed, svg, text } from "../ui/dom.js";
import { choice } from "../ui/controls.js";
import { chosenPalette } from "../print/layers.js";

const WIDTH = 40;
const BAND = 6;
const SUPPORT = 5;

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const route = choice({ label: "Route", hideLabel: true, commit: (id) => api.do({ do: "route", id }) });
  const list = h("ol", { class: "steps" });
  const negatives = h("p", { class: "negatives" });
  const why = h("details", {}, h("summary", { text: "negatives" }), negatives);

  /** @returns {Child<Turn & { i: number, view: Model }>} */
  function step() {
    const bands = [0, 1, 2].map((i) => svg("rect", { x: 0, y: i * BAND, width: WIDTH, height: BAND }));
    const drawing = svg("svg", { viewBox: `0 0 ${WIDTH} ${3 * BAND + SUPPORT}`, width: WIDTH, height: 3 * BAND + SUPPORT, "aria-hidden": "true" },
      ...bands, svg("rect", { x: 0, y: 3 * BAND, width: WIDTH, height: SUPPORT, class: "support" }));
    const letter = h("span", { class: "letter", text: "R", "aria-hidden": "true" });
    const support = h("span", { class: "support-name" });
    const reads = h("span", { class: "reads" });
    const node = h("li", {}, drawing, letter, h("span", { class: "named" }, support, reads));
    return {
      node,
      update(turn) {
        const layers = chosenPalette(turn.view)?.layers ?? [];
        bands.forEach((band, i) => {
          attr(band, "fill", layers.find((l) => l.printer === turn.layers[i])?.swatch ?? "none");
        });
        const reversed = turn.reads !== "right";
        attr(letter, "data-reversed", reversed);
        text(support, turn.support);
        text(reads, reversed ? "reads reversed" : "reads right");
        attr(node, "title", `${turn.words} From the top: ${turn.layers.join(", ")}.`);
      },
    };
  }

  return {
    nodes: [h("header", {}, h("h2", { text: "Transfers" }), why), route.node, list],
    update(view) {
      route.set(view.routes, view.route);
      keyed(list, view.turns.map((turn, i) => ({ ...turn, i, view })), (turn) => turn.i, step);
      text(negatives, `Put down ${view.putDown.join(", ")}. Printing negatives: ${view.negatives}. Outside: ${view.surface}.`);
    },
  };
}
