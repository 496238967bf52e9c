// What the workshop takes along: the printing negatives and the process sheet, with what
// they are made by.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Workshop } from "../../types/model.js" */

import { attr, h, keyed, show, text } from "../../ui/dom.js";
import { button, choice, fold, folded, numberField, radios, range } from "../../ui/controls.js";
import { fill, tableField } from "../../ui/filled.js";
import { textField } from "../../ui/textfield.js";
import { columns, row } from "../../ui/table.js";
import { hatch } from "../../print/hatch.js";
import * as thirds from "./thirds.js";
import * as coats from "./coats.js";
import { tintTable } from "./tints.js";
import { capital } from "../../ui/words.js";

const printers = /** @type {const} */ (["yellow", "magenta", "cyan"]);
const either = [{ id: "yes", name: "yes" }, { id: "no", name: "no" }];

/**
 * list shows sentences, a line each.
 * @param {string} className
 */
function list(className) {
  const node = h("ul", { class: className });
  return {
    node,
    set(/** @type {string[]} */ lines) {
      show(node, lines.length > 0);
      keyed(node, lines, (line) => line, (line) => ({ node: h("li", { text: line }), update() {} }));
    },
  };
}

const actions = (/** @type {Node[]} */ ...controls) => h("div", { class: "actions" }, ...controls);

/**
 * negatives is the printing negatives: where they go, which way they lie, what they need.
 * @param {Api} api
 * @returns {Blocks}
 */
export function negatives(api) {
  const size = h("p", { class: "large" });
  const [lies, mind] = [list("lies"), list("mind")];
  const way = h("summary"); // the first of them
  const how = h("details", { class: "folded" }, way, lies.node);
  const minded = h("summary");
  const toMind = h("details", { class: "folded" }, minded, mind.node);
  const rows = h("tbody");
  const layers = h("table", {}, columns("exposure", "needs density", "∓⅓ stop, ΔE00"), rows);
  const [settings, ofFilm, less] = [setup(api), film(api), thirds.build(api, layers)];
  const save = printers.map((printer) => button(`${capital(printer)} negative`, () => api.saveNegative(printer)));
  return {
    nodes: [
      fold("Printing negatives", false, h("div", { class: "sheet" }, size, how, actions(...save, button("Curves as CSV", api.saveCurves, { class: "small" })), toMind, less.node,
        folded("Size, side and marks", ...settings.nodes), folded("The film", ...ofFilm.nodes))),
    ],
    update(view) {
      const { workbench } = view;
      text(size, workbench.size || "Open three plates first.");
      size.classList.toggle("misfit", workbench.size !== "" && !workbench.fits);
      text(way, workbench.lies[0] ?? "");
      lies.set(workbench.lies.slice(1));
      show(how, workbench.lies.length > 0);
      mind.set(workbench.mind);
      text(minded, workbench.mind.length === 1 ? "1 thing to mind" : `${workbench.mind.length} things to mind`);
      show(toMind, workbench.mind.length > 0);
      show(layers, workbench.lies.length > 0);
      for (const node of save) node.disabled = workbench.lies.length === 0;
      keyed(rows, workbench.layers, (layer) => layer.printer, () => row(3, (cells, layer, name) => {
        if (!name.firstChild) name.append(hatch(layer.printer), h("span", { text: layer.printer }));
        text(cells[0], layer.exposure || "unknown");
        text(cells[1], layer.needs);
        text(cells[2], layer.third);
      }));
      less.update(view);
      settings.update(view);
      ofFilm.update(view);
    },
  };
}

/**
 * setup is how the negatives are laid out.
 * @param {Api} api
 * @returns {Blocks}
 */
function setup(api) {
  const ranges = api.view().ranges;
  const side = radios({ legend: "To the tissue goes", commit: (id) => api.do({ do: "negatives", side: id }) });
  // dots of 40 µm need as many pixels an inch as dots
  const tones = radios({ legend: "Tones", commit: (id) => api.do(id === "dots" ? { do: "negatives", screenUm: 40, ppi: 635 } : { do: "negatives", screenUm: 0, ppi: 360 }) });
  const dot = numberField({ label: "Size of a dot", unit: "µm", ...range(ranges["negatives.screen_um"]), commit: (v) => api.do({ do: "negatives", screenUm: v, ppi: Math.ceil(25400 / v) }) });
  const gain = numberField({ label: "Dots grow in print, at a half", unit: "%", step: 1, ...range(ranges["negatives.dot_gain"], 100), commit: (v) => api.do({ do: "negatives", dotGain: v / 100 }) });
  const least = numberField({ label: "Smallest tint that holds", unit: "%", step: 0.5, ...range(ranges["negatives.dots.least"], 100), commit: (v) => api.do({ do: "negatives", dotLeast: v / 100 }) });
  const most = numberField({ label: "Largest that stays open", unit: "%", step: 0.5, placeholder: "any", empty: 0, ...range(ranges["negatives.dots.most"], 100), commit: (v) => api.do({ do: "negatives", dotMost: v / 100 }) });
  const holds = numberField({ label: "Smallest dot that holds", unit: "µm", ...range(ranges["negatives.dots.holds_um"]), commit: (v) => api.do({ do: "negatives", dotHoldsUm: v }) });
  const tints = tintTable(api);
  const sheet = choice({ label: "Film sheet", commit: (id) => api.do({ do: "negatives", sheet: id }) });
  const trim = radios({ legend: "Trimmed to", commit: (id) => api.do({ do: "negatives", trim: id }) });
  const marks = radios({ legend: "Marks, bars and wedges", commit: (id) => api.do({ do: "negatives", marks: id === "yes" }) });
  const offsets = radios({ legend: "The layers’ offsets", commit: (id) => api.do({ do: "negatives", offsets: id === "keep" }) });
  const own = textField({
    label: "Your own route: supports in order, the print last", maxlength: 400,
    commit: (words) => {
      const supports = words.split(",").map((one) => one.trim()).filter(Boolean);
      const { error } = supports.length ? api.do({ do: "route", id: "own", supports }) : {};
      text(refused, error ?? "");
    },
  });
  const refused = h("p", { class: "refused", role: "alert" });
  const route = choice({ label: "Route", commit: (id) => api.do({ do: "route", id }) });
  const width = numberField({ label: "Width of the key plate on the print", unit: "mm", ...range(ranges.print_width_mm), commit: (widthMm) => api.do({ do: "print", widthMm }) });
  const ppi = numberField({ label: "Resolution", unit: "pixels an inch", ...range(ranges["negatives.ppi"]), commit: (v) => api.do({ do: "negatives", ppi: v }) });
  const allowance = numberField({ label: "Trim allowance", unit: "mm", ...range(ranges["negatives.allowance_mm"]), commit: (v) => api.do({ do: "negatives", allowanceMm: v }) });
  const edge = numberField({ label: "Safe edge", unit: "mm", ...range(ranges["negatives.safe_edge_mm"]), commit: (v) => api.do({ do: "negatives", safeEdgeMm: v }) });
  const punch = numberField({ label: "Strip for the punch", unit: "mm", ...range(ranges["negatives.punch_mm"]), commit: (v) => api.do({ do: "negatives", punchMm: v }) });
  return {
    nodes: [route.node, own.node, refused, side.node, tones.node, h("div", { class: "actions" }, button("Dots beside continuous", () => api.do({ do: "look", id: "dots" }), { class: "small" })), dot.node, gain.node, tints.node, least.node, most.node, holds.node, sheet.node, width.node, ppi.node, trim.node, allowance.node, edge.node, punch.node, marks.node, offsets.node],
    update(view) {
      const now = view.workbench.setup;
      side.set([{ id: "emulsion", name: now.filmKind === "silver" ? "the emulsion" : "the ink" }, { id: "base", name: "the base" }], now.side);
      tones.set([{ id: "continuous", name: "continuous" }, { id: "dots", name: now.screenUm ? `dots of ${now.screenUm} µm` : "dots of 40 µm" }], now.screenUm ? "dots" : "continuous");
      route.set(view.routes, view.route);
      own.set(view.ownRoute.join(", "));
      dot.set(now.screenUm, 1);
      gain.set(now.dotGain * 100, 1);
      tints.update(view);
      least.set(100 * (now.dots.least ?? 0), 1);
      most.set(now.dots.most ? 100 * now.dots.most : NaN, 1);
      holds.set(now.dots.holds_um ?? 0);
      for (const { node } of [dot, tints, least, most, holds]) show(node, now.screenUm > 0);
      show(gain.node, now.screenUm > 0 && !now.dots.table?.length);
      sheet.set(view.workbench.sheets, now.sheet);
      trim.set([{ id: "plate", name: "the whole scan" }, { id: "picture", name: "the picture in its borders" }], now.trim);
      marks.set(either, now.marks ? "yes" : "no");
      offsets.set([{ id: "undo", name: "in register" }, { id: "keep", name: "kept" }], now.offsets ? "keep" : "undo");
      width.set(view.register.printWidthMm, 1);
      ppi.set(now.ppi);
      allowance.set(now.allowanceMm, 1);
      edge.set(now.safeEdgeMm, 1);
      punch.set(now.punchMm, 1);
    },
  };
}

/**
 * film is what the negatives are printed on, and how dense it gets.
 * @param {Api} api
 * @returns {Blocks}
 */
function film(api) {
  const known = h("p", { class: "facts" });
  const refused = h("p", { class: "refused", role: "alert" });
  const kind = radios({ legend: "Kind", commit: (id) => take({ kind: id, max: api.view().workbench.setup.filmMax }) });
  const most = numberField({
    label: "Its largest UV density", step: 0.05, ...range(api.view().ranges["printingFilm.max"]),
    commit: (max) => take({ kind: api.view().workbench.setup.filmKind, max }),
  });
  const by = choice({ label: "How is its density known?", commit: fill(api, "film.by") });
  const table = tableField(api, "film.table", {});
  const tablet = tableField(api, "film.tablet", { "aria-label": "Step tablet: density and tone", placeholder: "0.05\t14\n0.20\t27\n…\n3.05\t95" });
  const asks = h("p", { class: "hint" });
  const guide = h("div", {},
    h("ol", { class: "guide" }, ...[
      "Save the film’s wedge, and print it as the negatives are printed.",
      "Expose it beside a calibrated step tablet on one tissue.",
      "Read both on the print, as L* or as density, and enter both here.",
    ].map((step) => h("li", { text: step }))),
    actions(button("Film’s wedge", api.saveFilmWedge, { class: "small" })),
    h("p", { class: "hint", text: "The tablet: a line for each step, its density and its tone." }), tablet.node);
  const why = h("p", { class: "hint" });
  const take = (/** @type {{ kind: string, max?: number, measured?: string, table?: string, tablet?: string }} */ given) => {
    const { error } = api.do({ do: "printingFilm", ...given });
    text(refused, error ?? "");
    return !error;
  };
  return {
    nodes: [
      kind.node, known, most.node,
      by.node, guide, asks, table.node, refused,
      actions(button("Take what is entered", () => {
        const view = api.view();
        const [kind, measured] = [view.workbench.setup.filmKind, view.filled["film.by"]];
        if (measured === "tablet" && tablet.node.value.trim() === "") return text(refused, "Enter the steps of the tablet: a line for each, its density and its tone.");
        if (!take(measured === "tablet" ? { kind, table: table.node.value, tablet: tablet.node.value } : { kind, measured, table: table.node.value })) return;
        table.clear();
        tablet.clear();
      }, { class: "small" })),
      folded("Why UV?", why),
    ],
    update(view) {
      const now = view.workbench.setup;
      kind.set([{ id: "inkjet", name: "inkjet film" }, { id: "silver", name: "silver film" }], now.filmKind);
      text(known, now.film);
      show(most.node, !now.measured);
      most.set(now.filmMax, 2);
      const inkjet = now.filmKind === "inkjet";
      const measured = view.filled["film.by"];
      by.set([{ id: "uv", name: "read in the UV" }, { id: "tablet", name: "without a UV meter: by a step tablet" }, ...(inkjet ? [] : [{ id: "visual", name: "read as visual density" }, { id: "status", name: "read as status density" }])], measured);
      const tones = measured === "tablet";
      show(guide, tones);
      text(asks, `The film: a line for each patch, its code (0 to 100 %, 255 or 65535) and its ${tones ? "tone" : "density"}.`);
      table.update(view);
      tablet.update(view);
      attr(table.node, "aria-label", `Table of the film: code and ${tones ? "tone" : "density"}`);
      attr(table.node, "placeholder", tones ? "0 %\t14\n5 %\t22\n…\n100 %\t95" : "0 %\t0.05\n10 %\t0.12\n…\n100 %\t2.30");
      text(why, `${capital(now.whyUv)}.`);
    },
  };
}

/**
 * process is the sheet that the print is made by.
 * @param {Api} api
 * @returns {Blocks}
 */
export function process(api) {
  const ranges = api.view().ranges;
  // A change starts from the workshop as it is now, which is asked for: what is shown may
  // be a frame old.
  const change = (/** @type {(works: Workshop) => void} */ by) => {
    const workshop = structuredClone(api.view().workbench.workshop);
    by(workshop);
    api.do({ do: "workshop", workshop });
  };
  const unit = radios({ legend: "Exposures in", commit: (id) => change((w) => { w.unit = id; }) });
  const register = radios({ legend: "Register by", commit: (id) => change((w) => { w.register = id; }) });
  const backing = radios({ legend: "Tissue on", commit: (id) => change((w) => { w.process.film = id === "film"; w.process.soak_min = id === "film" ? 1.5 : 4; }) });
  const layers = printers.map((printer, i) => ({
    exposure: numberField({ label: `${capital(printer)}: base exposure`, empty: 0, placeholder: "not measured", ...range(ranges["workshop.layers.exposure"]), commit: (v) => change((w) => { w.layers[i].exposure = v; }) }),
    sensitiser: textField({ label: `${capital(printer)}: sensitiser`, maxlength: 100, commit: (v) => change((w) => { w.layers[i].sensitiser = v; }) }),
    strength: numberField({ label: `${capital(printer)}: its strength`, unit: "%", empty: 0, placeholder: "not said", ...range(ranges["workshop.layers.strength_pct"]), commit: (v) => change((w) => { w.layers[i].strength_pct = v; }) }),
  }));
  const times = /** @type {const} */ ([
    ["soak_min", "Soak", "min"], ["mate_min", "On the support", "min"], ["develop_c", "Develop from", "°C"], ["develop_to_c", "No warmer than", "°C"],
    ["alum_pct", "Alum", "%"], ["alum_min", "In the alum", "min"], ["humidity_pct", "Relative humidity", "%"],
    ["condition_h", "All in one climate for", "h"], ["settle_h", "Rest before measuring", "h"],
  ]).map(([key, label, of]) => ({
    key, field: numberField({ label, unit: of, ...range(ranges[`workshop.process.${key}`]), commit: (v) => change((w) => { w.process[key] = v; }) }),
  }));
  const growth = /** @type {const} */ ([
    ["film_along_pct", "Film, along"], ["film_across_pct", "Film, across"], ["paper_along_pct", "Paper, along its grain"], ["paper_across_pct", "Paper, across"],
    ["support_along_pct", "Support, along"], ["support_across_pct", "Support, across"],
  ]).map(([key, label]) => ({
    key, field: numberField({ label, unit: "%", step: 0.001, ...range(ranges[`workshop.grows.${key}`]), commit: (v) => change((w) => { w.grows[key] = v; }) }),
  }));
  const coated = coats.build(api, change);
  const save = button("Process sheet", api.saveProcess);
  return {
    nodes: [
      fold("Process sheet", false, h("div", { class: "sheet" }, actions(save),
        folded("Exposures and times", unit.node, ...layers.flatMap((each) => [each.exposure.node, each.sensitiser.node, each.strength.node]),
          h("p", { class: "hint", text: "Base exposure: the shortest that prints full black through clear film and base. Look for it in half stops." }),
          h("p", { class: "hint", text: "A sensitiser of 2 to 5 % is usual: more of it is faster and softer. Dichromates are toxic; treat any sensitiser by its data sheet." }),
          backing.node, register.node, ...times.map(({ field }) => field.node)),
        folded("Coats", ...coated.nodes), folded("Growth with humidity", h("p", { class: "hint", text: "For 10 % more relative humidity." }), ...growth.map(({ field }) => field.node)))),
    ],
    update(view) {
      const now = view.workbench.workshop;
      save.disabled = view.workbench.lies.length === 0;
      unit.set([{ id: "seconds", name: "seconds" }, { id: "units", name: "light units" }], now.unit);
      register.set([{ id: "marks", name: "marks" }, { id: "pins", name: "pins" }], now.register);
      backing.set([{ id: "paper", name: "paper" }, { id: "film", name: "thin film" }], now.process.film ? "film" : "paper");
      layers.forEach(({ exposure, sensitiser, strength }, i) => {
        exposure.set(now.layers[i].exposure || NaN, 1);
        sensitiser.set(now.layers[i].sensitiser);
        strength.set(now.layers[i].strength_pct || NaN, 2);
      });
      for (const { key, field } of growth) field.set(now.grows[key], 3);
      coated.update(view);
      for (const { key, field } of times) field.set(now.process[key], 1);
    },
  };
}
