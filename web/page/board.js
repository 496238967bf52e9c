// The board: the open picture printed small with every palette, side by side over the
// stage, each print with its figures. The prints are made one by one and kept under keys:
// a card's key stands for everything that its print is made from.

/** @import { Api, Part, SmallPrint } from "../types/api.js" */
/** @import { Card, CardFigure, Model } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { attr, h, keyed, named, paint, show, style, text } from "../ui/dom.js";
import { choice, radios } from "../ui/controls.js";
import { reason } from "../ui/words.js";

const MOST = 90; // prints that are kept, 300 kB each

// Lengths of the board, CSS pixels, as board.css has them.
const ROOM = 18; // about a small print, from edge to edge of its card
const [ACROSS, DOWN] = [14, 12]; // between cards
const APART = 26; // more between two groups
const TITLE = 30; // of a group
const WORDS = 70; // under a picture, in two lines and its name, until they are measured
const PANEL = 900; // of the figures of a card
const RIM = 9; // of a card around its picture
const LEAST = 150; // the longer side of a picture: where that is not to be had the board is scrolled

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
  const orders = choice({ label: "Sorted", commit: (id) => sort(id, now()?.falling ?? false) });
  const way = radios({ legend: "Direction", hideLegend: true, commit: (id) => sort(now()?.by ?? "kind", id === "falling") });
  const state = h("p", { class: "state", role: "status" });
  const sign = h("p", { class: "state sign", title: "As near the reference as the chosen: their means cannot be told apart." }, "≈ ", h("span", { text: "as near as the chosen" }));
  const cards = h("div", { class: "prints", role: "radiogroup", "aria-label": "Palettes, as small prints" });
  const empty = h("p", { class: "state", text: "Open three plates first: the board prints the open picture." });
  place.append(h("header", {}, orders.node, way.node, sign, state), empty, cards);
  /** @type {Model["board"] | null} */
  let shown = null;
  const lay = () => layCards(cards, shown);
  new ResizeObserver(lay).observe(cards);
  attr(place, "aria-label", "All palettes");

  return {
    update(view) {
      show(place, view.look === "board");
      shown = view.board;
      if (!view.board) return;
      const { by, falling, orders: all, aspect, says } = view.board;
      orders.set(all, by);
      way.set(directions, falling ? "falling" : "rising");
      show(way.node, by !== "kind");
      show(empty, !view.ready);
      show(cards, view.ready);
      if (!view.ready) return;
      text(state, says);
      show(sign, view.board.cards.some((card) => card.near !== ""));
      style(cards, "--aspect", String(aspect));
      attr(cards, "data-grouped", view.board.cards.some((card) => card.group !== ""));
      keyed(cards, grouped(view.board.cards), (one) => ("title" in one ? `group ${one.title}` : one.id),
        (first) => {
          if ("title" in first) return { node: h("h2", { text: first.title }), update() {} };
          const child = cardOf(api, first, kept);
          return { node: child.node, update: (now, i) => { if (!("title" in now)) child.update(now, i); } };
        });
      lay();
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
 * layCards lays all cards in sight at once, each group in columns of its own, with as many rows
 * as make the pictures largest.
 * @param {HTMLElement} place
 * @param {Model["board"] | null} board
 */
function layCards(place, board) {
  if (!board || place.clientWidth === 0) return;
  const sizes = /** @type {number[]} */ ([]); // of the groups, a board without groups is one
  for (const card of board.cards) {
    if (card.group || sizes.length === 0) sizes.push(0);
    sizes[sizes.length - 1]++;
  }
  const { paddingLeft, paddingRight, paddingTop, paddingBottom } = getComputedStyle(place);
  const wide = place.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight) - APART * (sizes.length - 1);
  const high = place.clientHeight - parseFloat(paddingTop) - parseFloat(paddingBottom) - (sizes.length > 1 ? TITLE : 0);
  const columns = (/** @type {number} */ rows) => sizes.map((n) => Math.ceil(n / rows));
  const sum = (/** @type {number[]} */ all) => all.reduce((a, b) => a + b, 0);
  // The width of a picture where so many rows are laid, with so much room for the words.
  const width = (/** @type {number} */ rows, words = WORDS) => {
    const across = (wide + ACROSS) / sum(columns(rows)) - ACROSS - ROOM;
    return Math.floor(Math.min(across, board.aspect * ((high + DOWN) / rows - DOWN - ROOM - words)));
  };
  const most = Math.max(...sizes, 1);
  let rows = 1;
  for (let more = 2; more <= most; more++) if (width(more) > width(rows)) rows = more;
  const fits = Math.max(width(rows), width(rows) / board.aspect) >= LEAST;
  attr(place, "data-whole", fits);
  const nodes = /** @type {HTMLElement[]} */ ([...place.children]);
  if (!fits) {
    for (const node of [place, ...nodes]) for (const name of ["grid-template-columns", "grid-area", "--wide"]) node.style.removeProperty(name);
    return;
  }
  const of = columns(rows);
  style(place, "grid-template-columns", of.map((n) => `repeat(${n}, minmax(0, 1fr))`).join(` ${APART - ACROSS}px `));
  let [group, first, i] = [-1, 1, 0]; // the group, its first column, and which of its cards comes next
  const from = sizes.length > 1 ? 2 : 1; // the row of the first cards
  for (const node of nodes) {
    const title = node.matches("h2");
    if (title || group < 0) {
      if (group >= 0) first += of[group] + 1;
      [group, i] = [group + 1, 0];
    }
    style(node, "grid-area", title ? `1 / ${first} / 2 / span ${of[group]}` : `${from + Math.floor(i / of[group])} / ${first + (i % of[group])}`);
    if (!title) i++;
  }
  style(place, "--wide", `${width(rows)}px`);
  const words = Math.max(...nodes.map((node) => (node.matches("h2") ? 0 : wordsOf(node))));
  style(place, "--wide", `${Math.min(width(rows, words), width(rows, 0))}px`);
  // The figures of a card lie over the pictures of its row, from its own one on, or as far left of that as keeps them on the board.
  const panel = Math.min(PANEL, place.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight));
  style(place, "--panel", `${panel}px`);
  const end = place.clientWidth - parseFloat(paddingRight) - 2 * RIM;
  for (const node of nodes) style(node, "--left", `${Math.min(0, end - panel - node.offsetLeft)}px`);
}

/**
 * alone closes the figures that lie where others are opened.
 * @param {HTMLDetailsElement} list
 */
function alone(list) {
  const panels = /** @type {HTMLDetailsElement[]} */ ([...list.closest(".prints")?.querySelectorAll("details[open]") ?? []]);
  const [box, ...others] = [list, ...panels.filter((other) => other !== list)].map((one) => ({ one, at: one.querySelector(".all-figures")?.getBoundingClientRect() }));
  for (const { one, at } of others) {
    if (at && box.at && at.left < box.at.right && box.at.left < at.right && at.top < box.at.bottom && box.at.top < at.bottom) one.open = false;
  }
}

// wordsOf is how much room the words of a card take under its picture while its figures are folded.
/** @type {(card: HTMLElement) => number} */
const wordsOf = (card) => [".titled", ".three-words", ".why"].reduce((sum, part) => {
  const node = card.querySelector(part);
  return node instanceof HTMLElement && node.checkVisibility() ? sum + node.offsetHeight + 5 : sum;
}, 1);

/**
 * @param {Api} api
 * @param {Card} card
 * @param {Map<string, SmallPrint>} kept
 * @returns {Child<Card>}
 */
function cardOf(api, { id }, kept) {
  const input = h("input", { type: "radio", name: "board", value: id, change: () => api.do({ do: "palette", id }) });
  const canvas = h("canvas", { role: "img" });
  const [name, era, mark, note] = [h("b"), h("span", { class: "era" }), h("span", { class: "mark", title: "chosen", text: "✓" }), h("span", { class: "why" })];
  const figures = h("dl");
  const three = h("p", { class: "three-words" });
  const near = h("p", { class: "near" });
  const alike = h("span", { class: "alike", text: "≈" });
  const lasts = h("p", { class: "lasts" });
  const summary = h("summary", { title: "Figures" }, h("span", { class: "unseen", text: "Figures" }));
  const list = h("details", {}, summary, h("div", { class: "all-figures", role: "group", "aria-label": "Figures", tabindex: "0" }, near, figures, lasts));
  list.addEventListener("toggle", () => { if (list.open) alone(list); });
  list.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !list.open) return;
    event.preventDefault();
    list.open = false;
    summary.focus();
  });
  const label = h("label", {}, h("span", { class: "small" }, canvas), h("span", { class: "titled" }, input, name, era, alike), mark);
  const node = h("div", { class: "small-print" }, label, three, list, note);
  let drawn = "";
  return {
    node,
    update(card) {
      const print = kept.get(card.key);
      if (input.checked !== card.chosen) input.checked = card.chosen;
      attr(node, "data-chosen", card.chosen);
      show(mark, card.chosen);
      named(name, card.name, card.own);
      attr(era, "data-own", card.own);
      text(era, card.own ? `${card.era}, own` : card.era);
      attr(canvas, "aria-label", `The picture printed with ${card.name}`);
      attr(node, "aria-busy", print || card.note ? null : "true");
      text(note, card.note);
      show(note, card.note !== "");
      show(list, card.printed || drawn !== "");
      text(three, card.three);
      text(near, card.near);
      show(near, card.near !== "");
      attr(alike, "title", card.near || null);
      show(alike, card.near !== "");
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
