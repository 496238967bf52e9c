// The cautions for the work.

import { h, keyed, show, text } from "../ui/dom.js";

/**
 * cautionList shows where the work can hurt. While the list is closed it says how many
 * cautions there are.
 * @param {boolean} [open]
 */
export function cautionList(open = false) {
  const list = h("ul");
  const summary = h("summary");
  const node = h("details", { class: "cautions", open }, summary, list);
  return {
    node,
    update(/** @type {string[]} */ cautions) {
      show(node, cautions.length > 0);
      text(summary, `Cautions for the work (${cautions.length})`);
      keyed(list, cautions, (caution) => caution, (caution) => ({ node: h("li", { text: caution }), update() {} }));
    },
  };
}
