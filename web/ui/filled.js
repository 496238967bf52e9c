// Fields that change neither the session nor the pictures: the program keeps what stands in
// them, by name (wasm/page/view/filled.go).

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { h } from "./dom.js";
import { typed } from "./textfield.js";

/**
 * fill has a text stand in a field, or "" for nothing.
 * @param {Api} api
 * @param {string} id
 */
export const fill = (api, id) => (/** @type {string} */ text) => void api.do({ do: "fill", id, text });

/**
 * fillNumber has a number stand there, or NaN for nothing.
 * @param {Api} api
 * @param {string} id
 */
export const fillNumber = (api, id) => (/** @type {number} */ value) => fill(api, id)(Number.isNaN(value) ? "" : String(value));

/**
 * numberIn is the number that stands in a field, NaN for none.
 * @param {Model} view
 * @param {string} id
 */
export const numberIn = (view, id) => (view.filled[id] === "" ? NaN : Number(view.filled[id]));

/**
 * tableField is a field for a table that is typed or pasted. It is kept until it is taken.
 * @param {Api} api
 * @param {string} id
 * @param {import("./dom.js").Props} props
 */
export function tableField(api, id, props) {
  const node = h("textarea", { class: "line", spellcheck: "false", ...props });
  const set = typed(node, { keeps: true, commit: fill(api, id) });
  return {
    node,
    update: (/** @type {Model} */ view) => set(view.filled[id]),
    clear: () => fill(api, id)(""),
  };
}
