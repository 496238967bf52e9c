// A labelled line of text, and one of several lines. What is being typed is never
// overwritten by set(text), and Escape gives it up.

import { h, text as say } from "./dom.js";
import { gesture } from "./gesture.js";

let made = 0;

const PAUSE = 600; // ms without a key, after which what was typed is kept

/** @type {Set<() => void>} */
const waiting = new Set(); // what keeps the texts that are not kept yet

/** @type {Set<() => void>} */
const begun = new Set(); // what ends the typing in each field that is typed into

// giveUp ends it everywhere: another set lies open, and what was typed is none of its texts.
export const giveUp = () => begun.forEach((end) => end());

// A page that is left keeps them before it stores all (start/desk.js).
const keepAll = () => waiting.forEach((keep) => keep());
window.addEventListener("pagehide", keepAll, true);
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") keepAll(); }, true);

/**
 * @typedef {object} Of
 * @property {string} label
 * @property {number} [rows]
 * @property {number} [maxlength]
 * @property {string} [placeholder]
 * @property {boolean} [keeps] the text is committed while it is typed too, so that nothing of it is lost
 * @property {(text: string, gesture: string) => void} commit called when the user has done; what is committed on the way there has the same gesture
 */

/**
 * typed joins a field that is typed into to what takes its text. It returns what sets it.
 * @param {HTMLInputElement | HTMLTextAreaElement} input
 * @param {Pick<Of, "keeps" | "commit">} of
 */
export function typed(input, { keeps, commit }) {
  let shown = "";
  let before = ""; // what stood there when the typing began
  let typing = false;
  let act = "";
  let timer = 0;
  const keep = () => {
    clearTimeout(timer);
    waiting.delete(keep);
    const text = input.value.trim();
    if (keeps) shown = text; // until the program says what became of it
    commit(text, act);
  };
  const end = () => {
    clearTimeout(timer);
    waiting.delete(keep);
    begun.delete(end);
    typing = false;
    input.value = shown;
  };
  const cut = h("span", { class: "refused", role: "alert" });
  input.addEventListener("beforeinput", (event) => {
    if (!(event instanceof InputEvent)) return;
    const most = input.maxLength;
    const length = input.value.length - ((input.selectionEnd ?? 0) - (input.selectionStart ?? 0)) + (event.data?.length ?? 0);
    const shortened = most >= 0 && length > most && event.inputType.startsWith("insertFrom"); // what is pasted or dropped; keys simply end
    if (shortened) input.after(cut);
    say(cut, shortened ? `Shortened to ${most} letters.` : "");
  });
  input.addEventListener("input", () => {
    if (!typing) [typing, before, act] = [true, shown, keeps ? gesture() : ""];
    begun.add(end);
    if (!keeps) return;
    clearTimeout(timer);
    timer = window.setTimeout(keep, PAUSE);
    waiting.add(keep);
  });
  input.addEventListener("change", () => {
    if (!typing) act = "";
    typing = false;
    keep();
  });
  input.addEventListener("blur", end);
  input.addEventListener("keydown", (event) => {
    if (/** @type {KeyboardEvent} */ (event).key !== "Escape" || !typing) return;
    event.preventDefault();
    if (keeps) {
      if (waiting.has(keep)) keep(); // undo gives it back
      commit(before, "");
      shown = before;
    }
    end();
  });
  return (/** @type {string} */ text) => {
    shown = text;
    if (!typing && input.value !== shown) input.value = shown;
  };
}

/**
 * textField is a labelled line of text.
 * @param {Of} of
 */
export function textField({ label, maxlength, placeholder, ...of }) {
  const id = `text-${++made}`;
  const input = h("input", { id, type: "text", class: "line", maxlength, placeholder, autocomplete: "off", spellcheck: "false" });
  return { node: h("div", { class: "text" }, h("label", { for: id, text: label }), input), input, set: typed(input, of) };
}

/**
 * textArea is the same for text of several lines: Enter begins a new one, and Ctrl with
 * Enter is done.
 * @param {Of} of
 */
export function textArea({ label, rows = 3, maxlength, placeholder, ...of }) {
  const id = `text-${++made}`;
  const input = h("textarea", {
    id, class: "line", rows, maxlength, placeholder, spellcheck: "false", dir: "auto",
    keydown: (event) => { if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) input.blur(); },
  });
  return { node: h("div", { class: "text" }, h("label", { for: id, text: label }), input), input, set: typed(input, of) };
}
