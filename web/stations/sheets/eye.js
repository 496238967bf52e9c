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

const rows = [...printers, ...greys.map(([row]) => row)];

/**
 * cellsOf takes a table apart, row by row.
 * @param {string} table
 */
function cellsOf(table) {
  const lines = new Map(table.split("\n").map((line) => line.split("\t")).map(([row, ...values]) => [row, values]));
  return rows.map((row, i) => (i < printers.length ? asked : ["neutral"]).map((_, k) => lines.get(row)?.[k] ?? ""));
}

/**
 * tableOf puts it together.
 * @param {string[][]} cells
 */
const tableOf = (cells) => [["LAYER", ...asked], ...cells.map((values, i) => [rows[i], ...values])].map((row) => row.join("\t")).join("\n");

/**
 * @param {Api} api
 * @param {(files: File[]) => void} take fits the tissues to what is entered
 * @returns {Block}
 */
export function build(api, take) {
  const field = (/** @type {number} */ i, /** @type {number} */ k, /** @type {string} */ label, letters = "3") => {
    const input = h("input", { type: "text", maxlength: letters, autocomplete: "off", "aria-label": label, input: () => keep(i, k, input.value) });
    return input;
  };
  // keep changes one cell of what the session has, whatever the other fields show.
  function keep(/** @type {number} */ i, /** @type {number} */ k, /** @type {string} */ text) {
    const cells = cellsOf(api.view().sight);
    cells[i][k] = text.trim();
    api.do({ do: "sight", gesture: "sight", table: cells.flat().some(Boolean) ? tableOf(cells) : "" });
  }
  const fields = printers.map((printer, i) => asked.map((what, k) => field(i, k, `${capital(printer)}: ${says[what]}`, what === "density" ? "5" : "3")));
  for (const row of fields) row[3].inputMode = "decimal";
  const neutrals = greys.map(([, name], i) => field(printers.length + i, 0, `${name} ◇: the grey that looks neutral, or two or three that it lies between`, "11"));
  return {
    node: h("details", { class: "folded eye" }, h("summary", { text: "By eye" }),
      h("table", {}, columns("held", "last", "match", "density"), h("tbody", {},
        ...printers.map((printer, i) => h("tr", {}, h("th", { scope: "row" }, `${capital(printer)} `, h("small", { text: `through ${filters[printer]}` })), ...fields[i].map((input) => h("td", {}, input)))),
        ...greys.map(([, name], i) => h("tr", {}, h("th", { scope: "row", text: `${name} ◇` }), h("td", { colspan: "4" }, neutrals[i]))))),
      h("p", { class: "hint", text: "Places such as C4; the plan says what to look for. Of each ◇ the neutral one, or the two or three that it lies between." }),
      h("div", { class: "actions" }, button("Use what I see", () => take([new File([tableOf(cellsOf(api.view().sight))], "what was seen")])))),

    update(view) {
      const cells = cellsOf(view.sight);
      [...fields, ...neutrals.map((input) => [input])].forEach((inputs, i) => inputs.forEach((input, k) => {
        if (input.value.trim() !== cells[i][k]) input.value = cells[i][k];
      }));
    },
  };
}
