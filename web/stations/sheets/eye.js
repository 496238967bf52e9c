// What the eye tells of a test sheet: a small form, which is read as the table seen.csv is.

/** @import { Api, Block } from "../../types/api.js" */

import { h } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";
import { columns } from "../../ui/table.js";
import { capital } from "../../ui/words.js";

const printers = /** @type {const} */ (["yellow", "magenta", "cyan"]);
const filters = { yellow: "blue", magenta: "green", cyan: "red" };
const asked = /** @type {const} */ (["held", "last", "match", "density"]);
const says = { held: "lightest step that held", last: "darker of the last two told apart", match: "step as dark as a grey", density: "density of that grey" };

/**
 * @param {Api} api
 * @param {(files: File[]) => void} take fits the tissues to what is entered
 * @returns {Block}
 */
export function build(api, take) {
  const field = (/** @type {string} */ label, number = false) => h("input", { type: "text", maxlength: number ? "5" : "3", inputmode: number ? "decimal" : "text", autocomplete: "off", "aria-label": label });
  const fields = printers.map((printer) => asked.map((what) => field(`${capital(printer)}: ${says[what]}`, what === "density")));
  const neutral = field("The grey that looks neutral");
  const use = () => {
    const rows = printers.map((printer, i) => [printer, ...fields[i].map((input) => input.value.trim())]);
    const table = [["LAYER", ...asked], ...rows, ["neutral", neutral.value.trim()]].map((row) => row.join("\t")).join("\n");
    take([new File([table], "what was seen")]);
  };
  let shown = ""; // the palette whose sight the form was filled with
  return {
    node: h("details", { class: "folded eye" }, h("summary", { text: "By eye" }),
      h("table", {}, columns("held", "last", "match", "density"), h("tbody", {},
        ...printers.map((printer, i) => h("tr", {}, h("th", { scope: "row" }, `${capital(printer)} `, h("small", { text: `through ${filters[printer]}` })), ...fields[i].map((input) => h("td", {}, input)))),
        h("tr", {}, h("th", { scope: "row", text: "Neutral ◇" }), h("td", {}, neutral)))),
      h("p", { class: "hint", text: "Places such as C4; the plan says what to look for." }),
      h("div", { class: "actions" }, button("Use what I see", use))),

    update(view) {
      const chosen = view.palettes.find((palette) => palette.chosen && palette.seen);
      if (!chosen?.seen || shown === chosen.id) return;
      shown = chosen.id;
      const { seen } = chosen;
      printers.forEach((printer, i) => asked.forEach((what, k) => { fields[i][k].value = String(seen[printer][what] || ""); }));
      neutral.value = seen.neutral;
    },
  };
}
