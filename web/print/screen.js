// Help to set the screen for judging a print on it, and a wedge to check it by.

/** @import { Api, Block } from "../types/api.js" */

import { h, style, text } from "../ui/dom.js";
import { button } from "../ui/controls.js";
import { figure } from "../ui/words.js";

const STEPS = 12;

/**
 * greyOf is the code of a display's grey of a lightness (CIE 1976 L*, IEC 61966-2-1).
 * @param {number} lightness
 */
function greyOf(lightness) {
  const f = (lightness + 16) / 116;
  const y = f > 6 / 29 ? f ** 3 : 3 * (6 / 29) ** 2 * (f - 4 / 29);
  return Math.round(255 * (y <= 0.0031308 ? 12.92 * y : 1.055 * y ** (1 / 2.4) - 0.055));
}

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const steps = Array.from({ length: STEPS }, (_, i) => {
    const step = h("i");
    const code = greyOf(100 - 100 * i / (STEPS - 1));
    style(step, "background-color", `rgb(${code} ${code} ${code})`);
    return step;
  });
  const white = h("li");
  return {
    node: h("div", { class: "screen" },
      h("ol", {}, white,
        h("li", { text: "White to D50 or D65, as its maker’s menu has it; no night colours." }),
        h("li", { text: "A dim room, no light on the screen, nothing bright or coloured behind it." }),
        h("li", { text: "Below: every step told from the next, none with a tint." })),
      h("div", { class: "wedge", role: "img", "aria-label": "Grey wedge of twelve steps, even in lightness from white to black" }, ...steps),
      button("Mark what this screen cannot show", () => api.do({ do: "look", id: "outside" }), { class: "small" }),
      h("p", { class: "hint", text: "After ISO 3664, from memory. A screen that was measured and has a profile is better than any of this." })),
    update(view) {
      text(white, `White of 80 cd/m² or more; ${figure(view.screenCd)} cd/m² is as bright as paper on the bench.`);
    },
  };
}
