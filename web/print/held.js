// The held prints: named versions of the recipe, to be looked at against others and to be
// gone back to.

/** @import { Api, Block } from "../types/api.js" */
/** @import { Held } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { attr, h, keyed, show } from "../ui/dom.js";
import { button } from "../ui/controls.js";
import { textField } from "../ui/textfield.js";

/**
 * hold holds the print as it is now, and stands it at the left.
 * @param {Api} api
 */
export function hold(api) {
  if (api.do({ do: "hold" }).error) return;
  const held = api.view().held.at(-1);
  if (held) api.do({ do: "side", which: "left", id: `held-${held.n}` });
}

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("ul", { class: "held-list" });
  const node = h("section", { class: "held", "aria-label": "Held prints" }, list,
    button("Hold this print", () => hold(api), { class: "small", title: "Keeps the recipe as it is now under a name, to be looked at against others and to be gone back to" }),
    button("Hold the one before", () => api.do({ do: "holdBefore" }), { class: "small", title: "Stands the print as it was before the last change of it at the left of the print as it is now" }));
  return {
    node,
    update(view) {
      show(list, view.held.length > 0);
      keyed(list, view.held, (held) => held.n, (held) => row(api, held.n));
    },
  };
}

/**
 * @param {Api} api
 * @param {number} n
 * @returns {Child<Held>}
 */
function row(api, n) {
  const name = textField({ label: `Held print ${n}`, maxlength: 80, commit: (text) => api.do({ do: "nameHeld", n, text }) });
  const back = button("Go back to it", () => api.do({ do: "takeHeld", n }), { class: "quiet" });
  const away = button("Let go", () => api.do({ do: "dropHeld", n }), { class: "quiet" });
  const node = h("li", {}, name.node, h("div", { class: "actions" }, back, away));
  return {
    node,
    update(held) {
      name.set(held.name);
      attr(node, "title", held.says);
      attr(back, "aria-label", `Go back to ${held.name}`);
      attr(away, "aria-label", `Let ${held.name} go`);
      show(back, !held.now);
    },
  };
}
