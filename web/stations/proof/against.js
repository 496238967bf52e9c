// How near the print comes to the reference over the whole picture, unmasked and masked, and
// beside it the prints that it is compared with.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Measured } from "../../types/figures.js" */
/** @import { Model } from "../../types/model.js" */

import { attr, h, keyed, named, show, text } from "../../ui/dom.js";
import { asker } from "../../print/ask.js";
import { button, radios } from "../../ui/controls.js";
import { columns, row } from "../../ui/table.js";
import { figure } from "../../ui/words.js";

const choices = [{ id: "unmasked", name: "unmasked" }, { id: "masked", name: "masked" }];

// The order of the printers in the masks, and the plates that make them.
const printers = ["yellow", "magenta", "cyan"];
const plates = ["blue", "green", "red"];

// measures are the lines of the table; write writes one for a print.
/** @type {{ id: string, name: string, write: (m: Measured) => string }[]} */
const measures = [
  { id: "beyond", name: "picture that cannot be printed", write: (m) => `${figure(100 * m.beyond, 1)} %` },
  { id: "mean", name: "mean ΔE00", write: (m) => figure(m.mean, 1) },
  { id: "p95", name: "95 % keep within ΔE00", write: (m) => figure(m.p95, 1) },
  { id: "below", name: "scene darker than the black", write: (m) => `${figure(100 * m.below, 1)} %` },
];

const meaning = {
  unmasked: "Unmasked: each plate prints its own layer alone, as one prints by hand.",
  masked: "Masked: photographic masks take a share of the difference of two plates off a printer, found by least squares in tones of the print’s grey scale (Yule, Principles of Color Reproduction, 1967). Neutrals print as they did.",
};

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const both = asker(api, () => api.compute("masks", window.threeply.small() ?? {}));
  const choose = radios({ legend: "Masks", commit: (id) => api.do({ do: "masked", on: id === "masked" }) });
  const means = h("p", { class: "hint" });
  const [measured, shares] = [h("tbody"), h("tbody")];
  const wait = h("p", { class: "hint", role: "status" });
  const words = h("p", { class: "facts" });
  const masks = h("details", { class: "masks" }, h("summary", { text: "The masks: what each printer takes of each plate" }),
    h("table", {}, columns(...plates.map((plate) => `${plate} plate`)), shares),
    h("p", { class: "facts", text: "In per cent of the plate’s tone; each row adds up to 100, so that greys stay as they are. Below nothing, the plate takes off." }));
  const figures = h("div", { class: "both", hidden: true },
    h("table", {}, columns("unmasked", "masked"), measured), words, masks);
  const others = compared(api);
  const look = (/** @type {string} */ id) => api.do({ do: "look", id });
  return {
    node: h("section", { class: "against" }, choose.node, means, wait, figures, others.node,
      h("div", { class: "actions" },
        button("Show where it differs", () => look("difference"), { class: "small" }),
        button("Show what cannot be printed", () => look("reach"), { class: "small" }))),
    update(view) {
      choose.set(choices, view.masked ? "masked" : "unmasked");
      text(means, view.masked ? meaning.masked : meaning.unmasked);
      const now = view.ready ? both.want(view.pictureKey, view) : null;
      const why = both.why(view.pictureKey);
      text(wait, now ? "" : !view.ready ? "Open three plates first." : why ? `The picture could not be measured: ${why}` : "The picture is being measured, unmasked and masked.");
      show(wait, !now);
      show(figures, measured.firstChild !== null || now !== null);
      attr(figures, "aria-busy", now ? null : "true");
      others.update(view, now && (view.masked && now.masked ? now.masked : now.unmasked));
      if (!now) return;
      const printed = [now.unmasked, now.masked];
      const lines = measures.map((line) => ({ ...line, values: printed.map((m) => (m ? line.write(m) : "–")), taken: view.masked ? 1 : 0 }));
      keyed(measured, lines, (line) => line.id, () => row(2, (cells, line, name) => {
        text(name, line.name);
        cells.forEach((cell, i) => {
          text(cell, line.values[i]);
          attr(cell, "class", i === line.taken ? "taken" : null);
        });
      }));
      text(words, now.note ? `${now.note.charAt(0).toUpperCase()}${now.note.slice(1)}.`
        : "Cannot be printed: what no mixture of these tissues gives on this paper, by more than ΔE00 1, its scale from white to black brought to that from paper to depth; it is the same for both.");
      const matrix = now.masks;
      show(masks, matrix !== null);
      if (!matrix) return;
      const rows = printers.map((printer, i) => ({ printer, shares: matrix.slice(3 * i, 3 * i + 3) }));
      keyed(shares, rows, (entry) => entry.printer, () => row(3, (cells, entry, name) => {
        text(name, entry.printer);
        entry.shares.forEach((share, i) => text(cells[i], figure(100 * share)));
      }));
    },
  };
}

const sides = /** @type {const} */ (["left", "right"]);

/**
 * compared is the same of the prints at the left and at the right, where one stands there that
 * is not the one that is worked on.
 * @param {Api} api
 */
function compared(api) {
  const [left, right] = sides.map((which) => asker(api, () => api.compute("masks", { ...window.threeply.small(), session: window.threeply.printText(which) })));
  const asked = { left, right };
  const heads = h("tr");
  const lines = h("tbody");
  const node = h("div", { class: "compared", hidden: true }, h("h3", { text: "The prints that are compared" }), h("table", {}, h("thead", {}, heads), lines));
  return {
    node,
    update(/** @type {Model} */ view, /** @type {Measured | null} */ own) {
      const prints = view.ready ? sides.flatMap((which) => {
        const other = view.compared.find((print) => print.which === which);
        if (!other) return (which === "left" ? view.atLeft : view.atRight) === "print" ? [{ which, name: "Likely print", typed: false, measured: own, why: "" }] : [];
        const got = asked[which].want(other.key, view);
        return [{ which, name: other.name, typed: (which === "left" ? view.atLeft : view.atRight).startsWith("held-"), measured: got && (other.masked && got.masked ? got.masked : got.unmasked), why: asked[which].why(other.key) }];
      }) : [];
      show(node, view.compared.length > 0 && prints.length > 0);
      attr(node, "aria-busy", prints.some(({ measured, why }) => !measured && !why) ? "true" : null);
      keyed(heads, [{ which: "", name: "", typed: false }, ...prints], ({ which }) => which, ({ which }) => {
        const cell = which === "" ? h("td") : h("th", { scope: "col" });
        return { node: cell, update: ({ name, typed }) => named(cell, name, typed) };
      });
      const rows = measures.map(({ id, name, write }) => ({
        id, name, cells: prints.map(({ which, measured, why }) => ({ which, says: measured ? write(measured) : "–", why })),
      }));
      keyed(lines, rows, (line) => line.id, () => {
        const name = h("th", { scope: "row" });
        const line = h("tr");
        return {
          node: line,
          update: (now) => {
            text(name, now.name);
            keyed(line, [{ which: "", says: "", why: "" }, ...now.cells], ({ which }) => which, ({ which }) => {
              if (which === "") return { node: name, update() {} };
              const cell = h("td");
              return {
                node: cell,
                update: ({ says, why }) => {
                  text(cell, says);
                  attr(cell, "title", why || null);
                },
              };
            });
          },
        };
      });
    },
  };
}
