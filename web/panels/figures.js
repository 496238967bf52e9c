// Figures of the chosen recipe: its reach, its black by other lights, its grey
// balance, and how sure its colours are.

import { attr, h, keyed, show, text } from "./dom.js";
import { asker } from "./ask.js";
import { button } from "./controls.js";
import { balancePlot, outlinePlot, slicePlot } from "./plots.js";
import { slider } from "./slider.js";
import * as sureness from "./sure.js";
import { columns, row } from "./table.js";
import { chosenPalette, figure, signed } from "./words.js";

let asked = null; // for all that show figures: a recipe is computed once
const figuresOf = (api) => (asked ??= asker(api, () => api.compute("figures")));

const waiting = (figures, view) => {
  const why = figures.why(view.recipeKey);
  return why ? `The figures could not be computed: ${why}` : "The figures of this recipe are being computed.";
};

// brief is the figures in a few sentences.
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

// build makes the figures in full.
export function build(api) {
  const figures = figuresOf(api);
  const reached = reachPart(api);
  const lights = h("tbody");
  const drift = h("p", { class: "facts" });
  const plot = balancePlot();
  const held = h("p", { class: "facts" });
  const sure = sureness.build(api);
  const wait = h("p", { class: "hint", role: "status" });
  const body = h("div", { class: "computed", hidden: true },
    reached.node,
    h("section", {}, h("h3", { text: "Its black by other lights" }),
      h("table", {}, columns("a*", "b*", "ΔE00"), lights), drift),
    h("section", {}, h("h3", { text: "Grey balance" }), plot.node, held),
    sure.node);
  return {
    node: h("div", {}, wait, body),
    update(view) {
      const now = figures.want(view.recipeKey, view);
      text(wait, now ? "" : waiting(figures, view));
      show(wait, !now);
      attr(body, "aria-busy", now ? null : "true");
      sure.limits(view);
      if (!now) return;
      show(body, true);
      reached.update(view, now);
      keyed(lights, now.drift, (entry) => entry.light, () => row(3, (cells, entry, name) => {
        text(name, entry.name);
        text(cells[0], signed(entry.lab[1], 1));
        text(cells[1], signed(entry.lab[2], 1));
        text(cells[2], entry.dE > 0 ? figure(entry.dE, 1) : "–");
      }));
      text(drift, driftWords(now));
      plot.update(now.balance, chosenPalette(view).layers);
      text(held, heldWords(now.balance));
      sure.update(view, now);
    },
  };
}

function reachPart(api) {
  const reached = h("p", { class: "facts" });
  const [outline, slice] = [outlinePlot(), slicePlot()];
  const cut = (degrees) => api.do({ do: "hue", degrees });
  const hue = slider({ label: "Hue", unit: "°", min: 0, max: 359, step: 1, change: cut, end: () => {} });
  const follow = button("Take the hue of the point read", () => cut(null), { class: "small" });
  const from = h("p", { class: "facts" });
  return {
    node: h("section", {}, h("h3", { text: "Reach" }), h("div", { class: "reach" },
      h("figure", {}, outline.node, h("figcaption", { text: "from above; rings at C* 50 and 100" })),
      h("figure", {}, slice.node, h("figcaption", { text: "cut at the hue, its opposite at the left" }))),
    hue.node, follow, from, reached),
    update(view, now) {
      outline.update(now.outline, view.hue.degrees);
      slice.update(now.slices, view.hue.degrees);
      hue.set(view.hue.degrees);
      show(follow, view.sample !== null && !view.hue.read);
      text(from, view.hue.read ? "The hue is that of the reference at the point that was read." : "");
      show(from, view.hue.read);
      text(reached, reachWords(now));
    },
  };
}

// ---- words

const small = (words) => words.charAt(0).toLowerCase() + words.slice(1);

const reachWords = (now) => `The colours of these tissues fill a solid of ${figure(now.volume / 1000)} thousand cubic CIELAB units.`;

function driftWords({ drift }) {
  const far = drift.reduce((a, b) => (b.dE > a.dE ? b : a));
  return `Balanced for the chosen light, the black turns most under the ${small(far.name)}: ΔE00 ${figure(far.dE, 1)} from what the chosen light makes of it.`;
}

function heldWords({ worst, lost, even, greyest }) {
  if (even) return `These tissues give no greys below L* ${figure(greyest)}: one of them is far too weak or too strong, or nearly grey itself. The three layers are laid alike, and greys stray by up to ΔE00 ${figure(worst, 1)}.`;
  if (!lost) return `The greys keep their aim along the whole scale, within ΔE00 ${figure(Math.max(Math.ceil(worst * 10), 1) / 10, 1)} (0.5 is asked for).`;
  return `Between L* ${figure(lost[0], 1)} and L* ${figure(lost[1], 1)} the greys cannot be held by layers that only grow towards the black: they stray by up to ΔE00 ${figure(worst, 1)}, more than 0.5.`;
}
