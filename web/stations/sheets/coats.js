// The recipe of each tissue's coat, what it comes to, and its load by a drawdown.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Model, Workshop } from "../../types/model.js" */

import { h, show, text } from "../../ui/dom.js";
import { numberField, radios, range } from "../../ui/controls.js";
import { fill } from "../../ui/filled.js";

const printers = ["yellow", "magenta", "cyan"]; // in the order of the workshop's layers
const parts = /** @type {const} */ ([
  ["pigment_gl", "Dry pigment", "g/l"], ["gelatine_pct", "Gelatine", "%"], ["sugar_pct", "Sugar", "%"], ["wet_mm", "Wet height", "mm"],
]);
const drawn = /** @type {const} */ ([["drawdown", "Drawdown on clear film: density at its peak", ""], ["drawdown_wet_mm", "Its wet height", "mm"]]);
const none = { pigment_gl: 0, gelatine_pct: 0, sugar_pct: 0, wet_mm: 0 };

/**
 * @param {Api} api
 * @param {(by: (works: Workshop) => void) => void} change changes the workshop as it is now
 * @returns {Blocks}
 */
export function build(api, change) {
  const ranges = api.view().ranges;
  const layerOf = (/** @type {Model} */ view) => printers.indexOf(view.filled["coats.layer"]);
  const layer = radios({ legend: "Layer", commit: fill(api, "coats.layer") });
  const recipe = parts.map(([key, label, unit]) => ({
    key,
    field: numberField({
      label, unit, step: key === "wet_mm" ? 0.05 : 0.5, empty: 0, placeholder: "not said", ...range(ranges[`workshop.layers.coat.${key}`]),
      commit: (v) => change((w) => {
        const coated = w.layers[layerOf(api.view())];
        coated.coat = { ...none, ...coated.coat, [key]: v };
      }),
    }),
  }));
  const strip = drawn.map(([key, label, unit]) => ({
    key,
    field: numberField({ label, unit, step: 0.01, empty: 0, placeholder: "none", ...range(ranges[`workshop.layers.${key}`]), commit: (v) => change((w) => { w.layers[layerOf(api.view())][key] = v; }) }),
  }));
  const words = h("p", { class: "facts" });
  return {
    nodes: [
      layer.node, ...recipe.map(({ field }) => field.node), words, ...strip.map(({ field }) => field.node),
      h("p", { class: "hint", text: "A drawdown of density 1.0 at the coat’s own height is load 1." }),
    ],
    update(view) {
      const at = layerOf(view);
      layer.set(["cyan", "magenta", "yellow"].map((id) => ({ id, name: id })), printers[at]);
      const now = view.workbench.workshop.layers[at];
      for (const { key, field } of recipe) field.set(now.coat?.[key] || NaN, 2);
      for (const { key, field } of strip) field.set(now[key] || NaN, 2);
      text(words, view.workbench.layers[at].coat);
      show(words, words.textContent !== "");
    },
  };
}
