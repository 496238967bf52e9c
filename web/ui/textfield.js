// A labelled line of text.

import { h } from "./dom.js";

let made = 0;

/**
 * textField is a labelled line of text. What is being typed is never overwritten by
 * set(text), and Escape gives it up.
 * @param {object} of
 * @param {string} of.label
 * @param {number} [of.maxlength]
 * @param {string} [of.placeholder]
 * @param {(text: string) => void} of.commit called when the user has done
 */
export function textField({ label, maxlength, placeholder, commit }) {
  const id = `text-${++made}`;
  let shown = "";
  let typing = false;
  const leave = () => { typing = false; input.value = shown; };
  const input = h("input", {
    id, type: "text", class: "line", maxlength, placeholder, autocomplete: "off", spellcheck: "false",
    input: () => { typing = true; },
    change: () => { typing = false; commit(input.value.trim()); },
    blur: leave,
    keydown: (event) => { if (event.key === "Escape") leave(); },
  });
  const set = (/** @type {string} */ text) => {
    shown = text;
    if (!typing && input.value !== shown) input.value = shown;
  };
  return { node: h("div", { class: "text" }, h("label", { for: id, text: label }), input), input, set };
}

/**
 * textArea is the same for text of several lines: Enter begins a new one, and Ctrl with
 * Enter is done.
 * @param {object} of
 * @param {string} of.label
 * @param {number} [of.rows]
 * @param {number} [of.maxlength]
 * @param {string} [of.placeholder]
 * @param {(text: string) => void} of.commit called when the user has done
 */
export function textArea({ label, rows = 3, maxlength, placeholder, commit }) {
  const id = `text-${++made}`;
  let shown = "";
  let typing = false;
  const input = h("textarea", {
    id, class: "line", rows, maxlength, placeholder, spellcheck: "false", dir: "auto",
    input: () => { typing = true; },
    change: () => { typing = false; commit(input.value.trim()); },
    blur: () => { typing = false; input.value = shown; },
    keydown: (event) => {
      if (event.key === "Escape") {
        event.preventDefault();
        typing = false;
        input.value = shown;
      } else if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) input.blur();
    },
  });
  const set = (/** @type {string} */ text) => {
    shown = text;
    if (!typing && input.value !== shown) input.value = shown;
  };
  return { node: h("div", { class: "text" }, h("label", { for: id, text: label }), input), input, set };
}
