// The cautions for the work.

import { h, keyed, show, text } from "../ui/dom.js";

// cautionList shows where the work can hurt; it is closed until it is wanted,
// but says how many there are.
export function cautionList(open = false) {
  const list = h("ul");
  const summary = h("summary");
  const node = h("details", { class: "cautions", open }, summary, list);
  return {
    node,
    update(cautions) {
      show(node, cautions.length > 0);
      text(summary, `Cautions for the work (${cautions.length})`);
      keyed(list, cautions, (caution) => caution, (caution) => ({ node: h("li", { text: caution }), update() {} }));
    },
  };
}
