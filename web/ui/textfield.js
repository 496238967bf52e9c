// A labelled line of text. commit(text) is called when the user has done; what
// is being typed is never overwritten by set(text). Escape gives it up.

import { h } from "./dom.js";

let made = 0;

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
  const set = (text) => {
    shown = text;
    if (!typing && input.value !== shown) input.value = shown;
  };
  return { node: h("div", { class: "text" }, h("label", { for: id, text: label }), input), input, set };
}
