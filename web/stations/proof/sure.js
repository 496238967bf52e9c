// How sure the colours are: what is not known, and what that does to the greys of the
// print and to the point that was read.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Cause, Sureness } from "../../types/figures.js" */
/** @import { Unknowns } from "../../types/command.js" */
/** @import { Model } from "../../types/model.js" */

import { attr, h, keyed, show, text } from "../../ui/dom.js";
import { asker } from "../../print/ask.js";
import { button, numberField, range } from "../../ui/controls.js";
import { columns, row } from "../../ui/table.js";
import { capital, figure } from "../../ui/words.js";

/** @type {{ id: keyof Unknowns, label: string, unit: string, factor: number, digits: number, rare?: boolean }[]} */
const kinds = [
  { id: "amount", label: "Pigment ±", unit: "%", factor: 100, digits: 1 },
  { id: "exposure", label: "Exposure ±", unit: "stops", factor: 1, digits: 2 },
  { id: "levels", label: "Levels ±", unit: "stops", factor: 1, digits: 2 },
  { id: "scatter", label: "Scattering ×÷", unit: "", factor: 1, digits: 2, rare: true },
  { id: "surface", label: "Surface ×÷", unit: "", factor: 1, digits: 2, rare: true },
  { id: "paper", label: "Paper ±", unit: "%", factor: 100, digits: 1, rare: true },
  { id: "holdOn", label: "Washed off up to", unit: "% of coat", factor: 100, digits: 1, rare: true },
  { id: "spectra", label: "Spectra, 1 as published", unit: "", factor: 1, digits: 2, rare: true },
];

const STRONGEST = 4; // causes that are listed of one colour

const causeWords = (/** @type {Cause} */ cause) => `${cause.what}${cause.layer && ` of ${cause.layer}`} ${figure(cause.dE, 1)}`;

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const greys = asker(api, () => api.compute("sureness"));
  const points = asker(api, (view) => api.compute("sureness", { densities: view.sample?.densities }));
  const rows = h("tbody");
  const words = h("p", { class: "facts" });
  const wait = h("p", { class: "hint", role: "status" });
  const table = h("div", {},
    h("table", { class: "sure" }, columns("L*", "nine of ten lie", "± ΔE00"), rows), words);
  const open = unknowns(api);
  return {
    node: h("section", { class: "believed" }, wait, table, open.node,
      h("div", { class: "actions" }, button("Show how far it may vary", () => api.do({ do: "look", id: "sure" })))),
    update(view) {
      open.update(view);
      const now = greys.want(view.sureKey, view);
      const why = greys.why(view.sureKey);
      text(wait, now ? "" : !view.ready ? "Open three plates first." : why ? `It could not be computed: ${why}` : "How sure the greys are is being computed.");
      show(wait, !now && (rows.firstChild === null || why !== ""));
      attr(table, "aria-busy", now ? null : "true");
      if (!now) return;
      const key = view.sample && view.sureKey + view.sample.densities.join();
      const point = key ? points.want(key, view) : null;
      const entries = point ? [...now, ...point] : now;
      const lines = entries.flatMap((entry) => [{ id: entry.name, entry, causes: false }, { id: `${entry.name}, causes`, entry, causes: true }]);
      keyed(rows, lines, (one) => one.id, (one) => (one.causes ? causesOf() : figuresOf()));
      const told = entries[point ? entries.length - 1 : 1];
      text(words, `${capital(told.name)}: ${told.words}`);
    },
  };
}

// figuresOf is the row of a colour.
function figuresOf() {
  return row(3, (cells, /** @type {{ entry: Sureness }} */ { entry }, name) => {
    text(name, capital(entry.name));
    text(cells[0], figure(entry.lab[0], 1));
    text(cells[1], `${figure(entry.L[0], 1)} to ${figure(entry.L[1], 1)}`);
    text(cells[2], figure(entry.dE, 1));
  });
}

// causesOf is the row under it: what moves it most.
function causesOf() {
  const words = h("td", { colspan: 4, class: "facts" });
  return {
    node: h("tr", { class: "causes" }, words),
    update: (/** @type {{ entry: Sureness }} */ { entry }) => text(words, entry.causes.slice(0, STRONGEST).map(causeWords).join(", ") || "nothing moves it"),
  };
}

/**
 * unknowns are the doubts, to be edited.
 * @param {Api} api
 * @returns {Block}
 */
function unknowns(api) {
  // A change starts from the doubts as they are now, which are asked for: what is shown
  // may be a frame old.
  const change = (/** @type {Partial<Unknowns>} */ part) => api.do({ do: "unknowns", unknowns: { ...api.view().unknowns, ...part } });
  const fields = kinds.map((kind) => ({
    kind, field: numberField({
      label: kind.label, unit: kind.unit, step: "any", ...range(api.view().ranges[`unknowns.${kind.id}`], kind.factor),
      commit: (value) => change({ [kind.id]: value / kind.factor }),
    }),
  }));
  const trio = (/** @type {boolean} */ rare) => h("div", { class: "trio" }, ...fields.filter(({ kind }) => Boolean(kind.rare) === rare).map(({ field }) => field.node));
  const levels = h("p", { class: "hint" });
  const usual = button("As assumed at first", () => api.do({ do: "unknowns" }), { class: "small" });
  return {
    node: h("div", { class: "spreads" }, trio(false), levels,
      h("details", { class: "more" }, h("summary", { text: "What else is not known, and why" }), trio(true),
        h("p", { class: "hint", text: "Each holds nine of ten cases; all vary at once, each by itself, in 400 drawn prints. Assumed, not measured, for hand coating, a lamp without an integrator and built-in spectra: give your own." })), usual),
    update(view) {
      for (const { kind, field } of fields) field.set(view.unknowns[kind.id] * kind.factor, kind.digits);
      for (const { kind, field } of fields) field.input.disabled = kind.id === "levels" && view.levelsSet;
      text(levels, view.levelsRest);
      show(usual, !view.usual);
    },
  };
}
