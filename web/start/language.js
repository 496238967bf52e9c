// Which language the page speaks: what the user chose, at first German where the browser's
// language is German. Its words are fetched only where they are spoken.

import { retell } from "../ui/dom.js";
import { speak } from "../ui/language.js";
import { reason } from "../ui/words.js";
import { part } from "./parts.js";

const CHOSEN = "language"; // of the browser's storage

/** @type {Record<string, string>} */
const tags = { en: "en-GB", de: "de" };

let now = first();

// language is the one that is spoken, or will be as soon as its words have come.
export const language = () => now;

/**
 * speakAs changes the language of the page, and keeps the choice.
 * @param {string} chosen "en" or "de"
 * @param {() => void} changed is called before the document is said anew
 */
export async function speakAs(chosen, changed) {
  try { localStorage.setItem(CHOSEN, chosen); } catch { /* it is asked for again then */ }
  await turn(chosen, changed);
}

// begin has the page speak the language that was chosen before.
export async function begin() {
  if (now !== "en") await turn(now, () => {});
}

async function turn(/** @type {string} */ wanted, /** @type {() => void} */ changed) {
  const before = now;
  now = wanted;
  try {
    const words = wanted === "en" ? null : await (await part(`words/${wanted}.json`)).json();
    if (now !== wanted) return; // another was chosen meanwhile
    speak(words);
  } catch (error) {
    if (now === wanted) now = before;
    throw new Error(`the words of the other language could not be loaded: ${reason(error)}`);
  }
  changed();
  document.documentElement.lang = tags[wanted];
  retell();
}

function first() {
  let chosen = null;
  try { chosen = localStorage.getItem(CHOSEN); } catch { /* nothing is kept here */ }
  chosen ??= /^de\b/i.test(navigator.language) ? "de" : "en";
  return Object.hasOwn(tags, chosen) ? chosen : "en";
}
