// Offsets on the print: what a slip, a turn or a stretch of one layer would do,
// before it happens.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Model, Offset, Row } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { button, fold, numberField, pressed, radios } from "../../ui/controls.js";
import { pick } from "../../ui/list.js";
import { capital, length, signed } from "../../ui/words.js";

const printers = ["cyan", "magenta", "yellow"];

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const bench = radios({ legend: "On the bench the layers are laid against", commit: (printer) => api.do({ do: "bench", printer }) });
  const grain = radios({ legend: "Grain of the paper", commit: (id) => api.do({ do: "grain", id }) });
  const list = h("div", { class: "cards" });
  /** @type {Model} */
  let now;
  const folded = fold("Offsets on the print", false,
    h("p", { class: "hint", text: "Apart from register: what happens on the bench." }),
    bench.node,
    h("p", { class: "hint", text: "Yellow on white is too faint to register by." }),
    grain.node, list,
    h("p", { class: "hint", text: "With the pointer set to nudge, arrow keys over the picture move the chosen layer by a tenth of a scan pixel, with Shift by a whole one." }));
  let selected = "";
  return {
    node: h("section", { class: "slips" }, folded),
    update(view) {
      now = view;
      if (view.selected && view.selected !== selected) folded.open = true; // it is being nudged
      selected = view.selected;
      bench.set([{ id: "cyan", name: "cyan" }, { id: "magenta", name: "magenta" }], view.register.bench);
      grain.set([{ id: "upright", name: "upright" }, { id: "level", name: "level" }], view.register.grain);
      keyed(list, view.register.rows, (row) => row.printer, (row) => layer(api, row.printer, () => now));
    },
  };
}

/**
 * layer is one layer's offset.
 * @param {Api} api
 * @param {string} printer
 * @param {() => Model} view
 * @returns {Child<Row>}
 */
function layer(api, printer, view) {
  const register = () => view().register;
  const row = (of = printer) => pick(register().rows, (r) => r.printer === of);
  const against = h("p", { class: "facts" });
  const choose = button("Nudge", () => api.do({ do: "select", printer: api.view().selected === printer ? "" : printer }), { class: "small", "aria-label": `Nudge the ${printer} layer with pointer and arrow keys` });
  const nudge = (/** @type {Partial<Offset>} */ change) => api.do({ do: "nudge", printer, ...change });
  /** @type {(label: string, unit: string, step: number, commit: (value: number) => void) => ReturnType<typeof numberField>} */
  const cell = (label, unit, step, commit) => numberField({ label: `${label} of the ${printer} layer, ${unit}`, hideLabel: true, unit, step, commit });
  const right = cell("To the right", "px", 0.1, (px) => nudge({ dxUm: px * register().pxUm }));
  const rightUm = cell("To the right", "µm", 10, (dxUm) => nudge({ dxUm }));
  const down = cell("Down", "px", 0.1, (px) => nudge({ dyUm: px * register().pxUm }));
  const downUm = cell("Down", "µm", 10, (dyUm) => nudge({ dyUm }));
  const turn = cell("Turn", "°", 0.01, (turnDeg) => nudge({ turnDeg }));
  const stretch = cell("Stretch", "%", 0.01, (stretchPct) => nudge({ stretchPct }));
  const across = cell("Stretch across the grain", "%", 0.1, (acrossPct) => nudge({ acrossPct }));
  const fields = [right, rightUm, down, downUm, turn, stretch, across];
  const lock = h("input", { type: "checkbox", change: () => api.do({ do: "lock", printer, on: lock.checked }) });
  const locked = h("p", { class: "hint", text: "Locked where it lies: unlock it to move it." });
  const reset = button("Back to 0", () => { if (!row().locked) api.do({ do: "resetOffset", printer }); }, { class: "small quiet", "aria-label": `${capital(printer)} layer back to 0` });
  const copies = printers.filter((other) => other !== printer).map((other) => ({
    other,
    node: button(`Copy to ${other}`, () => { if (!row(other).locked) api.do({ do: "copyOffset", printer: other, from: printer }); },
      { class: "small", "aria-label": `Copy the offset of the ${printer} layer to the ${other} layer` }),
  }));
  /** @type {(name: string, ...cells: { node: Node }[]) => HTMLElement} */
  const line = (name, ...cells) => h("div", { class: "offset" }, h("span", { text: name }), ...cells.map((f) => f.node));
  const summed = h("span");
  const details = h("details", { class: "offsets" },
    h("summary", {}, summed),
    locked,
    line("right", right, rightUm), line("down", down, downUm), line("turn, stretch", turn, stretch), line("across grain", across),
    h("div", { class: "actions" },
      h("label", { class: "tick" }, lock, h("span", { text: "Lock" })), ...copies.map((copy) => copy.node), reset));
  let selected = false;

  return {
    node: h("article", { class: "card", "data-printer": printer },
      h("header", {}, h("h4", { text: `${capital(printer)} layer` }), h("span", { class: "aside" }), choose),
      against, details),
    update(now) {
      const o = now.offset;
      right.set(o.dxPx, 2);
      down.set(o.dyPx, 2);
      rightUm.set(o.dxUm);
      downUm.set(o.dyUm);
      turn.set(o.turnDeg, 3);
      stretch.set(o.stretchPct, 3);
      across.set(o.acrossPct, 3);
      for (const field of fields) attr(field.input, "disabled", now.locked);
      const none = !(o.dxUm || o.dyUm || o.turnDeg || o.stretchPct || o.acrossPct);
      text(summed, `${now.locked ? "Locked, offset" : "Offset"} ${none ? "none" : words(o)}`);
      const a = now.against;
      text(against, now.bench ? "The others are laid against it."
        : a.worstUm < 0.5 ? `Lies on the ${register().bench} layer.`
          : `Against the ${register().bench} layer: ${length(Math.abs(a.dxUm))} ${a.dxUm < 0 ? "left" : "right"}, ${length(Math.abs(a.dyUm))} ${a.dyUm < 0 ? "up" : "down"} at the centre; worst ${length(a.worstUm)}, ${a.corner}.`);
      lock.checked = now.locked;
      attr(lock, "aria-label", `Lock the ${printer} layer`);
      show(locked, now.locked);
      attr(reset, "aria-disabled", none || now.locked ? "true" : null);
      for (const { other, node } of copies) attr(node, "aria-disabled", row(other).locked ? "true" : null);
      const chosen = view().selected === printer;
      pressed(choose, chosen);
      if (chosen && !selected) details.open = true;
      selected = chosen;
    },
  };
}

/** @param {Offset} o */
function words(o) {
  return [`${signed(o.dxUm)}, ${signed(o.dyUm)} µm`, o.turnDeg ? `${signed(o.turnDeg, 2)}°` : "",
    o.stretchPct ? `${signed(o.stretchPct, 2)} %` : "", o.acrossPct ? `${signed(o.acrossPct, 2)} % across` : ""].filter(Boolean).join(", ");
}
