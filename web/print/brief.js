// The figures of the chosen recipe, which are computed once for all parts of the page
// that show them, and their words.

/** @import { Api, Block } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */
/** @import { Balance, Drift, Figures } from "../types/figures.js" */

import { attr, h, text } from "../ui/dom.js";
import { asker } from "./ask.js";
import { figure } from "../ui/words.js";

/** @typedef {ReturnType<typeof asker<Figures>>} Asked */

/** @type {Asked | null} */
let shared = null;
export const figuresOf = (/** @type {Api} */ api) => (shared ??= asker(api, () => api.compute("figures")));

export const waiting = (/** @type {Asked} */ figures, /** @type {Model} */ view) => {
  const why = figures.why(view.recipeKey);
  return why ? `The figures could not be computed: ${why}` : "The figures of this recipe are being computed.";
};

/**
 * brief is the figures in a few sentences.
 * @param {Api} api
 * @returns {Block}
 */
export function brief(api) {
  const figures = figuresOf(api);
  const words = h("p", { class: "facts" });
  return {
    node: words,
    update(view) {
      const now = figures.want(view.recipeKey, view);
      attr(words, "aria-busy", now ? null : "true");
      text(words, now ? `${reachWords(now)} ${driftWords(now)} ${heldWords(now.balance)}` : waiting(figures, view));
    },
  };
}

// ---- words

const small = (/** @type {string} */ words) => words.charAt(0).toLowerCase() + words.slice(1);

export const reachWords = (/** @type {Figures} */ now) => `The colours of these tissues fill a solid of ${figure(now.volume / 1000)} thousand cubic CIELAB units.`;

/** @param {{ drift: Drift[] }} figures */
export function driftWords({ drift }) {
  const far = drift.reduce((a, b) => (b.dE > a.dE ? b : a));
  return `Balanced for the chosen light, the black turns most under the ${small(far.name)}: ΔE00 ${figure(far.dE, 1)} from what the chosen light makes of it.`;
}

/** @param {Balance} balance */
export function heldWords({ worst, lost, even, greyest }) {
  if (even) return `These tissues give no greys below L* ${figure(greyest)}: one of them is far too weak or too strong, or nearly grey itself. The three layers are laid alike, and greys stray by up to ΔE00 ${figure(worst, 1)}.`;
  if (!lost) return `The greys keep their aim along the whole scale, within ΔE00 ${figure(Math.max(Math.ceil(worst * 10), 1) / 10, 1)} (0.5 is asked for).`;
  return `Between L* ${figure(lost[0], 1)} and L* ${figure(lost[1], 1)} the greys cannot be held by layers that only grow towards the black: they stray by up to ΔE00 ${figure(worst, 1)}, more than 0.5.`;
}
