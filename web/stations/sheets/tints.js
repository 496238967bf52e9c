// The field for tints of dots that were measured on a print.

/** @import { Api } from "../../types/api.js" */
/** @import { Model } from "../../types/model.js" */

import { h, show, text } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";
import { tableField } from "../../ui/filled.js";

/**
 * tintTable is the field for tints of the film that were measured on a print.
 * @param {Api} api
 */
export function tintTable(api) {
  const known = h("p", { class: "facts" });
  const refused = h("p", { class: "refused", role: "alert" });
  const table = tableField(api, "tints.table", { "aria-label": "Tints in %: of the film, of the print", placeholder: "5\t9\n25\t38\n50\t66\n75\t86" });
  const give = (/** @type {string} */ dotTable) => {
    const { error } = api.do({ do: "negatives", dotTable });
    text(refused, error ?? "");
    if (!error) table.clear();
  };
  const away = button("Take it away", () => give(""), { class: "small" });
  const node = h("details", { class: "folded" }, h("summary", { text: "Measured growth of dots" }), known,
    h("p", { class: "hint", text: "A line for each tint, in %: of the film, and of the print as read between bare paper and full tone." }),
    table.node, refused, h("div", { class: "actions" }, button("Take the table", () => give(table.node.value), { class: "small" }), away));
  return {
    node,
    update(/** @type {Model} */ view) {
      const measured = view.workbench.setup.dots.table ?? [];
      table.update(view);
      text(known, measured.length > 0 ? `A table of ${measured.length} tints is used in place of one figure.` : "");
      show(known, measured.length > 0);
      show(away, measured.length > 0);
    },
  };
}
