// The local register, for film that has shrunk unevenly: it bends a plate smoothly. What
// is left is shown before and after, measured in the same way.

/** @import { Register, Row } from "../../types/model.js" */
/** @import { Api, Block } from "../../types/api.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { fold } from "../../ui/controls.js";
import { figure, length } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("div", { class: "cards" });
  /** @type {Register} */
  let now;
  return {
    node: h("section", { class: "local" }, fold("A smooth bend", false, list)),
    update({ register }) {
      now = register;
      keyed(list, register.rows.filter((row) => row.local.says !== ""), (row) => row.filter, (row) => plate(api, row.filter, () => now.pxUm));
    },
  };
}

/**
 * @param {Api} api
 * @param {string} filter
 * @param {() => number} pxUm
 * @returns {Child<Row>}
 */
function plate(api, filter, pxUm) {
  const box = h("input", { type: "checkbox", change: () => api.do({ do: "local", on: box.checked, filter }) });
  const says = h("p", { class: "facts" });
  const three = () => [h("td"), h("td"), h("td")];
  const cells = { before: three(), after: three() };
  /** @type {(name: string, cells: HTMLElement[]) => HTMLElement} */
  const line = (name, cells) => h("tr", {}, h("th", { scope: "row", text: name }), ...cells);
  const table = h("table", { class: "rests" },
    h("thead", {}, h("tr", {}, h("td"), ...["median", "95 %", "largest"].map((name) => h("th", { scope: "col", text: name })))),
    h("tbody", {}, line("before", cells.before), line("after", cells.after)));
  const compared = h("details", { class: "figured" }, h("summary", { text: "Before and after" }), table);
  return {
    node: h("div", { class: "compared" }, h("h4", { text: `${filter} plate` }), says,
      h("label", { class: "tick" }, box, h("span", { text: `Local register: bend the ${filter} plate smoothly` })), compared),
    update(row) {
      text(says, row.local.says);
      box.checked = row.local.used;
      attr(box, "disabled", !row.local.used && !row.local.have);
      show(compared, row.local.have);
      for (const key of /** @type {const} */ (["before", "after"])) {
        const { median, p95, max } = row.local[key];
        [median, p95, max].forEach((px, i) => {
          text(cells[key][i], `${figure(px, 2)} px\n${length(px * pxUm())}`);
        });
      }
    },
  };
}
