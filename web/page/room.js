// For a room that looks on: the pictures alone, what they are and the points, readable
// from the back; and a large ring about the pointer. And the list of keys.

/** @import { Api, Part } from "../types/api.js" */

import { attr, byID, h, show, style, text } from "../ui/dom.js";
import { button, radios } from "../ui/controls.js";
import { longAndShort } from "./head.js";
import * as glossary from "./glossary.js";

// Every key of the pictures, by what one wants.
const keys = [
  ["r", "room: pictures alone"], ["?", "these keys"],
  ["Enter", "read the middle, or point at a grey there"], ["arrows", "move the picture, or nudge"], ["Shift arrows", "farther"],
  ["Alt ↑ ↓", "a layer of the stack up, down"], ["Delete", "take the mark away"],
  ["+ −", "larger, smaller"], ["0", "fit"], ["1", "own pixels"],
  ["space", "hold or go on, by turns"], [", .", "move the divider"],
  ["Tab arrows", "to an end of the section, move it"],
  ["l", "loupe"], ["w", "worst place of register"],
  ["n p", "next mark, next plate"], ["Esc", "let go, close"],
  ["Ctrl z y", "undo, redo"],
];

// Each by its own name.
const languages = [{ id: "en", name: "English" }, { id: "de", name: "Deutsch" }];

/**
 * @param {Api} api
 * @param {() => void} visit begins the steps of the first visit
 * @returns {Part}
 */
export function build(api, visit) {
  const words = glossary.build();
  const version = h("p", { class: "version" });
  const spoken = radios({ legend: "Language", hideLegend: true, commit: (/** @type {string} */ id) => api.speakAs(id) });
  const list = h("dialog", { id: "keys", "aria-label": "Keys" },
    h("dl", {}, ...keys.flatMap(([key, does]) => [h("dt", {}, ...key.split(" ").map((one) => h("kbd", { text: one }))), h("dd", { text: does })])),
    spoken.node, version,
    h("div", { class: "actions" }, button("Close", () => list.close()),
      button("Words", () => { list.close(); words.showModal(); }, { class: "quiet" }),
      button("First steps", () => { list.close(); visit(); }, { class: "quiet" })));
  const ring = h("div", { id: "ring", "aria-hidden": "true", hidden: true });
  document.body.append(list);
  byID("stage").append(ring);
  const canvas = () => document.querySelector("#stage canvas");
  const room = (/** @type {boolean} */ on) => {
    api.do({ do: "room", on });
    const picture = canvas();
    if (picture instanceof HTMLElement) picture.focus({ preventScroll: true });
  };
  const alone = button("", () => room(true), { "aria-label": "Room", title: "The pictures alone, for a room that looks on (key r); Escape comes back", "aria-keyshortcuts": "r" });
  alone.append(...longAndShort("Room", "▭"));
  byID("aids").append(alone,
    button("?", () => list.showModal(), { "aria-label": "Keys and words", title: "Keys, words, first steps (key ?)" }));

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || list.open || words.open || writes(event.target)) return;
    const on = api.view().room;
    if (event.key === "?") list.showModal();
    else if (event.key === "r" || on && event.key === "Escape") room(!on);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }, true);
  /** @type {{ x: number, y: number } | null} */
  let pointer = null; // where it was last seen in the window
  let looksOn = false; // a room does
  const follow = () => {
    show(ring, looksOn && pointer !== null);
    if (!looksOn || !pointer) return;
    const box = byID("stage").getBoundingClientRect();
    style(ring, "translate", `${pointer.x - box.left}px ${pointer.y - box.top}px`);
  };
  document.addEventListener("pointermove", (event) => {
    pointer = { x: event.clientX, y: event.clientY };
    if (looksOn) follow();
  });
  return {
    update(view) {
      text(version, view.version);
      spoken.set(languages, api.language());
      attr(document.body, "data-room", view.room);
      if (view.room === looksOn) return;
      looksOn = view.room;
      follow();
    },
  };
}

/**
 * writes tells whether an element takes what is typed.
 * @param {EventTarget | null} target
 */
function writes(target) {
  return target instanceof HTMLInputElement && !["checkbox", "radio", "range", "file"].includes(target.type) || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement;
}
