// The captions over the pictures, in two lines: what is shown and whether it is an
// estimate, then what it is of. What all pictures of a row have in common stands once, over
// them. Nothing is cut: where two lines do not hold the words they say less (SHORTER of
// web/stage/stage.js), at the least what it is, that it is an estimate, palette and order; the key of
// marked colours then stands under the pictures, and two that lie side by side share the width of
// both; where that is still too long the lines wrap, and the pictures make room for the tallest row.

/** @import { Api, Part } from "../types/api.js" */
/** @import { Frame, Marked, Model } from "../types/model.js" */

import { attr, h, keyed, show, style, text } from "../ui/dom.js";
import { grouped } from "../ui/controls.js";

/** @typedef {Frame & { sides: (Model["sides"][number] & { own: boolean })[], at: string }} Shown a picture, and what can stand at its side */

/**
 * @param {Api} api
 * @param {HTMLElement} place
 * @param {HTMLElement} opening shown until plates are open
 * @returns {Part}
 */
export function build(api, place, opening) {
  return {
    update(view) {
      show(opening, !view.ready);
      const low = view.laidFor[1] - view.laidFor[4]; // where the table ends, or what lies under the prints begins
      const frames = (view.ready ? view.frames : []).map((frame) => ({ ...frame, sides: view.sides.map((side) => ({ ...side, own: side.id.startsWith("held-") })), at: frame.side === "left" ? view.atLeft : view.atRight }));
      const rows = [...new Set(frames.map(({ y }) => y))].map((y, i) => ({ i, y, frames: frames.filter((frame) => frame.y === y), words: i === 0 ? view.shared : "", brief: view.brief, least: view.least }));
      keyed(place, rows, ({ i }) => i, () => {
        const said = threefold();
        const key = h("span", { class: "legend key" }); // of what is marked in all of them, where there is no room to say it in each
        const shared = h("p", { class: "shared" }, h("span", { class: "estimate", text: "estimate" }), ...said.nodes, key); // all that share words are estimates
        const captions = h("div");
        const node = h("div", { class: "row" }, shared, captions);
        return {
          node,
          update: ({ y, frames, words, brief, least }) => {
            const last = frames[frames.length - 1];
            said.set(words, brief, least);
            keyed(key, words === "" ? [] : frames[0].legend.filter(({ name }) => name !== ""), (mark) => mark.hex, () => marked((mark) => mark.name, (mark) => mark.least));
            show(shared, words !== "");
            lie(shared, frames[0].wordsX, last.wordsX + last.wordsW);
            style(node, "--key-left", `${Math.round(frames[0].wordsX)}px`);
            style(node, "--key-top", `${Math.round(Math.min(frames[0].h + 2 * PAPER, low - KEY - y + PAPER))}px`);
            keyed(captions, frames.map((frame) => ({ ...frame, estimate: frame.estimate && words === "" })), (frame) => frame.id, () => caption(api));
            style(node, "bottom", `calc(100% - ${Math.round(y) - PAPER}px)`);
          },
        };
      });
    },
  };
}

/**
 * caption is the words over one picture.
 * @param {Api} api
 */
function caption(api) {
  const [label, least] = [h("span"), h("span")]; // what it is called, and where there is least room, if otherwise
  const what = h("span", { class: "what" }, label, least);
  let side = "";
  // What stands at a side is chosen at its name: the list lies unseen over it.
  const choose = grouped({ label: "Print that stands here", hideLabel: true, commit: (id) => api.do(id === BEFORE.id ? { do: "holdBefore" } : { do: "side", which: side, id }) });
  const named = h("span", { class: "named-side" }, what, choose.node);
  const estimate = h("span", { class: "estimate", text: "estimate" });
  const without = h("span", { class: "without" });
  const said = threefold();
  const note = h("span", { class: "note" }, ...said.nodes);
  const scale = differenceScale();
  const far = reachScale();
  const legend = h("span", { class: "legend" });
  const node = h("p", { class: "caption" }, h("span", { class: "first" }, named, estimate, without, legend, scale, far), note);
  return {
    node,
    update: (/** @type {Shown} */ frame) => {
      text(label, frame.label);
      text(least, frame.name === frame.label ? "" : frame.name);
      attr(what, "data-named", frame.name !== frame.label);
      attr(node, "data-side", frame.side || null);
      side = frame.side;
      show(choose.node, side !== "");
      choose.set([{ name: "", options: frame.sides.filter(({ but }) => !but) }, { name: "The print, but", options: [BEFORE, ...frame.sides.filter(({ but }) => but)] }], frame.at);
      attr(choose.select, "aria-label", side && `At the ${side}`);
      show(estimate, frame.estimate);
      text(without, frame.without);
      show(without, frame.without !== "");
      said.set(frame.note, frame.brief, frame.least);
      show(legend, frame.legend.length > 0);
      keyed(legend, frame.legend, (mark) => mark.hex, () => marked((mark) => mark.words, (mark) => mark.share));
      show(scale, frame.id === "difference");
      show(far, frame.id.startsWith("reach"));
      lie(node, frame.wordsX, frame.wordsX + frame.wordsW);
    },
  };
}

// threefold are words in full, the same in brief and what is left where there is least room, of
// which one is in sight.
function threefold() {
  const nodes = [h("span", { class: "in-full" }), h("span", { class: "in-brief" }), h("span", { class: "in-least" })];
  const set = (/** @type {string[]} */ ...words) => nodes.forEach((node, i) => text(node, words[i]));
  return { nodes, set };
}

/**
 * marked is a colour and what it marks.
 * @param {(mark: Marked) => string} words
 * @param {(mark: Marked) => string} [share] said alone where there is least room
 */
function marked(words, share) {
  const [patch, full, alone] = [h("i"), h("span"), h("span", { class: "alone" })];
  return {
    node: h("span", {}, patch, full, share ? alone : null),
    update: (/** @type {Marked} */ mark) => {
      style(patch, "background-color", mark.hex);
      text(full, words(mark));
      attr(full, "data-parted", share !== undefined && mark.share !== "");
      if (share) text(alone, share(mark));
    },
  };
}

/**
 * lie has words lie between two places of the stage.
 * @param {HTMLElement} node
 * @param {number} from
 * @param {number} to
 */
function lie(node, from, to) {
  style(node, "margin-left", `${Math.round(from)}px`);
  style(node, "width", `${Math.max(0, Math.round(to) - Math.round(from))}px`);
}

// What stands at the left then is a held print, which no later change moves on.
const BEFORE = { id: "before", name: "before its last change" };

const PAPER = 7; // px of paper around a picture, as view.Paper has it
const KEY = 22; // px that the key of marked colours takes under the pictures

// The colours of the difference, in the steps of heat() in proof.kage.
function differenceScale() {
  return h("span", { class: "heat" }, "0",
    h("i", { role: "img", "aria-label": "from dark grey to light ochre" }), "20+");
}

// The colours of how far a colour is out of reach, in the same steps, from heat(9.5) on:
// the darkest are left out, so that even the least difference stands out from the grey.
function reachScale() {
  return h("span", { class: "heat" }, "1",
    h("i", { class: "far", role: "img", "aria-label": "from ochre to light ochre; grey is within reach" }), "20+");
}
