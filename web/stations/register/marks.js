// The marks of the Register station: whether the plates lie by them, what they give, and
// each mark with how sure its pins are and how far the plates lie from them.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Mark } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { button, fold, numberField, radios, range } from "../../ui/controls.js";
import { capital, figure, length } from "../../ui/words.js";

const ways = [
  { id: "auto", name: "what register found" },
  { id: "marks", name: "the marks" },
  { id: "both", name: "both" },
];

const none = "No mark is set. Look at “marks”, click a feature in one plate, and its place in the other two is proposed; where none is found, pin it by hand. One mark gives a shift, two a similarity, three an affine map, four show what they are left with.";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const way = radios({ legend: "The plates lie by", commit: (id) => api.do({ do: "registerBy", id }) });
  const share = numberField({
    label: "Share of the marks", unit: "%", step: 5, ...range(api.view().ranges.mark_share, 100),
    commit: (percent) => api.do({ do: "registerBy", id: "both", value: percent / 100 }),
  });
  share.node.classList.add("share");
  const gives = h("div", { class: "gives" });
  const hint = h("p", { class: "hint" });
  const list = h("div", { class: "pinned" });
  const begin = button("Pin marks", () => api.do({ do: "look", id: "marks" }));
  const another = button("New mark", () => api.do({ do: "markChoose" }), { title: "Let go of the chosen mark: the next click begins another" });

  const folded = fold("Marks", false, way.node, share.node, gives, h("div", { class: "actions" }, begin, another), hint, list);
  let look = "";

  return {
    node: h("section", { class: "marks-list", "aria-label": "Marks" }, folded),
    update(view) {
      if (view.look === "marks" && look !== "marks") folded.open = true; // they are being pinned
      look = view.look;
      way.set(ways, view.registerBy);
      share.set(100 * view.markShare);
      show(share.node, view.registerBy === "both");
      keyed(gives, view.marksGive.map((words, i) => ({ i, words })), (one) => one.i, () => {
        const node = h("p", { class: "facts" });
        return { node, update: (one) => text(node, one.words) };
      });
      text(hint, view.marks.length === 0 ? none : "At each plate: how sure its pin is, and how far from it the plates as they lie now put it. What is proposed counts as it is until you drag or confirm it.");
      show(begin, view.look !== "marks");
      show(another, view.look === "marks" && view.chosenMark !== 0);
      keyed(list, view.marks.map((mark) => ({ ...mark, chosen: mark.n === view.chosenMark })), (mark) => mark.n, (mark) => one(api, mark.n));
    },
  };
}

/**
 * one is a mark of the list.
 * @param {Api} api
 * @param {number} n
 * @returns {Child<Mark & { chosen: boolean }>}
 */
function one(api, n) {
  const rows = h("tbody");
  const confirm = button("Confirm", () => api.do({ do: "confirm", n }), { class: "small", "aria-label": `Confirm what is proposed of mark ${n}` });
  const weight = numberField({ label: "Weight", step: 0.5, ...range(api.view().ranges["marks.weight"]), commit: (value) => api.do({ do: "weigh", n, value }) });
  attr(weight.input, "aria-label", `Weight of mark ${n}`);
  const node = h("article", { class: "pinned-mark" },
    h("header", {},
      h("h4", { text: `Mark ${n}` }),
      confirm,
      button("Go there", () => api.do({ do: "markGo", n }), { class: "small", "aria-label": `Go to mark ${n}` })),
    h("table", { "aria-label": `Pins of mark ${n} and how far the plates' place lies from them` }, rows),
    h("footer", {}, weight.node,
      button("Take away", () => api.do({ do: "unpin", n }), { class: "small", "aria-label": `Take mark ${n} away` })));
  return {
    node,
    update(mark) {
      attr(node, "data-chosen", mark.chosen);
      weight.set(mark.weight, 2);
      show(confirm, mark.plates.some((plate) => plate.proposed));
      keyed(rows, mark.plates, (plate) => plate.filter, (first) => {
        const words = h("td");
        const left = h("td", { class: "left-over" });
        return {
          node: h("tr", {}, h("th", { scope: "row", text: capital(first.filter) }), words, left),
          update(plate) {
            text(words, plate.words);
            attr(words, "class", plate.proposed ? "proposed-words" : null);
            text(left, plate.residualPx === null || plate.residualUm === null ? "" : `${figure(plate.residualPx, 2)} px, ${length(plate.residualUm)}`);
          },
        };
      });
    },
  };
}
