// How tuned negatives depart from an even scale, by hand, and the curves that come of it.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Plotted, Layer } from "../../types/model.js" */

import { attr, h, keyed, show, style, svg } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";
import { chosenPalette } from "../../print/layers.js";
import { slider } from "../../ui/slider.js";
import { capital, figure } from "../../ui/words.js";

/** @typedef {"contrast" | "highlight" | "shadow"} Handle */

const handles = /** @type {{ id: Handle, name: string }[]} */ ([
  { id: "contrast", name: "Contrast" }, { id: "highlight", name: "Highlights" }, { id: "shadow", name: "Shadows" },
]);
const printers = ["yellow", "magenta", "cyan"]; // in the order of the balance
const even = { contrast: 0, highlight: 0, shadow: 0, balance: /** @type {[number, number, number]} */ ([0, 0, 0]) };

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const [min, max] = api.view().ranges["way.shape.contrast"];
  const shaped = () => ({ ...even, ...api.view().way.shape });
  const one = (/** @type {string} */ label, /** @type {(value: number, gesture: string) => void} */ change) =>
    slider({ label, unit: "L*", min, max, step: 0.5, digits: 1, change });
  const tones = handles.map(({ id, name }) => ({ id, field: one(name, (value, gesture) => api.do({ do: "shape", [id]: value, gesture })) }));
  const layers = printers.map((printer, i) => ({
    i,
    field: one(`More ${printer}`, (value, gesture) => {
      const balance = shaped().balance.slice();
      balance[i] = value;
      api.do({ do: "shape", balance: /** @type {[number, number, number]} */ (balance), gesture });
    }),
  }));
  const again = button("Even again", () => api.do({ do: "shape", ...even }), { class: "small" });
  const plot = curvesPlot();
  const node = h("div", { class: "shape" }, plot.node,
    h("div", { class: "exposures" }, ...tones.map(({ field }) => field.node), ...layers.toReversed().map(({ field }) => field.node)),
    h("div", { class: "actions" }, again, button("Curves as CSV", api.saveCurves, { class: "small" })));
  return {
    node,
    update(view) {
      const now = { ...even, ...view.way.shape };
      const tuned = !view.way.straight || view.tuned !== "";
      show(node, view.curve.length > 0);
      for (const { id, field } of tones) field.set(now[id]);
      for (const { i, field } of layers) field.set(now.balance[i]);
      for (const { field } of [...tones, ...layers]) show(field.node, tuned);
      show(again, tuned && (handles.some(({ id }) => now[id] !== 0) || now.balance.some((v) => v !== 0)));
      plot.update(view.plot, chosenPalette(view).layers);
    },
  };
}

/** curvesPlot draws the density of each layer's negative over the tones of the scene. */
function curvesPlot() {
  const [w, hgt, left, right, top, bottom] = [300, 200, 28, 66, 18, 34];
  const x = (/** @type {number} */ share) => left + share * (w - left - right);
  let most = 2;
  const y = (/** @type {number} */ density) => hgt - bottom - (density / most) * (hgt - top - bottom);
  const [scale, lines] = [svg("g"), svg("g")];
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "curves", role: "img" }, scale,
    svg("g", { class: "grid" }, ...[0, 0.25, 0.5, 0.75, 1].map((share) => svg("path", { d: `M${x(share)} ${hgt - bottom}v4` }))),
    ...[0, 25, 50, 75, 100].map((l) => svg("text", { x: x(l / 100), y: hgt - bottom + 16, "text-anchor": "middle", text: String(l) })),
    svg("text", { x: left, y: 10, text: "UV density of the negative" }),
    svg("text", { x: w - right, y: hgt - 2, "text-anchor": "end", text: "L* of the scene" }), lines);
  return {
    node,
    /**
     * @param {Plotted} plot
     * @param {Layer[]} layers
     */
    update(plot, layers) {
      if (plot.density[0].length === 0) return;
      most = Math.ceil(2 * Math.max(1, plot.film, ...plot.density.flat())) / 2;
      const levels = [...Array.from({ length: Math.floor(most) + 1 }, (_, i) => ({ id: String(i), at: i, words: String(i), film: false })),
        { id: "film", at: plot.film, words: "film", film: true }];
      keyed(scale, levels, (level) => level.id, (first) => {
        const [line, words] = [svg("path"), svg("text", { text: first.words })];
        return {
          node: svg("g", { class: first.film ? "grid film" : "grid" }, line, words),
          update({ at, film }) {
            attr(line, "d", `M${left} ${y(at).toFixed(1)}H${w - right}`);
            attr(words, "x", film ? w - right + 6 : left - 5);
            attr(words, "y", y(at) + 4);
            attr(words, "text-anchor", film ? "start" : "end");
          },
        };
      });
      // The names stand beside the curves' ends at white, one below the other.
      const ends = printers.map((printer, i) => ({ printer, density: plot.density[i], label: 0, swatch: layers.find((one) => one.printer === printer)?.swatch ?? "" }))
        .sort((a, b) => b.density[0] - a.density[0]);
      let free = y(plot.film) + 18;
      for (const end of ends) {
        end.label = Math.max(y(Math.max(end.density[0], 0)) + 4, free);
        free = end.label + 13;
      }
      const over = Math.max(0, ends[2].label - (hgt - bottom));
      for (const end of ends) end.label -= over;
      keyed(lines, ends, (end) => end.printer, ({ printer }) => {
        const [under, line, name] = [svg("path", { class: "under" }), svg("path"), svg("text", { text: printer })];
        return {
          node: svg("g", { class: "line" }, under, line, name),
          update(end) {
            const d = end.density.map((density, i, all) => `${i ? "L" : "M"}${x(1 - i / (all.length - 1)).toFixed(1)} ${y(Math.max(density, 0)).toFixed(1)}`).join("");
            attr(under, "d", d);
            attr(line, "d", d);
            style(line, "stroke", end.swatch);
            attr(name, "x", w - right + 6);
            attr(name, "y", end.label);
          },
        };
      });
      attr(node, "aria-label", `UV density of each layer’s negative from the white of the scene to its black: ${printers.map((printer, i) => `${capital(printer)} ${figure(plot.density[i][0], 2)} to ${figure(plot.density[i][plot.density[i].length - 1], 2)}`).join(", ")}. The film reaches ${figure(plot.film, 2)}.`);
    },
  };
}
