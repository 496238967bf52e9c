// How sure the colours are: what is taken to vary, and what that does to the
// neutral scale and to the point that was read.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Cause, Figures, Sureness } from "../../types/figures.js" */
/** @import { Limits, Model } from "../../types/model.js" */

import { h, keyed, show, text } from "../../ui/dom.js";
import { button, numberField, range } from "../../ui/controls.js";
import { columns, row } from "../../ui/table.js";
import { capital, figure } from "../../ui/words.js";

/** @type {{ id: "load" | "thickness" | "haze", label: string }[]} */
const kinds = [
  { id: "load", label: "Load" },
  { id: "thickness", label: "Thickness" },
  { id: "haze", label: "Haze" },
];

const causeWords = (/** @type {Cause | undefined} */ cause) => (cause ? `${cause.layer} ${cause.what}`.trim() : "nothing moves it");

/** @param {Api} api */
export function build(api) {
  const rows = h("tbody");
  const spreads = limits(api);
  /** @type {Sureness | null} */
  let read = null; // how sure the colour at the point is that the user read
  let wanted = ""; // the recipe and the point for which that was last asked
  let asking = false;

  async function point(/** @type {Model} */ view) {
    const key = view.recipeKey + JSON.stringify(view.sample?.thickness);
    if (asking || key === wanted) return;
    wanted = key;
    if (view.sample === null) { read = null; return; }
    asking = true;
    try {
      read = await api.compute("sureness", { thickness: view.sample.thickness });
    } catch {
      read = null;
    }
    asking = false;
    api.refresh();
  }

  return {
    node: h("section", {}, h("h3", { text: "How sure" }),
      h("p", { class: "hint", text: "What a workshop leaves open: each is moved alone by as much as stands here, and the effects add as squares. Lighter and heavier have less and more of load and thickness in all layers. Assumed, not measured; give your own." }),
      spreads.node,
      h("table", { class: "sure" }, columns("L*", "lighter", "heavier", "± ΔE00"), rows),
      h("p", { class: "facts", text: "Under each colour stands what moves it most." }),
      h("div", { class: "actions" }, button("Show lighter, likely and heavier", () => api.do({ do: "look", id: "sure" })))),
    limits: spreads.update,
    update(/** @type {Model} */ view, /** @type {Figures} */ now) {
      point(view);
      const entries = read && view.sample ? [...now.sure, read] : now.sure;
      keyed(rows, entries, (entry) => entry.name, () => {
        const cause = h("span", { class: "facts" });
        const named = h("span");
        return row(4, (cells, entry, name) => {
          if (!name.firstChild) name.append(named, cause);
          text(named, capital(entry.name));
          text(cause, causeWords(entry.causes[0]));
          [entry.lab[0], entry.lighter[0], entry.heavier[0], entry.dE].forEach((value, i) => text(cells[i], figure(value, 1)));
        });
      });
    },
  };
}

/**
 * limits are the spreads, to be edited.
 * @param {Api} api
 * @returns {Block}
 */
function limits(api) {
  // A change starts from the spreads as they are now, which are asked for: what is shown
  // may be a frame old.
  const change = (/** @type {Partial<Limits>} */ part) => api.do({ do: "spread", spread: { ...api.view().spread, ...part } });
  const fields = kinds.map(({ id, label }) => ({
    id, field: numberField({ label: `${label} ±`, unit: "%", ...range(api.view().ranges[`spread.${id}`], 100), step: 1, commit: (value) => change({ [id]: value / 100 }) }),
  }));
  const finish = h("input", { type: "checkbox", change: () => change({ finish: finish.checked }) });
  const exposure = h("p", { class: "hint" });
  const usual = button("As assumed at first", () => api.do({ do: "spread", spread: api.view().spreadDefault }), { class: "small" });
  return {
    node: h("div", { class: "spreads" },
      h("div", { class: "trio" }, ...fields.map(({ field }) => field.node)),
      h("label", { class: "tick" }, finish, "the surface by one finish"), usual, exposure),
    update(view) {
      for (const { id, field } of fields) field.set(view.spread[id] * 100, 1);
      if (finish.checked !== view.spread.finish) finish.checked = view.spread.finish;
      text(exposure, `Of a full coat, ±${figure(100 * view.spread.thickness)} % is what ±${figure(view.spreadStops, 2)} stop of exposure makes behind a printing negative of density range 1.3, if the tissue keeps to its straight line.`);
      show(usual, JSON.stringify(view.spread) !== JSON.stringify(view.spreadDefault));
    },
  };
}
