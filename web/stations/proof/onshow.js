// How the print would look after years on show.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Fading, Model } from "../../types/model.js" */

import { h, keyed, show, text } from "../../ui/dom.js";
import { button, choice, numberField, range } from "../../ui/controls.js";
import { fill, fillNumber, numberIn } from "../../ui/filled.js";
import { row } from "../../ui/table.js";
import { capital } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  /** @type {(part: "lux" | "hours" | "years", label: string, unit: string) => ReturnType<typeof numberField>} */
  const part = (part, label, unit) => numberField({
    label, unit, step: "any", ...range(api.view().ranges[`exhibition.${part}`]),
    commit: (value) => api.do({ do: "exhibition", exhibition: { ...api.view().exhibition, [part]: value } }),
  });
  const [lux, hours, years] = [part("lux", "Light", "lx"), part("hours", "A day", "h"), part("years", "Years", "")];
  const rows = h("tbody");
  const measured = strip(api);
  return {
    node: h("section", { class: "on-show" },
      h("div", { class: "shown-for" }, lux.node, hours.node, years.node),
      h("table", {}, rows),
      h("div", { class: "actions" }, button("Show it faded", () => api.do({ do: "look", id: "faded" }), { class: "small" })),
      measured.node,
      h("details", {}, h("summary", { text: "Why" }),
        h("p", { class: "facts", text: "Assumed where no strip was measured: by the blue wool classes of the pigments (doses after Michalski 1990, as CIE 157:2004 tells fading), without UV, each pigment lost by equal shares for equal light. Paper and gelatine are taken to stay." }))),
    update(view) {
      const { exhibition: shown, fading } = view;
      lux.set(shown.lux);
      hours.set(shown.hours, 1);
      years.set(shown.years, 1);
      measured.update(view);
      keyed(rows, fading.toReversed(), (one) => one.printer, () => row(1, (cells, /** @type {Fading} */ one, name) => {
        text(name, capital(one.printer));
        text(cells[0], one.words);
      }));
    },
  };
}

/**
 * strip is the field for a strip of a tissue that was measured before and after light.
 * @param {Api} api
 */
function strip(api) {
  const layers = ["cyan", "magenta", "yellow"].map((id) => ({ id, name: capital(id) }));
  const parts = /** @type {const} */ ([["dose", "Light", "Mlx·h"], ["before", "Before", "D"], ["after", "After", "D"]]);
  const of = choice({ label: "Tissue", commit: fill(api, "strip.layer") });
  const fields = parts.map(([part, label, unit]) => numberField({
    label, unit, step: "any", empty: NaN, ...range(api.view().ranges[`fading.${part}`]), commit: fillNumber(api, `strip.${part}`),
  }));
  const refused = h("p", { class: "refused", role: "alert" });
  const take = button("Take it", () => {
    const view = api.view();
    const [dose, before, after] = parts.map(([part]) => numberIn(view, `strip.${part}`));
    const whole = ![dose, before, after].some(Number.isNaN);
    const { error } = whole ? api.do({ do: "fading", printer: view.filled["strip.layer"], dose, before, after }) : { error: "Give the light and both densities." };
    text(refused, error ?? "");
    if (!error) for (const [part] of parts) fill(api, `strip.${part}`)("");
  }, { class: "small" });
  const away = button("Take it away", () => api.do({ do: "fading", printer: api.view().filled["strip.layer"] }), { class: "small" });
  function update(/** @type {Model} */ view) {
    const printer = view.filled["strip.layer"];
    of.set(layers, printer);
    fields.forEach((field, i) => field.set(numberIn(view, `strip.${parts[i][0]}`), 3));
    show(away, view.fading.some((one) => one.printer === printer && one.measured));
  }
  return {
    node: h("details", { class: "strip" }, h("summary", { text: "Measured strip" }),
      h("p", { class: "hint", text: "A strip of one tissue alone in the light, its density before and after: above bare paper, status A, the layer’s filter." }),
      of.node, h("div", { class: "shown-for" }, ...fields.map((field) => field.node)), refused, h("div", { class: "actions" }, take, away)),
    update,
  };
}
