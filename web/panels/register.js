// The Register station: how far each layer lies from where it should, what the
// eye sees of it, and the offsets that the user adds.

import { h, attr, keyed, show, svg, text } from "./dom.js";
import { button, choice, heading, numberField, pressed } from "./controls.js";
import { capital, figure, length, signed } from "./words.js";

const states = {
  auto: "Registered automatically.",
  none: "Not registered yet: the plates lie as scanned.",
};

export function build(api) {
  const sign = mark();
  const sentence = h("p", { class: "sentence", role: "status" });
  const largest = h("dd");
  const p95 = h("dd");
  const eye = h("dd");
  const state = h("p", { class: "hint" });
  const again = button("Register", () => api.do({ do: "register" }));
  const key = choice({ label: "Key plate", commit: (filter) => api.do({ do: "key", filter }) });
  const print = numberField({ label: "Print width", unit: "mm", step: 5, min: 10, max: 3000, commit: (widthMm) => api.do({ do: "print", widthMm }) });
  const viewing = numberField({ label: "Seen from", unit: "mm", step: 50, min: 100, max: 10000, commit: (mm) => api.do({ do: "viewing", mm }) });
  const tolerance = numberField({ label: "Own limit", unit: "µm", step: 10, min: 1, max: 5000, placeholder: "none", empty: 0, commit: (um) => api.do({ do: "tolerance", um }) });
  const pixel = h("p", { class: "hint" });
  const list = h("div", { class: "cards" });
  const arrows = h("input", { type: "checkbox", change: () => api.do({ do: "left", hidden: !arrows.checked }) });
  const scale = h("p", { class: "hint" });
  const place = h("p", { class: "facts", role: "status" });
  const worst = button("Go to the worst place", () => api.do({ do: "worst" }), { class: "small", "aria-keyshortcuts": "w" });
  let now = null;

  return {
    nodes: [
      heading("Register", "The three layers laid over one another."),
      h("div", { class: "judged" }, sign.node, sentence),
      h("dl", { class: "three" },
        h("div", {}, h("dt", { text: "largest" }), largest),
        h("div", {}, h("dt", { text: "95 % within" }), p95),
        h("div", {}, h("dt", { text: "the eye sees" }), eye)),
      h("p", { class: "hint", text: "Judged by the offsets and by the median of what register leaves; single places can lie further off." }),
      h("div", { class: "pair" }, print.node, viewing.node, tolerance.node),
      pixel,
      h("div", { class: "pair" }, key.node, again),
      state,
      h("label", { class: "tick" }, arrows, h("span", { text: "Show what is left" })),
      scale, place, worst, list,
      h("p", { class: "hint", text: "With the pointer set to nudge, arrow keys over the picture move the chosen layer by a tenth of a scan pixel, with Shift by a whole one." }),
    ],
    update(view) {
      now = view;
      const found = view.register;
      sign.update(found.sign);
      text(sentence, found.sentence);
      text(largest, length(found.largestUm));
      text(p95, length(found.p95Um));
      text(eye, length(found.eyeUm));
      print.set(found.printWidthMm, 1);
      viewing.set(found.viewingMm);
      tolerance.set(found.toleranceUm || NaN);
      text(pixel, `One scan pixel is ${length(found.pxUm)} on the print.`);
      key.set(view.plates.map((plate) => ({ id: plate.filter, name: `${plate.filter} plate` })), view.key);
      text(again, view.registered === "none" ? "Register" : "Register again");
      text(state, states[view.registered]);
      arrows.checked = view.left.shown;
      text(scale, view.left.words + (view.left.have ? " Tails: round cyan, three-cornered magenta, square yellow. Hollow: outvoted by the other places. Two heads: cut short." : ""));
      text(place, view.left.place);
      show(place, view.left.place !== "");
      text(worst, view.left.place ? "Go to the next worst place (key w)" : "Go to the worst place (key w)");
      show(worst, view.left.have);
      keyed(list, found.rows, (row) => row.printer, (row) => layer(api, row.printer, () => now));
    },
  };
}

// layer is one layer's row: what was found, what is left over, and its offset.
function layer(api, printer, view) {
  const row = () => view().register.rows.find((r) => r.printer === printer);
  const from = h("span", { class: "aside" });
  const found = h("p", { class: "facts" });
  const residual = h("p", { class: "facts" });
  const words = h("p", { class: "verdict" });
  const pick = button("Nudge", () => api.do({ do: "select", printer: view().selected === printer ? "" : printer }), { class: "small" });
  const reset = button("Back to 0", () => api.do({ do: "resetOffset", printer }), { class: "small quiet" });
  const nudge = (change) => {
    const { dxUm, dyUm, turnDeg, stretchPct } = row().offset;
    api.do({ do: "nudge", printer, dxUm, dyUm, turnDeg, stretchPct, ...change });
  };
  const cell = (label, unit, step, commit) => numberField({ label: `${label} of the ${printer} layer, ${unit}`, hideLabel: true, unit, step, commit });
  const right = cell("To the right", "px", 0.1, (px) => nudge({ dxUm: px * view().register.pxUm }));
  const rightUm = cell("To the right", "µm", 10, (dxUm) => nudge({ dxUm }));
  const down = cell("Down", "px", 0.1, (px) => nudge({ dyUm: px * view().register.pxUm }));
  const downUm = cell("Down", "µm", 10, (dyUm) => nudge({ dyUm }));
  const turn = cell("Turn", "°", 0.01, (turnDeg) => nudge({ turnDeg }));
  const stretch = cell("Stretch", "%", 0.01, (stretchPct) => nudge({ stretchPct }));
  const line = (name, ...fields) => h("div", { class: "offset" }, h("span", { text: name }), ...fields.map((f) => f.node));
  const fields = h("details", { class: "offsets" },
    h("summary", { text: "Offset on the print" }),
    line("right", right, rightUm), line("down", down, downUm), line("turn, stretch", turn, stretch),
    h("div", { class: "actions" }, reset));
  const offset = h("span");
  fields.firstChild.append(" ", offset);
  let selected = false;

  return {
    node: h("article", { class: "card" },
      h("header", {}, h("h3", { text: `${capital(printer)} layer` }), from, pick),
      found, residual, words, fields),
    update(now) {
      text(from, `${now.filter} plate${now.key ? ", key" : ""}`);
      const f = now.found;
      show(found, !now.key);
      text(found, `Found ${signed(f.dxPx, 1)}, ${signed(f.dyPx, 1)} px (${signed(f.dxUm)}, ${signed(f.dyUm)} µm), turn ${signed(f.turnDeg, 2)}°, stretch ${signed(f.stretchPct, 2)} %`);
      show(residual, !now.key);
      const left = now.residualPx;
      text(residual, `Left over: median ${figure(left.median, 2)}, 95 % within ${figure(left.p95, 2)}, largest ${figure(left.max, 2)} px. Confidence ${figure(now.confidence * 100)} %.`);
      text(words, capital(now.words));
      show(words, now.words !== "");
      const o = now.offset;
      right.set(o.dxPx, 2);
      down.set(o.dyPx, 2);
      rightUm.set(o.dxUm);
      downUm.set(o.dyUm);
      turn.set(o.turnDeg, 3);
      stretch.set(o.stretchPct, 3);
      const none = !(o.dxUm || o.dyUm || o.turnDeg || o.stretchPct);
      text(offset, none ? "none" : [`${signed(o.dxUm)}, ${signed(o.dyUm)} µm`,
        o.turnDeg ? `${signed(o.turnDeg, 2)}°` : "", o.stretchPct ? `${signed(o.stretchPct, 2)} %` : ""].filter(Boolean).join(", "));
      attr(reset, "aria-disabled", none ? "true" : null);
      const chosen = view().selected === printer;
      pressed(pick, chosen);
      attr(pick, "aria-label", `Nudge the ${printer} layer with pointer and arrow keys`);
      if (chosen && !selected) fields.open = true;
      selected = chosen;
    },
  };
}

// mark draws a register mark, and a second one beside it where the layers part.
function mark() {
  const shifts = { in: 0, near: 3, out: 9 };
  const cross = () => svg("g", {}, svg("circle", { cx: 20, cy: 20, r: 8 }), svg("path", { d: "M20 5V35M5 20H35" }));
  const still = cross();
  const moved = cross();
  const node = svg("svg", { class: "sign", viewBox: "0 0 48 44", width: 48, height: 44, "aria-hidden": "true" }, still, moved);
  return {
    node,
    update(sign) {
      attr(moved, "transform", `translate(${shifts[sign]} ${shifts[sign] / 2})`);
      attr(node, "data-sign", sign);
    },
  };
}
