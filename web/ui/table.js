// Parts of the tables of figures.

import { h } from "./dom.js";

/**
 * columns is a head over a first column without a name.
 * @param {string[]} names
 */
export const columns = (...names) => h("thead", {}, h("tr", {}, h("td"), ...names.map((name) => h("th", { scope: "col", text: name }))));

/**
 * row is a line of a table: a heading, then cells.
 * @template Entry
 * @param {number} count of the cells
 * @param {(cells: HTMLElement[], entry: Entry, heading: HTMLElement) => void} fill sets them for an entry
 */
export function row(count, fill) {
  const name = h("th", { scope: "row" });
  const cells = Array.from({ length: count }, () => h("td"));
  return { node: h("tr", {}, name, ...cells), update: (/** @type {Entry} */ entry) => fill(cells, entry, name) };
}
