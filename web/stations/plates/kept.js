// The sets that this browser keeps: each can be had back, taken off the list and
// put back on it; only from there it can be forgotten for good.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { KeptSet } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { attr, h, keyed, named, show, text } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("div", { class: "kept-list" });
  const gone = h("div", { class: "kept-list" });
  const removedWords = h("summary");
  const removed = h("details", { class: "kept-removed" }, removedWords, gone);
  const node = h("section", { class: "kept", "aria-label": "Kept sets" },
    h("h3", { text: "Kept in this browser" }), list, removed,
    h("p", { class: "hint", text: "A set that you open again has its settings, its marks and its undo." }));
  return {
    node,
    update(view) {
      const others = view.kept.filter((set) => !set.open);
      show(node, others.length > 0);
      keyed(list, others.filter((set) => !set.removed), (set) => set.id, (set) => card(api, set.id));
      const off = others.filter((set) => set.removed);
      keyed(gone, off, (set) => set.id, (set) => card(api, set.id));
      show(removed, off.length > 0);
      text(removedWords, off.length === 1 ? "One set taken off the list" : `${off.length} sets taken off the list`);
    },
  };
}

/**
 * @param {Api} api
 * @param {string} id
 * @returns {Child<KeptSet>}
 */
function card(api, id) {
  const picture = h("img", { alt: "", width: 72, height: 54 });
  const title = h("h4");
  const facts = h("p", { class: "facts" });
  const open = button("Open", () => api.desk({ do: "restore", id }));
  const off = button("Take off the list", () => api.desk({ do: "remove", id }), { class: "quiet" });
  const forget = button("Forget for good", () => api.desk({ do: "forget", id }), { class: "quiet" });
  const node = h("article", { class: "kept-set" }, picture,
    h("div", {}, title, facts, h("div", { class: "actions" }, open, off, forget)));
  return {
    node,
    update(set) {
      named(title, set.title);
      text(facts, set.words);
      show(picture, Boolean(set.thumb));
      if (set.thumb) attr(picture, "src", set.thumb);
      text(open, set.removed ? "Put back and open" : "Open");
      attr(open, "aria-label", `Open ${set.title}`);
      attr(off, "aria-label", `Take ${set.title} off the list`);
      attr(forget, "aria-label", `Forget ${set.title} and its scans for good`);
      show(off, !set.removed);
      show(forget, set.removed);
    },
  };
}
