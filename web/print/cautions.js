// The cautions for the work.

import { h, keyed, show, text } from "../ui/dom.js";

/**
 * cautionList shows where the work can hurt. While the list is closed it says how many
 * cautions there are.
 */
export function cautionList() {
  const list = h("ul");
  const summary = h("summary");
  const node = h("details", { class: "cautions" }, summary, list);
  return {
    node,
    update(/** @type {string[]} */ cautions) {
      show(node, cautions.length > 0);
      text(summary, `Cautions (${cautions.length})`);
      keyed(list, cautions, (caution) => caution, (caution) => ({ node: h("li", { text: caution }), update() {} }));
    },
  };
}
