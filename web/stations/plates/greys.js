// How the greys of the scene lie on the three plates: density over the exposure, one
// curve a plate.

/** @import { Greys } from "../../types/audit.js" */

import { attr, keyed, svg, text } from "../../ui/dom.js";
import { figure } from "../../ui/words.js";

// The plates' marks are those of the layers that they print: round for cyan, three-cornered
// for magenta, square for yellow.
const marks = /** @type {Record<string, (x: number, y: number) => string>} */ ({
  red: (x, y) => `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0z`,
  green: (x, y) => `M${x} ${y - 4.5}l4.2 7.6h-8.4z`,
  blue: (x, y) => `M${x - 3.2} ${y - 3.2}h6.4v6.4h-6.4z`,
});

const STOP = Math.log10(2);

export function greysPlot() {
  const [w, hgt, left, right, top, bottom] = [300, 200, 28, 76, 18, 34];
  const lines = svg("g");
  const scale = svg("g");
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "greys-plot", role: "img" }, scale, lines,
    svg("text", { x: left, y: 10, text: "density on the plate" }),
    svg("text", { x: w - right, y: hgt - 3, "text-anchor": "end", text: "light of the scene, stops" }));
  return {
    node,
    update(/** @type {Greys} */ greys) {
      const all = greys.curves.flatMap((curve) => curve.line);
      const [x0, x1] = ends(all.map(([logH]) => logH / STOP));
      const [y0, y1] = ends([...all.map(([, density]) => density), ...greys.places.flatMap((place) => place.density)]);
      const x = (/** @type {number} */ logH) => left + ((logH / STOP - x0) / (x1 - x0)) * (w - left - right);
      const y = (/** @type {number} */ density) => hgt - bottom - ((density - y0) / (y1 - y0)) * (hgt - top - bottom);
      const each = y1 - y0 > 1.2 ? 0.5 : 0.2;
      const levels = ticks(y0, y1, each).map((at) => ({ id: `d${at}`, d: `M${left} ${y(at)}H${w - right}`, x: left - 4, y: y(at) + 4, anchor: "end", words: figure(at, 1) }));
      const stops = ticks(x0, x1, x1 - x0 > 6 ? 2 : 1).map((at) => ({ id: `h${at}`, d: `M${x(at * STOP)} ${hgt - bottom}v4`, x: x(at * STOP), y: hgt - bottom + 15, anchor: "middle", words: figure(at) }));
      keyed(scale, [...levels, ...stops], (one) => one.id, () => {
        const [line, words] = [svg("path"), svg("text")];
        return {
          node: svg("g", { class: "grid" }, line, words),
          update(one) {
            attr(line, "d", one.d);
            attr(words, "x", one.x);
            attr(words, "y", one.y);
            attr(words, "text-anchor", one.anchor);
            text(words, one.words);
          },
        };
      });
      // The names stand at the curves' ends, one below the other.
      const named = greys.curves.map((curve, i) => {
        const at = (/** @type {boolean} */ clipped) => greys.places.filter((place) => place.clipped[i] === clipped)
          .map((place) => marks[curve.filter](x(place.logH), y(place.density[i]))).join("");
        const line = curve.line.map(([logH, density], k) => `${k ? "L" : "M"}${x(logH).toFixed(1)} ${y(density).toFixed(1)}`).join("");
        return { curve, line, read: at(false), clipped: at(true), label: y(curve.line[curve.line.length - 1][1]) + 4 };
      }).sort((a, b) => a.label - b.label);
      named.forEach((one, k) => { if (k > 0) one.label = Math.max(one.label, named[k - 1].label + 14); });
      keyed(lines, named, (one) => one.curve.filter, ({ curve: { filter } }) => {
        const [line, points, lost, name] = [svg("path"), svg("path", { class: "point" }), svg("path", { class: "point lost" }), svg("text")];
        return {
          node: svg("g", { class: "curve" }, line, points, lost, name),
          update({ curve, line: d, read, clipped, label }) {
            attr(line, "d", d);
            attr(line, "class", curve.key ? "key" : null);
            attr(points, "d", read);
            attr(lost, "d", clipped);
            attr(name, "x", w - right + 6);
            attr(name, "y", label);
            text(name, `${filter} ${figure(curve.slope, 2)}`);
          },
        };
      });
      attr(node, "aria-label", `Density of ${greys.places.length} greys on each plate over the light of the scene. Slopes: ${greys.curves.map((curve) => `${curve.filter} ${figure(curve.slope, 2)}`).join(", ")}.`);
    },
  };
}

/**
 * ends are the least and the largest of some values, kept apart.
 * @param {number[]} values
 */
function ends(values) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return high - low < 0.1 ? [low - 0.05, high + 0.05] : [low, high];
}

/**
 * ticks are the multiples of a step from one value to another.
 * @param {number} from
 * @param {number} to
 * @param {number} step
 */
function ticks(from, to, step) {
  const first = Math.ceil(from / step - 1e-9);
  return Array.from({ length: Math.max(0, Math.floor(to / step + 1e-9) - first + 1) }, (_, i) => (first + i) * step);
}
