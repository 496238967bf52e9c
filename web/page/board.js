// The board: the open picture printed small with every palette, side by side over the
// stage, each print with its figures. The prints are made one by one and kept under keys:
// a card's key stands for everything that its print is made from.

/** @import { Api, Part, SmallPrint } from "../types/api.js" */
/** @import { Card, CardFigure } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { attr, h, keyed, named, paint, show, style, text } from "../ui/dom.js";
import { choice, radios } from "../ui/controls.js";
import { reason } from "../ui/words.js";

const MOST = 90; // prints that are kept, 300 kB each

const directions = [{ id: "rising", name: "smallest first" }, { id: "falling", name: "largest first" }];

/**
 * @param {Api} api
 * @param {HTMLElement} place
 * @returns {Part}
 */
export function build(api, place) {
  /** @type {Map<string, SmallPrint>} */
  const kept = new Map();
  let making = ""; // the key of the print that is being made

  async function print(/** @type {Card} */ { id, key }) {
    making = key;
    let [figures, why] = ["", ""];
    try {
      const print = await api.printSmall(id);
      kept.set(key, print);
      figures = print.figures;
    } catch (error) {
      why = reason(error);
    }
    making = "";
    window.threeply.tried(key, figures, why);
  }

  /**
   * next begins the next print that is missing, the chosen palette's first, and lets go
   * of prints that no card shows any more.
   * @param {Card[]} cards
   */
  function next(cards) {
    if (making) return;
    const missing = cards.filter((card) => !kept.has(card.key) && (card.printed || !card.note));
    const first = missing.find((card) => card.chosen) ?? missing[0];
    if (first) print(first);
    const wanted = new Set(cards.map((card) => card.key));
    for (const key of kept.keys()) {
      if (kept.size <= MOST) break;
      if (!wanted.has(key)) kept.delete(key);
    }
  }

  const now = () => api.view().board; // two controls that are used at once both count
  const sort = (/** @type {string} */ by, /** @type {boolean} */ falling) => api.do({ do: "sort", id: by, on: falling });
  const orders = choice({ label: "Sort by", commit: (id) => sort(id, now()?.falling ?? false) });
  const way = radios({ legend: "Direction", hideLegend: true, commit: (id) => sort(now()?.by ?? "kind", id === "falling") });
  const state = h("p", { class: "state", role: "status" });
  const cards = h("div", { class: "prints", role: "radiogroup", "aria-label": "Palettes, as small prints" });
  const empty = h("p", { class: "state", text: "Open three plates first: the board prints the open picture." });
  place.append(h("header", {}, orders.node, way.node, state), empty, cards);
  attr(place, "aria-label", "All palettes");

  return {
    update(view) {
      show(place, view.look === "board");
      if (!view.board) return;
      const { by, falling, orders: all, aspect, says } = view.board;
      orders.set(all, by);
      way.set(directions, falling ? "falling" : "rising");
      show(way.node, by !== "kind");
      show(empty, !view.ready);
      show(cards, view.ready);
      if (!view.ready) return;
      text(state, says);
      style(cards, "--aspect", String(aspect));
      keyed(cards, grouped(view.board.cards), (one) => ("title" in one ? `group ${one.title}` : one.id),
        (first) => {
          if ("title" in first) return { node: h("h2", { text: first.title }), update() {} };
          const child = cardOf(api, first, kept);
          return { node: child.node, update: (now, i) => { if (!("title" in now)) child.update(now, i); } };
        });
      next(view.board.cards);
    },
  };
}

/**
 * grouped puts the titles of groups before their first cards.
 * @param {Card[]} cards
 * @returns {(Card | { title: string })[]}
 */
const grouped = (cards) => cards.flatMap((card) => (card.group ? [{ title: card.group }, card] : [card]));

/**
 * @param {Api} api
 * @param {Card} card
 * @param {Map<string, SmallPrint>} kept
 * @returns {Child<Card>}
 */
function cardOf(api, { id }, kept) {
  const input = h("input", { type: "radio", name: "board", value: id, change: () => api.do({ do: "palette", id }) });
  const canvas = h("canvas", { role: "img" });
  const [name, era, mark, note] = [h("b"), h("span", { class: "era" }), h("span", { class: "mark", text: "chosen" }), h("span", { class: "why" })];
  const figures = h("dl");
  const three = h("p", { class: "three-words" });
  const near = h("p", { class: "near" });
  const lasts = h("p", { class: "lasts" });
  const list = h("details", {}, h("summary", { text: "Figures" }), figures, lasts);
  const label = h("label", {}, h("span", { class: "small" }, canvas), h("span", { class: "titled" }, input, name, era, mark));
  const node = h("div", { class: "small-print" }, label, three, near, list, note);
  let drawn = "";
  return {
    node,
    update(card) {
      const print = kept.get(card.key);
      if (input.checked !== card.chosen) input.checked = card.chosen;
      attr(node, "data-chosen", card.chosen);
      show(mark, card.chosen);
      named(name, card.name, card.own);
      text(era, card.own ? `${card.era}, own` : card.era);
      attr(canvas, "aria-label", `The picture printed with ${card.name}`);
      attr(node, "aria-busy", print || card.note ? null : "true");
      text(note, card.note);
      show(note, card.note !== "");
      show(list, card.printed || drawn !== "");
      text(three, card.three);
      text(near, card.near);
      show(near, card.near !== "");
      text(lasts, card.lasts);
      if (card.printed) keyed(figures, card.figures, (one) => one.name, figureOf);
      if (!print || drawn === card.key) return;
      drawn = card.key;
      paint(canvas, print);
    },
  };
}

/** @returns {Child<CardFigure>} */
function figureOf() {
  const [name, words] = [h("dt"), h("dd")];
  return {
    node: h("div", {}, name, words),
    update(one) {
      text(name, one.name);
      text(words, one.words);
      for (const each of [name, words]) attr(each, "data-sorts", one.sorts);
    },
  };
}
