// The board: the open picture printed small with every palette, side by side over the
// stage, each print with its figures. The prints are made one by one and kept under keys:
// a card's key stands for everything that its print is made from.

/** @import { Api, Part, SmallPrint } from "../types/api.js" */
/** @import { Tried } from "../types/figures.js" */
/** @import { Card } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { attr, h, keyed, named, paint, show, style, text } from "../ui/dom.js";
import { choice, radios } from "../ui/controls.js";
import { blackWord } from "../print/layers.js";
import { leaning } from "../print/leaning.js";
import { figure, reason, signed } from "../ui/words.js";

const MOST = 90; // prints that are kept, 300 kB each

const directions = [{ id: "rising", name: "smallest first" }, { id: "falling", name: "largest first" }];

/** @typedef {Card & { at: number, print?: SmallPrint, why: string, beside?: Tried }} Shown with its place among all, and the figures of the chosen one */

/**
 * @param {Api} api
 * @param {HTMLElement} place
 * @returns {Part}
 */
export function build(api, place) {
  /** @type {Map<string, SmallPrint>} */
  const kept = new Map();
  /** @type {Map<string, string>} */
  const failed = new Map(); // the reason, by the key of the print
  let making = ""; // the key of the print that is being made

  async function print(/** @type {Shown} */ card) {
    making = card.key;
    try {
      kept.set(card.key, await api.printSmall(card.id));
    } catch (error) {
      failed.set(card.key, reason(error));
    }
    making = "";
    api.refresh();
  }

  /**
   * next begins the next print that is missing, the chosen palette's first, and lets go
   * of prints that no card shows any more.
   * @param {Shown[]} cards
   */
  function next(cards) {
    if (making) return;
    const missing = cards.filter((card) => !kept.has(card.key) && !failed.has(card.key));
    const first = missing.find((card) => card.chosen) ?? missing[0];
    if (first) print(first);
    const wanted = new Set(cards.map((card) => card.key));
    for (const key of kept.keys()) {
      if (kept.size <= MOST) break;
      if (!wanted.has(key)) kept.delete(key);
    }
  }

  let by = ""; // what the board is sorted by, as it is drawn
  let falling = false;
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
      const { aspect, palettes } = view.board;
      ({ by, falling } = view.board);
      orders.set(view.board.orders, by);
      way.set(directions, falling ? "falling" : "rising");
      show(way.node, by !== "kind");
      show(empty, !view.ready);
      show(cards, view.ready);
      if (!view.ready) return;
      const beside = kept.get(palettes.find((card) => card.chosen)?.key ?? "")?.figures;
      const shown = palettes.map((card, at) => ({ ...card, at, beside, print: kept.get(card.key), why: failed.get(card.key) ?? "" }));
      const done = shown.filter((card) => card.print).length;
      const count = done < shown.length ? `${done} of ${shown.length} printed${view.masked ? ", masked" : ""}` : `${done} palettes${view.masked ? ", masked" : ", unmasked"}`;
      const lifted = view.hidden.length > 0 ? `; with ${view.hidden.join(" and ")}, lifted off elsewhere` : "";
      text(state, `${count}; all estimates${lifted}`);
      style(cards, "--aspect", String(aspect));
      keyed(cards, grouped(sorted(shown, by, falling), by), (one) => ("title" in one ? `group ${one.title}` : one.id),
        (first) => {
          if ("title" in first) return { node: h("h2", { text: first.title }), update() {} };
          const child = cardOf(api, first, () => by);
          return { node: child.node, update: (now, i) => { if (!("title" in now)) child.update(now, i); } };
        });
      next(shown);
    },
  };
}

/**
 * value is what a card is sorted by; undefined while it is not known.
 * @param {Shown} card
 * @param {string} by
 * @returns {number | string | undefined}
 */
function value(card, by) {
  const figures = card.print?.figures;
  switch (by) {
    case "kind": return card.at;
    case "name": return card.name;
    case "era": return card.era;
    case "L": return figures?.lab[0];
    case "tint": return figures && Math.hypot(figures.full[1], figures.full[2]);
    default: return figures?.[/** @type {"density"} */ (by)];
  }
}

/**
 * sorted puts cards in order, those that are not yet printed last.
 * @param {Shown[]} cards
 * @param {string} by
 * @param {boolean} falling
 */
function sorted(cards, by, falling) {
  const turn = falling && by !== "kind" ? -1 : 1;
  return cards.toSorted((a, b) => {
    const [x, y] = [value(a, by), value(b, by)];
    if (x === undefined || y === undefined) return Number(x === undefined) - Number(y === undefined) || a.at - b.at;
    return turn * (typeof x === "string" ? x.localeCompare(String(y)) : x - Number(y)) || a.at - b.at;
  });
}

/**
 * grouped puts a title before the palettes of each era, where they stand as listed.
 * @param {Shown[]} cards
 * @param {string} by
 * @returns {(Shown | { title: string })[]}
 */
function grouped(cards, by) {
  if (by !== "kind" && by !== "era") return cards;
  return cards.flatMap((card, i) => (i === 0 || card.era !== cards[i - 1].era ? [{ title: `${card.era.charAt(0).toUpperCase()}${card.era.slice(1)}` }, card] : [card]));
}

// The figures of a card, and by which of the board's orders each is sorted.
/** @type {{ name: string, sorts: string[], words: (f: Tried) => string }[]} */
const lines = [
  { name: "blackest grey", sorts: ["L", "density"], words: (f) => f.even ? "there is none" : `L* ${figure(f.lab[0], 1)}, density ${figure(f.density, 2)}` },
  { name: "full coats", sorts: ["tint"], words: (f) => `L*\u00a0${figure(f.full[0], 1)}, a*\u00a0${signed(f.full[1], 1)}, b*\u00a0${signed(f.full[2], 1)}` },
  { name: "lamp A", sorts: ["driftA"], words: (f) => `ΔE00 ${figure(f.driftA, 1)}, ${leaning(f.inA)}` },
  { name: "neutral LED", sorts: ["driftLED"], words: (f) => `ΔE00 ${figure(f.driftLED, 1)}, ${leaning(f.inLED)}` },
  { name: "reach", sorts: ["volume"], words: (f) => `${figure(f.volume / 1000)} thousand units³` },
  { name: "cannot be printed", sorts: ["beyond"], words: (f) => `${figure(100 * f.beyond, 1)} %` },
  { name: "ΔE00", sorts: ["mean", "p95"], words: (f) => `mean ${figure(f.mean, 1)}, it may be ${figure(f.least, 1)} to ${figure(f.most, 1)}; 95 %: ${figure(f.p95, 1)}` },
  { name: "of it", sorts: [], words: (f) => `lightness ${figure(f.light, 1)}, colour ${figure(f.colour, 1)}` },
];

// alike tells whether the means of two prints cannot be told apart: one lies within how far
// the other may vary.
const alike = (/** @type {Tried} */ a, /** @type {Tried} */ b) => b.least <= a.mean && a.mean <= b.most || a.least <= b.mean && b.mean <= a.most;

// The words under a print. Their limits are our own.
const blackOf = (/** @type {Tried} */ { even, lab }) => (even ? "no greys" : `black ${blackWord(lab[0])}`);
const colourWord = (/** @type {Tried} */ { beyond }) => (beyond < 0.02 ? "colour whole" : beyond < 0.1 ? "colour nearly whole" : "colour reduced");

/**
 * @param {Api} api
 * @param {Card} card
 * @param {() => string} sortedBy
 * @returns {Child<Shown>}
 */
function cardOf(api, { id }, sortedBy) {
  const input = h("input", { type: "radio", name: "board", value: id, change: () => api.do({ do: "palette", id }) });
  const canvas = h("canvas", { role: "img" });
  const [name, era, mark, note] = [h("b"), h("span", { class: "era" }), h("span", { class: "mark", text: "chosen" }), h("span", { class: "why" })];
  const figures = lines.map((line) => ({ line, words: h("dd"), title: h("dt", { text: line.name }) }));
  const three = h("p", { class: "three-words" });
  const near = h("p", { class: "near" });
  const lasts = h("p", { class: "lasts" });
  const list = h("details", {}, h("summary", { text: "Figures" }), h("dl", {}, ...figures.flatMap(({ title, words }) => [title, words])), lasts);
  const label = h("label", {}, h("span", { class: "small" }, canvas), h("span", { class: "titled" }, input, name, era, mark));
  const node = h("div", { class: "small-print" }, label, three, near, list, note);
  let drawn = "";
  return {
    node,
    update(card) {
      if (input.checked !== card.chosen) input.checked = card.chosen;
      attr(node, "data-chosen", card.chosen);
      show(mark, card.chosen);
      named(name, card.name, card.own);
      text(era, card.own ? `${card.era}, own` : card.era);
      attr(canvas, "aria-label", `The picture printed with ${card.name}`);
      attr(node, "aria-busy", card.print || card.why ? null : "true");
      text(note, card.why ? `It could not be printed: ${card.why}` : card.print?.figures.note ? `Printed unmasked: ${card.print.figures.note}` : "");
      show(note, note.textContent !== "");
      show(list, Boolean(card.print) || drawn !== "");
      text(three, card.print ? `${blackOf(card.print.figures)} · ${colourWord(card.print.figures)} · ${card.lasts}` : "…");
      text(near, card.print && card.beside && !card.chosen && alike(card.print.figures, card.beside) ? "cannot be told apart from the chosen" : "");
      show(near, near.textContent !== "");
      text(lasts, `Permanence: ${card.weakest}.`);
      const by = sortedBy();
      for (const { line, words, title } of figures) {
        const counts = line.sorts.includes(by);
        attr(words, "data-sorts", counts);
        attr(title, "data-sorts", counts);
        if (card.print) text(words, line.words(card.print.figures));
      }
      if (!card.print || drawn === card.key) return;
      drawn = card.key;
      paint(canvas, card.print);
    },
  };
}
