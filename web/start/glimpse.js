// How the pictures stood when the page last came to rest, kept as one small picture. When the page
// is opened again it is in sight at once, until the program has drawn the pictures anew, which takes
// seconds. Whatever is done throws it away: what is seen is what was left, or nothing.

/** @import { Model } from "../types/model.js" */

import { byID, h, text } from "../ui/dom.js";
import * as frames from "./frames.js";
import { encoded } from "./parts.js";

const KEPT = "glimpse"; // in localStorage
const MOST = 1.5e6; // pixels

/** @typedef {{ of: string, w: number, h: number, picture: string }} Glimpse of a document by its id, "" for the demonstration set as it comes; of a stage of this size; as a data URL */

/** @returns {Glimpse | null} */
function kept() {
  try {
    return JSON.parse(localStorage.getItem(KEPT) ?? "null");
  } catch {
    return null; // nothing is kept here
  }
}

let turn = 0; // counts what was done: a picture that is on its way comes too late then

// forget throws it away.
export function forget() {
  turn++;
  try {
    localStorage.removeItem(KEPT);
  } catch { /* nothing is kept here */ }
}

/**
 * keep keeps a glimpse of the pictures as they stand.
 * @param {Model} view
 * @param {string} id of the document that is open
 */
export function keep(view, id) {
  const canvas = byID("stage").querySelector("canvas");
  if (!canvas || !view.ready || view.jobs.length > 0 || view.look === "board" || view.saved.state === "saving") return;
  const of = view.saved.state === "nothing" ? "" : id;
  const { clientWidth: w, clientHeight: h } = canvas;
  const last = kept();
  if (last && last.of === of && last.w === w && last.h === h) return;
  const now = turn;
  const take = async () => {
    try {
      const share = Math.min(1, Math.sqrt(MOST / (canvas.width * canvas.height)));
      const picture = await createImageBitmap(canvas, { resizeWidth: Math.ceil(canvas.width * share), resizeHeight: Math.ceil(canvas.height * share) });
      const url = await encoded(picture);
      if (url && now === turn) localStorage.setItem(KEPT, JSON.stringify({ of, w, h, picture: url }));
    } catch { /* then there is none */ }
  };
  if (!canvas.getContext("webgl2")) return take(); // the program's own canvas keeps its picture
  frames.inNext(take);
  window.threeply.again();
}

/** @type {HTMLElement | null} */
let shown = null;

/**
 * show shows the glimpse that is kept, where it is one of what the desk opens first (Wake): the tab's own
 * document, else the one that was changed last, else the demonstration set.
 * @param {string[]} cards of the documents that are kept, as texts
 * @param {string} tab the document that this tab had open
 */
export function show(cards, tab) {
  const last = kept();
  if (!last || document.documentElement.dataset.ready === "yes") return;
  /** @type {{ id: string, changed: string, removed?: boolean, gathered?: unknown }[]} */
  const all = cards.map((text) => JSON.parse(text)).filter(({ removed, gathered }) => !removed && !gathered);
  const first = all.find(({ id }) => id === tab) ?? all.sort((a, b) => Date.parse(b.changed) - Date.parse(a.changed))[0];
  if (last.of !== (first?.id ?? "")) return;
  const picture = h("img", { id: "glimpse", alt: "" });
  picture.src = last.picture;
  text(byID("opening"), "As you left it, the prints as estimates. Opening the plates …");
  byID("opening").before(picture);
  shown = picture;
}

// away takes it off: the pictures stand, or do not come.
export function away() {
  if (!shown) return;
  shown.remove();
  shown = null;
  text(byID("opening"), "Opening the plates …");
}
