// The Points: the places of the picture whose colours are read, in every picture that is
// compared.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Point, PrintRead } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { attr, h, keyed, show, svg, text } from "../../ui/dom.js";
import { button, heading } from "../../ui/controls.js";
import { colours } from "../../print/colours.js";
import { capital, figure } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const none = h("p", { class: "hint", text: "Click a picture: the point stays here, with what each picture shows there." });
  const figures = h("p", { class: "hint", text: "Figures: CIELAB, L* a* b*." });
  const list = h("ol", { class: "points" });
  const all = button("Let all go", () => api.do({ do: "dropPoint" }), { class: "quiet" });
  return {
    nodes: [heading("Points"), none, figures, list, all],
    update(view) {
      show(none, view.points.length === 0);
      show(figures, view.points.length > 0);
      show(all, view.points.length > 1);
      keyed(list, view.points, (point) => point.n, (point) => row(api, point.n));
    },
  };
}

/**
 * @param {Api} api
 * @param {number} n
 * @returns {Child<Point>}
 */
function row(api, n) {
  const read = colours();
  const reach = h("div");
  const more = h("div", { class: "facts" });
  const where = h("p", { class: "facts" });
  const curves = svg("g");
  const spectrum = svg("svg", { viewBox: "0 0 300 84", class: "spectrum", role: "img" },
    svg("path", { class: "grid", d: "M0 2H300M0 33H300M0 64H300" }), curves,
    svg("text", { x: 0, y: 80, text: "380 nm" }), svg("text", { x: 300, y: 80, "text-anchor": "end", text: "730 nm" }));
  const node = h("li", {},
    h("header", {}, h("button", { type: "button", class: "number-of", "aria-label": `Go to point ${n}`, text: String(n), click: () => api.do({ do: "goToPoint", n }) }), reach,
      button("Let go", () => api.do({ do: "dropPoint", n }), { class: "quiet", "aria-label": `Let point ${n} go` })),
    read.node, h("details", {}, h("summary", { text: "Density, heights, spectrum" }), more, where, spectrum));
  return {
    node,
    update(point) {
      read.update(point.colours);
      keyed(reach, reachesOf(point.prints), (said) => said.id, () => {
        const [name, words] = [h("strong"), h("span")];
        return {
          node: h("p", {}, name, " ", words),
          update: (said) => {
            text(name, said.label);
            show(name, said.label !== "");
            text(words, said.label ? said.reach : capital(said.reach));
          },
        };
      });
      keyed(more, point.prints, (print) => print.id, () => {
        const line = h("p");
        return {
          node: line,
          update(/** @type {PrintRead} */ { label, visual, um }) {
            const heights = ["cyan", "magenta", "yellow"].map((printer) => `${printer} ${figure(um[printer], 1)} µm`).join(", ");
            text(line, `${label}: visual density ${figure(visual, 2)}; ${heights}`);
          },
        };
      });
      text(where, `At ${figure(point.x)}, ${figure(point.y)} of the key plate.`);
      keyed(curves, point.prints, (print) => print.id, () => {
        const curve = svg("path");
        return {
          node: curve,
          update(/** @type {PrintRead} */ { spectrum }, i) {
            attr(curve, "d", spectrum.map((r, k) => `${k ? "L" : "M"}${(300 * k / (spectrum.length - 1)).toFixed(1)} ${(64 - 62 * Math.min(Math.max(r, 0), 1)).toFixed(1)}`).join(""));
            attr(curve, "stroke-dasharray", i > 0 ? `${6 / i} 3` : null);
          },
        };
      });
      attr(spectrum, "aria-label", `Reflectance from 380 to 730 nm. ${point.prints.map((print) => `${print.label}: at 450 nm ${at(print, 450)}, at 550 nm ${at(print, 550)}, at 650 nm ${at(print, 650)}`).join("; ")}`);
    },
  };
}

/**
 * reachesOf is what of the reference's colour the prints can have, by print; once and without a
 * name where that is the same of all.
 * @param {PrintRead[]} prints
 */
function reachesOf(prints) {
  const told = prints.filter(({ reach }) => reach !== "");
  const same = told.every(({ reach }) => reach === told[0].reach);
  return same ? told.slice(0, 1).map(({ reach }) => ({ id: "", label: "", reach })) : told;
}

const at = (/** @type {PrintRead} */ { spectrum }, /** @type {number} */ nm) => figure(spectrum[Math.round((nm - 380) / 350 * (spectrum.length - 1))], 2);
