// The first visit: five short steps over the set that lies open, left at once if wanted. A
// step only changes how things are looked at; whoever leaves finds all as it was before.

/** @import { Api, Part } from "../types/api.js" */
/** @import { Command } from "../types/command.js" */
/** @import { Model } from "../types/model.js" */

import { byID, h, show, text } from "../ui/dom.js";
import { button } from "../ui/controls.js";

/** @type {{ says: string, shows: Command[] }[]} */
const steps = [
  { says: "Left, three plates added as light. Right, their likely print in three pigment layers.", shows: [{ do: "look", id: "beside" }] },
  { says: "The stack is the print itself: take hold of a layer to change, move or hide it.", shows: [{ do: "stack", on: true }] },
  { says: "All palettes on your picture. One click takes one up; Undo goes back.", shows: [{ do: "look", id: "board" }] },
  { says: "Register: where plates lie apart, and how far that is on the print.", shows: [{ do: "look", id: "edges" }] },
  { says: "Sheets: proofs, printing negatives, the process sheet. Now drop three scans: they stay on this machine.", shows: [{ do: "look", id: "beside" }, { do: "station", id: "sheets" }] },
];

const MARK = "visited"; // of the browser's storage, once the steps were left

/**
 * @param {Api} api
 * @returns {Part & { again: () => void }}
 */
export function build(api) {
  let at = -1; // the step, -1 for none
  /** @type {Command[]} */
  let before = []; // what brings back how things were looked at
  const [count, words] = [h("strong"), h("p", { role: "status" })];
  const next = button("Next", () => (at + 1 < steps.length ? go(at + 1) : leave()));
  const away = button("Leave", () => leave());
  const node = h("section", { class: "message visit", "aria-label": "First visit", hidden: true, keydown: (event) => { if (event.key === "Escape") leave(); } }, count, words, next, away);
  byID("slips").prepend(node);

  function go(/** @type {number} */ step) {
    at = step;
    for (const command of [...before, ...steps[at].shows]) api.do(command); // what the last step opened goes
    text(count, `${at + 1} of ${steps.length}`);
    text(words, steps[at].says);
    text(next, at + 1 < steps.length ? "Next" : "Done");
    show(away, at + 1 < steps.length);
    show(node, true);
  }

  function leave() {
    at = -1;
    show(node, false);
    try { localStorage.setItem(MARK, "yes"); } catch { /* it is offered again then */ }
    before.forEach((command) => api.do(command));
    byID("table").focus();
  }

  function begin() {
    if (at < 0) before = sight(api.view());
    go(0);
  }

  // again begins them for whoever asks, who goes on with them by the keyboard.
  function again() {
    begin();
    next.focus();
  }

  // Who has begun to work before the set lies open needs no steps.
  let asked = seen();
  const worked = () => { asked = true; };
  for (const kind of /** @type {const} */ (["pointerdown", "keydown", "drop"])) window.addEventListener(kind, worked, { capture: true, once: true });

  return {
    again,
    update(view) {
      if (asked || !view.ready || !view.idle) return;
      asked = true;
      if (view.kept.every((set) => set.open)) setTimeout(begin); // nobody has worked here before
    },
  };
}

// sight is what brings back how things are looked at now.
/** @type {(view: Model) => Command[]} */
const sight = ({ look, stack, station }) => [{ do: "look", id: look }, { do: "stack", on: stack }, { do: "station", id: station }];

function seen() {
  try {
    return localStorage.getItem(MARK) !== null;
  } catch {
    return false;
  }
}
