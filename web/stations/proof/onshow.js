// How the print would look after years on show.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Fading } from "../../types/model.js" */

import { h, keyed, show, text } from "../../ui/dom.js";
import { button, choice, numberField, range } from "../../ui/controls.js";
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
      measured.update(fading);
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
  let printer = "cyan";
  /** @type {Fading[]} */
  let fading = [];
  const of = choice({ label: "Tissue", commit: (id) => { printer = id; update(fading); } });
  const read = { dose: NaN, before: NaN, after: NaN };
  const fields = /** @type {const} */ ([["dose", "Light", "Mlx·h"], ["before", "Before", "D"], ["after", "After", "D"]]).map(([part, label, unit]) => {
    const field = numberField({
      label, unit, step: "any", empty: NaN, ...range(api.view().ranges[`fading.${part}`]),
      commit: (value) => { read[part] = value; field.set(value, 3); },
    });
    return field;
  });
  const refused = h("p", { class: "refused", role: "alert" });
  const take = button("Take it", () => {
    const whole = Object.values(read).every((value) => !Number.isNaN(value));
    const { error } = whole ? api.do({ do: "fading", printer, ...read }) : { error: "Give the light and both densities." };
    text(refused, error ?? "");
    if (!error) fields.forEach((field, i) => { read[/** @type {const} */ (["dose", "before", "after"])[i]] = NaN; field.set(NaN); });
  }, { class: "small" });
  const away = button("Take it away", () => api.do({ do: "fading", printer }), { class: "small" });
  function update(/** @type {Fading[]} */ now) {
    fading = now;
    of.set(layers, printer);
    show(away, now.some((one) => one.printer === printer && one.measured));
  }
  return {
    node: h("details", { class: "strip" }, h("summary", { text: "Measured strip" }),
      h("p", { class: "hint", text: "A strip of one tissue alone in the light, its density before and after: above bare paper, status A, the layer’s filter." }),
      of.node, h("div", { class: "shown-for" }, ...fields.map((field) => field.node)), refused, h("div", { class: "actions" }, take, away)),
    update,
  };
}
