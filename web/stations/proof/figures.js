// The figures of the chosen recipe in full: what it reaches, its black by other lights
// and its grey balance; and how sure its colours are.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Model } from "../../types/model.js" */
/** @import { Figures } from "../../types/figures.js" */

import { attr, h, keyed, show, text } from "../../ui/dom.js";
import { button, fold } from "../../ui/controls.js";
import { balancePlot, outlinePlot, slicePlot } from "./plots.js";
import { slider } from "../../ui/slider.js";
import * as sureness from "./sure.js";
import { columns, row } from "../../ui/table.js";
import { driftWords, figuresOf, heldWords, reachWords, waiting } from "../../print/brief.js";
import { chosenPalette } from "../../print/layers.js";
import { figure, signed } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const figures = figuresOf(api);
  const reached = reachPart(api);
  const lights = h("tbody");
  const drift = h("p", { class: "facts" });
  const deeper = h("tbody");
  const plot = balancePlot();
  const held = h("p", { class: "facts" });
  const sure = sureness.build(api);
  const wait = h("p", { class: "hint", role: "status" });
  const body = h("div", { class: "computed", hidden: true },
    reached.node,
    fold("Its black", false,
      h("table", {}, columns("a*", "b*", "ΔE00"), lights), drift,
      h("h4", { text: "What would make it deeper?" }),
      h("table", {}, columns("density"), deeper),
      h("details", {}, h("summary", { text: "Why" }), h("p", { class: "facts", text: whyNoDeeper }))),
    fold("Grey balance", false, plot.node, held));
  return {
    node: h("div", { class: "folds" }, wait, body, fold("How far it may vary", false, sure.node)),
    update(view) {
      const now = figures.want(view.recipeKey, view);
      text(wait, now ? "" : waiting(figures, view));
      show(wait, !now);
      attr(body, "aria-busy", now ? null : "true");
      sure.update(view);
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
      keyed(deeper, deeperOf(now), ([words]) => words, () => row(1, (cells, [words, density], name) => {
        text(name, words);
        text(cells[0], figure(density, 2));
      }));
      plot.update(now.balance, chosenPalette(view).layers);
      text(held, heldWords(now.balance));
    },
  };
}

const whyNoDeeper = "Light that a layer scatters back before it has crossed the yellow stays in the black; more pigment alone scatters more of it. How much pigments scatter is the least certain figure here. Trade figures disagree: gloss is told to reach 1.8 to 2.2 (from memory), modern sets L* 15 to 26, at most 1.72 (common practice); the built-in sets keep to the second. A test sheet settles yours.";

/** @returns {[string, number][]} */
const deeperOf = (/** @type {Figures} */ { density, deeper }) => [
  ["as it is", density], ["no light from the surface", deeper.noVeil], ["coats hardened through", deeper.through],
  ["pigment ground finer, a third of the scatter", deeper.finer], ["that, and a third more of it", deeper.more],
];

/** @param {Api} api */
function reachPart(api) {
  const reached = h("p", { class: "facts" });
  const [outline, slice] = [outlinePlot(), slicePlot()];
  const cut = (/** @type {number | null} */ degrees) => api.do({ do: "hue", degrees });
  const hue = slider({ label: "Hue", unit: "°", min: 0, max: 359, step: 1, change: cut });
  const follow = button("Take the hue of the point read", () => cut(null), { class: "small" });
  const from = h("p", { class: "facts" });
  return {
    node: fold("Reach", false, h("div", { class: "reach" },
      h("figure", {}, outline.node, h("figcaption", { text: "from above; rings at C* 50 and 100" })),
      h("figure", {}, slice.node, h("figcaption", { text: "cut at the hue, its opposite at the left" }))),
    hue.node, follow, from, reached),
    update(/** @type {Model} */ view, /** @type {Figures} */ now) {
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
