// The sets that this browser keeps: each can be had back, taken off the list and
// put back on it; only from there it can be forgotten for good.

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";

export function build(api) {
  const list = h("div", { class: "kept-list" });
  const gone = h("div", { class: "kept-list" });
  const removed = h("details", { class: "kept-removed" }, h("summary"), gone);
  const room = h("p", { class: "hint" });
  const node = h("section", { class: "kept", "aria-label": "Kept sets" },
    h("h3", { text: "Kept in this browser" }), list, removed, room);
  return {
    node,
    update(view) {
      const others = view.kept.filter((set) => !set.open);
      show(node, others.length > 0);
      keyed(list, others.filter((set) => !set.removed), (set) => set.id, (set) => card(api, set.id));
      const off = others.filter((set) => set.removed);
      keyed(gone, off, (set) => set.id, (set) => card(api, set.id));
      show(removed, off.length > 0);
      text(removed.firstChild, off.length === 1 ? "One set taken off the list" : `${off.length} sets taken off the list`);
      text(room, "A set that you open again has its settings, its marks and its undo.");
    },
  };
}

function card(api, id) {
  const picture = h("img", { alt: "", width: 72, height: 54 });
  const title = h("h4");
  const facts = h("p", { class: "facts" });
  const open = button("Open", () => api.desk("restore", { id }));
  const off = button("Take off the list", () => api.desk("remove", { id }), { class: "quiet" });
  const forget = button("Forget for good", () => api.desk("forget", { id }), { class: "quiet" });
  const node = h("article", { class: "kept-set" }, picture,
    h("div", {}, title, facts, h("div", { class: "actions" }, open, off, forget)));
  return {
    node,
    update(set) {
      text(title, set.title);
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
