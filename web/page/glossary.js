// The words of the page, each explained where it is opened.

import { h } from "../ui/dom.js";
import { button } from "../ui/controls.js";

/** @type {Record<string, string>} */
const words = {
  "Plate": "One separation negative, as it was scanned. It is named by the filter that it was taken through: red, green or blue.",
  "Printer": "The layer that a plate makes: the red plate cyan, the green plate magenta, the blue plate yellow.",
  "Key": "The plate that the others are laid to. It gives the picture its frame.",
  "Register": "How well plates and layers lie on each other. Misregister is the lack of it.",
  "Mark": "The same feature, pinned in each plate by hand.",
  "Offset": "How far a layer lies from where it should on the print.",
  "Tissue": "Gelatine with pigment on a backing, which light hardens: one for each layer.",
  "Palette": "Three tissues that work together.",
  "Load": "How much pigment a tissue holds. Load 1 has a density of 1.0 at the pigment’s peak.",
  "Stack": "The print: layers of gelatine on paper.",
  "Transfer": "A move of the gelatine from one support to the next. Each mirrors the picture and turns the stack over.",
  "Depth": "The darkest neutral that the three layers reach.",
  "Reference": "The plates in register, added as red, green and blue light. The print is judged against it.",
  "Proof": "The computed picture of the print. It is an estimate.",
  "Held print": "A named version of the recipe, to compare with and to go back to.",
  "Point": "A place whose colours are read in every picture that is compared.",
  "Straight, tuned": "Straight: each negative as it is, one exposure a layer. Tuned: negatives drawn so that neutrals print neutral.",
  "Masked": "Masks take a share of one plate off another, against the tissues’ unwanted absorptions.",
  "Washed off": "Gelatine so thin that the warm water takes it: highlights go first.",
  "Blocked": "The coat is hardened through: darker tones print alike.",
  "ΔE00": "The difference of two colours (CIEDE2000). About 1 can just be seen.",
  "L*": "Lightness, from 0, black, to 100, white (CIELAB).",
};

// build makes the dialog of the words, and adds it to the page.
export function build() {
  const list = h("dialog", { id: "words", "aria-label": "Words" },
    h("div", { class: "words" }, ...Object.entries(words).map(([word, meaning]) => h("details", { name: "word" }, h("summary", { text: word }), h("p", { text: meaning })))),
    h("div", { class: "actions" }, button("Close", () => list.close())));
  document.body.append(list);
  return list;
}
