// The Proof station: what the print would be, what was read at a point, and how
// far the proof can be believed.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Sample } from "../../types/model.js" */

import { h, keyed, show, style, text } from "../../ui/dom.js";
import { choice, fold, heading, numberField, range } from "../../ui/controls.js";
import * as figures from "./figures.js";
import * as screen from "../../print/screen.js";
import * as light from "../../print/light.js";
import * as against from "./against.js";
import * as onShow from "./onshow.js";
import * as printed from "./printed.js";
import { chosenPalette, fromPaper } from "../../print/layers.js";
import { figure } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const stack = h("p", { class: "sentence" });
  const depth = h("dd");
  const deepest = h("dt");
  const density = h("dd");
  const lit = light.build(api);
  const display = screen.build(api);
  const paper = choice({ label: "Paper", commit: (id) => api.do({ do: "paper", id }) });
  const finish = choice({ label: "Surface", commit: (id) => api.do({ do: "finish", id }) });
  const finishNote = h("p", { class: "facts" });
  const limit = numberField({ label: "Thickest layer", unit: "% of coat", step: 5, ...range(api.view().ranges.limit, 100), commit: (percent) => api.do({ do: "limit", value: percent / 100 }) });
  const point = reading();
  const measured = against.build(api);
  const made = printed.build(api);
  const computed = figures.build(api);
  const shown = onShow.build(api);
  const rests = h("p", { class: "hint" });

  return {
    nodes: [
      heading("Proof"),
      stack,
      h("dl", { class: "three" }, h("div", {}, deepest, depth)),
      fold("How it is printed", false, limit.node, made.node, h("dl", {}, h("dt", { text: "density of the blackest grey" }), density)),
      fold("Paper, surface, light", false, h("div", { class: "settings" }, paper.node, finish.node, finishNote), lit.node),
      fold("Against the reference", false, measured.node),
      fold("The point that was read", false, point.node),
      computed.node,
      fold("On show for years", false, shown.node),
      fold("This screen", false, display.node),
      fold("What it rests on", false, rests),
    ],
    update(view) {
      const palette = chosenPalette(view);
      text(stack, `${palette.name}, ${palette.own ? "your own" : palette.era}, on the paper ${fromPaper(view.order).join(", then ")}.`);
      text(deepest, palette.depth?.even ? "no greys; full coats" : "blackest grey");
      const deep = palette.depth && `L* ${figure(palette.depth.L)}`;
      text(depth, deep ? [palette.black, deep].filter(Boolean).join(", ") : "–");
      text(density, palette.depth ? figure(palette.depth.density, 2) : "–");
      limit.set(view.limit * 100);
      lit.update(view);
      display.update(view);
      paper.set(view.papers, view.paper);
      finish.set(view.finishes, view.finish);
      text(finishNote, view.finishNote);
      made.update(view);
      measured.update(view);
      point.update(view.sample);
      computed.update(view);
      shown.update(view);
      text(rests, view.rests);
    },
  };
}

function reading() {
  const where = h("p", { class: "facts" });
  const apart = h("p", { class: "verdict" });
  const outside = h("p", { class: "facts" });
  const body = h("tbody");
  const amounts = h("tbody");
  const table = h("table", {},
    h("thead", {}, h("tr", {}, h("td"), ...["L*", "a*", "b*"].map((name) => h("th", { scope: "col", text: name })))), body);
  const heights = h("table", {},
    h("thead", {}, h("tr", {}, h("td"), h("th", { scope: "col", text: "of full coat" }), h("th", { scope: "col", text: "µm dry" }))), amounts);
  const densities = h("p", { class: "facts" });
  const figured = h("div", {}, where, table, apart, outside, densities, heights);
  const none = h("p", { class: "hint", text: "Click a picture to read a point." });
  return {
    node: h("section", { class: "sampled" }, figured, none),
    update(/** @type {Sample | null} */ sample) {
      show(figured, sample !== null);
      show(none, sample === null);
      if (sample === null) return;
      text(where, `x ${figure(sample.x)}, y ${figure(sample.y)} in pixels of the key plate`);
      keyed(body, [
        { id: "reference", lab: sample.reference, hex: sample.hexReference },
        { id: "print", lab: sample.print, hex: sample.hexPrint },
      ], (row) => row.id, (row) => {
        const patch = h("span", { class: "patch", "aria-hidden": "true" });
        const cells = row.lab.map(() => h("td"));
        return {
          node: h("tr", {}, h("th", { scope: "row" }, patch, row.id), ...cells),
          update: (now) => {
            style(patch, "background-color", now.hex);
            now.lab.forEach((value, i) => text(cells[i], figure(value, 1)));
          },
        };
      });
      text(apart, `They differ by ΔE00 ${figure(sample.dE, 1)}.`);
      text(outside, `The print is outside this screen: what you see is ΔE00 ${figure(sample.outside, 1)} off, the figures are true.`);
      show(outside, sample.outside > 0);
      const [red, green, blue] = sample.statusA.map((d) => figure(d, 2));
      text(densities, `Density of the print: visual ${figure(sample.visual, 2)}; status A red ${red}, green ${green}, blue ${blue}.`);
      const coats = ["cyan", "magenta", "yellow"].map((printer) => ({ printer, share: sample.thickness[printer], um: sample.um[printer] }));
      keyed(amounts, coats, (coat) => coat.printer, ({ printer }) => {
        const [share, um] = [h("td"), h("td")];
        return {
          node: h("tr", {}, h("th", { scope: "row", text: printer }), share, um),
          update: (coat) => {
            text(share, figure(coat.share, 2));
            text(um, figure(coat.um, 1));
          },
        };
      });
    },
  };
}
