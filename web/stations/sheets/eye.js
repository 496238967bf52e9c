// What the eye tells of a test sheet: a small form, which is read as the table seen.csv is. What
// is written there is kept with the session until it is used.

/** @import { Api, Block } from "../../types/api.js" */

import { h } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";
import { columns } from "../../ui/table.js";
import { capital } from "../../ui/words.js";

const printers = /** @type {const} */ (["yellow", "magenta", "cyan"]);
const filters = { yellow: "blue", magenta: "green", cyan: "red" };
const asked = /** @type {const} */ (["held", "last", "match", "density"]);
const says = { held: "lightest step that held", last: "darker of the last two told apart", match: "step as dark as a grey", density: "density of that grey" };
const greys = /** @type {const} */ ([["light", "Light"], ["neutral", "Middle"], ["deep", "Deep"]]);

/**
 * @param {Api} api
 * @param {(files: File[]) => void} take fits the tissues to what is entered
 * @returns {Block}
 */
export function build(api, take) {
  let kept = ""; // the table that the session has
  const field = (/** @type {string} */ label, letters = "3") => h("input", { type: "text", maxlength: letters, autocomplete: "off", "aria-label": label, input: () => keep() });
  const fields = printers.map((printer) => asked.map((what) => field(`${capital(printer)}: ${says[what]}`, what === "density" ? "5" : "3")));
  for (const row of fields) row[3].inputMode = "decimal";
  const neutrals = greys.map(([, name]) => field(`${name} ◇: the grey that looks neutral, or two or three that it lies between`, "11"));
  const cells = () => [...printers.map((printer, i) => [printer, ...fields[i].map((input) => input.value.trim())]), ...greys.map(([row], i) => [row, neutrals[i].value.trim()])];
  const table = () => [["LAYER", ...asked], ...cells()].map((row) => row.join("\t")).join("\n");
  const keep = () => {
    kept = cells().some(([, ...values]) => values.some(Boolean)) ? table() : "";
    api.do({ do: "sight", gesture: "sight", table: kept });
  };
  return {
    node: h("details", { class: "folded eye" }, h("summary", { text: "By eye" }),
      h("table", {}, columns("held", "last", "match", "density"), h("tbody", {},
        ...printers.map((printer, i) => h("tr", {}, h("th", { scope: "row" }, `${capital(printer)} `, h("small", { text: `through ${filters[printer]}` })), ...fields[i].map((input) => h("td", {}, input)))),
        ...greys.map(([, name], i) => h("tr", {}, h("th", { scope: "row", text: `${name} ◇` }), h("td", { colspan: "4" }, neutrals[i]))))),
      h("p", { class: "hint", text: "Places such as C4; the plan says what to look for. Of each ◇ the neutral one, or the two or three that it lies between." }),
      h("div", { class: "actions" }, button("Use what I see", () => take([new File([table()], "what was seen")])))),

    update(view) {
      if (view.sight === kept) return;
      kept = view.sight;
      const rows = new Map(kept.split("\n").map((line) => line.split("\t")).map(([row, ...values]) => [row, values]));
      printers.forEach((printer, i) => fields[i].forEach((input, k) => { input.value = rows.get(printer)?.[k] ?? ""; }));
      greys.forEach(([row], i) => { neutrals[i].value = rows.get(row)?.[0] ?? ""; });
    },
  };
}
