// The field for a measured wedge: what a step tablet printed on a tissue.

/** @import { Api } from "../../types/api.js" */
/** @import { Printed } from "../../types/command.js" */
/** @import { Model } from "../../types/model.js" */

import { h, show, text } from "../../ui/dom.js";
import { button, choice, numberField } from "../../ui/controls.js";
import { fill, fillNumber, numberIn, tableField } from "../../ui/filled.js";
import { figure } from "../../ui/words.js";

/** @type {{ [printer: string]: string }} the filter of a densitometer that a layer is read through */
const filters = { yellow: "blue", magenta: "green", cyan: "red" };

/**
 * wedge makes the field of one printer's tissue.
 * @param {Api} api
 * @param {string} printer
 */
export function wedge(api, printer) {
  const of = `wedge.${printer}`;
  const table = tableField(api, `${of}.table`, {
    class: "line", rows: 6, "aria-label": `Wedge of the ${printer} tissue: the tablet’s density and the print’s, a step a line`,
    placeholder: "0.05\t1.62\n0.20\t1.58\n…\n1.85\t0.00",
  });
  const by = choice({ label: "Read by", commit: fill(api, `${of}.read`) });
  const reads = ["A", "T", "E"].map((id) => ({ id, name: `status ${id}, ${filters[printer]} filter` })).concat({ id: "visual", name: "visual density" });
  const [least, most] = api.view().ranges["wedge.exposure"];
  const exposed = numberField({ label: "Exposure, one unit for all three", placeholder: "1", min: least, max: most, step: "any", empty: NaN, commit: fillNumber(api, `${of}.exposure`) });
  const load = h("input", { type: "checkbox", change: () => fill(api, `${of}.load`)(load.checked ? "yes" : "no") });
  const refused = h("p", { class: "refused", role: "alert" });
  const known = h("p", { class: "facts" });
  const away = button("Take it away", () => api.do({ do: "wedge", printer }), { class: "small" });
  const take = button("Take the wedge", () => {
    const view = api.view();
    const exposure = numberIn(view, `${of}.exposure`);
    const { error } = api.do({ do: "wedge", printer, table: table.node.value, read: view.filled[`${of}.read`], ...(Number.isNaN(exposure) ? {} : { exposure }), load: load.checked });
    text(refused, error ?? "");
    if (!error) table.clear();
  }, { class: "small" });
  return {
    node: h("details", { class: "hardens" }, h("summary", { text: "Measured wedge" }),
      known, away,
      h("p", { class: "hint", text: "Print a step tablet on this tissue. A step a line: the tablet’s density, the print’s. Zero on bare paper." }),
      table.node, by.node, exposed.node, h("label", { class: "box" }, load, " Set the load by it too"), refused, h("div", { class: "actions" }, take),
      h("details", { class: "hint" }, h("summary", { text: "Why" }),
        h("p", { text: "The wedge then stands in place of the formula. Two steps that print alike show the whole coat. Give the exposures of all three tissues in one unit, and the proof tells their ratio. UV lamps harm eyes and skin, dichromates are toxic: follow their data sheets and local rules." }))),
    update(/** @type {Model} */ view, /** @type {Printed[] | undefined} */ steps) {
      table.update(view);
      by.set(reads, view.filled[`${of}.read`]);
      exposed.set(numberIn(view, `${of}.exposure`), 2);
      load.checked = view.filled[`${of}.load`] === "yes";
      const n = steps?.length ?? 0;
      show(known, n > 0);
      show(away, n > 0);
      if (!steps || n < 2) return;
      const held = steps.find((step) => step.micron > 0) ?? steps[0];
      text(known, `${n} steps over log ${figure(steps[n - 1].logExposure - steps[0].logExposure, 2)}. The thinnest that held: ${figure(held.micron, 1)} µm.`);
    },
  };
}
