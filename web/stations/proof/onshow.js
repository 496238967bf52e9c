// How the print would look after years on show.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Fading } from "../../types/model.js" */

import { h, keyed, text } from "../../ui/dom.js";
import { button, numberField, range } from "../../ui/controls.js";
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
  return {
    node: h("section", { class: "on-show" },
      h("div", { class: "shown-for" }, lux.node, hours.node, years.node),
      h("table", {}, rows),
      h("div", { class: "actions" }, button("Show it faded", () => api.do({ do: "look", id: "faded" }), { class: "small" })),
      h("details", {}, h("summary", { text: "Why" }),
        h("p", { class: "facts", text: "Assumed, not measured: by the blue wool classes of the pigments (doses after Michalski 1990, as CIE 157:2004 tells fading), without UV, each pigment lost by equal shares for equal light. Paper and gelatine are taken to stay." }))),
    update(view) {
      const { exhibition: shown, fading } = view;
      lux.set(shown.lux);
      hours.set(shown.hours, 1);
      years.set(shown.years, 1);
      keyed(rows, fading.toReversed(), (one) => one.printer, () => row(1, (cells, /** @type {Fading} */ one, name) => {
        text(name, capital(one.printer));
        text(cells[0], one.words);
      }));
    },
  };
}
