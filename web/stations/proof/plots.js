// Drawings of what a recipe reaches and of its grey balance.

/** @import { Balance } from "../../types/figures.js" */
/** @import { Layer } from "../../types/model.js" */

import { attr, keyed, style, svg, text } from "../../ui/dom.js";
import { figure } from "../../ui/words.js";

const EDGE = 125; // CIELAB units of chroma that the plots of the reach hold

/**
 * outlinePlot draws the largest chroma by hue in the a*b* plane, and the line of the
 * hue that is cut.
 */
export function outlinePlot() {
  const size = 120;
  const at = (/** @type {number} */ v) => size / 2 + (v / EDGE) * (size / 2);
  const skin = svg("polygon", { class: "skin" });
  const cut = svg("path", { class: "hue" });
  const rings = [50, 100].map((chroma) => svg("circle", { cx: at(0), cy: at(0), r: at(chroma) - at(0) }));
  const node = svg("svg", { viewBox: `0 0 ${size} ${size}`, class: "outline", role: "img" },
    svg("g", { class: "grid" }, ...rings, svg("path", { d: `M0 ${at(0)}H${size}M${at(0)} 0V${size}` })), cut, skin,
    ...[50, 100].map((chroma) => svg("text", { x: at(chroma) - 1.5, y: at(0) + 10, "text-anchor": "end", class: "scale", text: String(chroma) })),
    svg("text", { x: size - 2, y: at(0) - 4, "text-anchor": "end", text: "a*" }),
    svg("text", { x: at(0) + 4, y: 10, text: "b*" }));
  return {
    node,
    /**
     * @param {number[]} chroma at equal steps of hue from 0°
     * @param {number} degrees the hue that is cut
     */
    update(chroma, degrees) {
      const points = chroma.map((c, i) => {
        const hue = (2 * Math.PI * i) / chroma.length;
        return `${at(c * Math.cos(hue)).toFixed(1)},${at(-c * Math.sin(hue)).toFixed(1)}`;
      });
      attr(skin, "points", points.join(" "));
      const [x, y] = [EDGE * Math.cos(degrees * Math.PI / 180), EDGE * Math.sin(degrees * Math.PI / 180)];
      attr(cut, "d", `M${at(x).toFixed(1)} ${at(-y).toFixed(1)}L${at(-x).toFixed(1)} ${at(y).toFixed(1)}`);
      const at90 = (/** @type {number} */ angle) => figure(chroma[Math.round((angle / 360) * chroma.length) % chroma.length]);
      attr(node, "aria-label", `Outline of the reach in a* and b*: largest chroma ${at90(0)} towards red, ${at90(90)} yellow, ${at90(180)} green, ${at90(270)} blue. The rings are chroma 50 and 100; the straight line is the hue of the other plot.`);
    },
  };
}

/**
 * slicePlot draws the largest chroma by lightness at one hue, to the right, and at its
 * opposite, to the left.
 */
export function slicePlot() {
  const [w, hgt, bottom] = [120, 120, 4];
  const x = (/** @type {number} */ c) => w / 2 + (c / EDGE) * (w / 2);
  const y = (/** @type {number} */ l) => hgt - bottom - (l / 100) * (hgt - bottom - 12);
  const skin = svg("polygon", { class: "skin" });
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "outline", role: "img" },
    svg("g", { class: "grid" },
      ...[0, 50, 100].map((l) => svg("path", { d: `M0 ${y(l)}H${w}` })),
      ...[-100, -50, 0, 50, 100].map((c) => svg("path", { d: `M${x(c)} ${y(0)}V${y(100)}` }))), skin,
    ...[50, 100].map((l) => svg("text", { x: 1, y: y(l) + 9, class: "scale", text: String(l) })),
    ...[50, 100].map((c) => svg("text", { x: x(c) - 1.5, y: y(0) - 3, "text-anchor": "end", class: "scale", text: String(c) })),
    svg("text", { x: w - 2, y: y(100) + 9, "text-anchor": "end", text: "C*" }),
    svg("text", { x: x(0) + 3, y: 10, text: "L*" }));
  return {
    node,
    /**
     * @param {number[][]} slices largest chroma by lightness, at equal steps of hue from 0°
     * @param {number} degrees the hue of the right half
     */
    update(slices, degrees) {
      const slice = (/** @type {number} */ angle) => slices[Math.round((((angle % 360) + 360) % 360) / 360 * slices.length) % slices.length];
      const [here, there] = [slice(degrees), slice(degrees + 180)];
      const side = (/** @type {number[]} */ chroma, /** @type {1 | -1} */ sign) => chroma.map((c, i) => [sign * c, i * 100 / (chroma.length - 1)]).filter(([c]) => sign * c >= 0);
      const points = [...side(here, 1), ...side(there, -1).reverse()];
      attr(skin, "points", points.map(([c, l]) => `${x(c).toFixed(1)},${y(l).toFixed(1)}`).join(" "));
      const top = (/** @type {number[]} */ chroma) => {
        const most = Math.max(0, ...chroma);
        return `${figure(most)} at L* ${figure(chroma.indexOf(most) * 100 / (chroma.length - 1))}`;
      };
      attr(node, "aria-label", `Outline of the reach in L* and C* at hue ${figure(degrees)}°: largest chroma ${top(here)}; at the opposite hue, to the left, ${top(there)}. The lines stand at chroma 50 and 100.`);
    },
  };
}

/** balancePlot draws the thickness of each layer against the print's L*. */
export function balancePlot() {
  const [w, hgt, left, right, top, bottom] = [300, 182, 26, 40, 18, 36];
  const x = (/** @type {number} */ l) => left + ((100 - l) / 100) * (w - left - right);
  let most = 1; // the thickness at the top of the plot
  const y = (/** @type {number} */ t) => hgt - bottom - (t / most) * (hgt - top - bottom);
  const lost = svg("rect", { class: "lost", y: top, height: hgt - top - bottom });
  const lines = svg("g");
  const levels = [0, 0.5, 1].map((share) => ({ share, name: svg("text", { x: left - 5, y: y(share) + 4, "text-anchor": "end" }) }));
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "balance", role: "img" }, lost,
    svg("g", { class: "grid" }, ...[0, 0.5, 1].map((t) => svg("path", { d: `M${left} ${y(t)}H${w - right}` })),
      ...[100, 75, 50, 25, 0].map((l) => svg("path", { d: `M${x(l)} ${hgt - bottom}v4` }))),
    ...levels.map((level) => level.name),
    ...[100, 75, 50, 25, 0].map((l) => svg("text", { x: x(l), y: hgt - bottom + 16, "text-anchor": "middle", text: String(l) })),
    svg("text", { x: left, y: 10, text: "of the whole coat" }),
    svg("text", { x: w - right, y: hgt - 2, "text-anchor": "end", text: "L* of the print" }), lines);
  return {
    node,
    /**
     * @param {Balance} balance
     * @param {Layer[]} layers
     */
    update(balance, layers) {
      const ends = layers.map(({ printer, swatch }) => {
        const t = balance.t[printer];
        return { printer, swatch, L: balance.L, t, last: t[t.length - 1], label: 0 };
      }).sort((a, b) => b.last - a.last);
      most = ends[0].last > 1 ? 2.5 : 1;
      for (const level of levels) text(level.name, String(level.share * most));
      attr(lost, "visibility", balance.lost ? null : "hidden");
      if (balance.lost) {
        attr(lost, "x", x(balance.lost[0]));
        attr(lost, "width", Math.max(1, x(balance.lost[1]) - x(balance.lost[0])));
      }
      // The names stand at the lines' ends, one below the other.
      let free = 0;
      for (const end of ends) {
        end.label = Math.max(y(end.last) + 4, free);
        free = end.label + 13;
      }
      const over = Math.max(0, ends[ends.length - 1].label - (hgt - bottom));
      for (const end of ends) end.label -= over;
      keyed(lines, ends, (end) => end.printer, ({ printer }) => {
        const [under, line, name] = [svg("path", { class: "under" }), svg("path"), svg("text", { text: printer })];
        return {
          node: svg("g", {}, under, line, name),
          update(end) {
            const d = end.t.map((t, i) => `${i ? "L" : "M"}${x(end.L[i]).toFixed(1)} ${y(t).toFixed(1)}`).join("");
            attr(under, "d", d);
            attr(line, "d", d);
            style(line, "stroke", end.swatch);
            attr(name, "x", x(end.L[end.L.length - 1]) + 6);
            attr(name, "y", end.label);
          },
        };
      });
      attr(node, "aria-label", `Thickness of each layer against the L* of the print. At the black: ${ends.map((end) => `${end.printer} ${figure(end.last, 2)}`).join(", ")} of the whole coat.`);
    },
  };
}
