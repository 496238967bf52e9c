// The workshop's own tissues: the test sheet to print and measure, its readings, and what was
// found by them, which the user can take as a palette.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Cell, Curve, Errors, Shown } from "../../types/fit.js" */

import { h, show, svg } from "../../ui/dom.js";
import { button, choice, fileButton, fold, folded } from "../../ui/controls.js";
import { fill, tableField } from "../../ui/filled.js";
import { columns } from "../../ui/table.js";
import { capital, figure } from "../../ui/words.js";
import * as eye from "./eye.js";
import * as flatbed from "./flatbed.js";

const printers = /** @type {const} */ (["yellow", "magenta", "cyan"]);
const actions = (/** @type {Node[]} */ ...controls) => h("div", { class: "actions" }, ...controls);

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const statuses = ["A", "T", "E"].map((id) => ({ id, name: `status ${id}` }));
  const read = choice({ label: "Densities are", commit: fill(api, "readings.status") });
  const found = h("div", { class: "found", hidden: true });
  const still = h("p", { class: "hint", role: "status", hidden: true, text: "Nothing came of what you gave last: below is still what was found before." });

  // take fits the tissues to readings, and shows what they say.
  // A plan among the files is kept: later readings are of its sheet, too.
  async function take(/** @type {File[]} */ files) {
    const plan = await api.planAmong(files);
    if (plan !== null && (api.do({ do: "keepSheet", plan }).error || files.length === 1)) {
      unfold();
      return;
    }
    return say(api.fitReadings(files, api.view().filled["readings.status"]));
  }

  // Readings may be dropped on the page while it is folded, or another drawer is open; what cannot be
  // read leaves all as it is.
  function unfold() {
    api.do({ do: "station", id: "sheets" });
    whole.open = true;
  }

  async function say(/** @type {Promise<Shown | null>} */ fitted) {
    const shown = await fitted;
    show(still, !shown && !found.hidden);
    if (!shown) return;
    found.replaceChildren(...says(api, shown));
    show(found, true);
    unfold();
    found.scrollIntoView({ block: "nearest" });
  }
  api.onReadings(take);
  const pasted = tableField(api, "readings.pasted", { "aria-label": "Readings, as CGATS text or a table whose first row names its columns", placeholder: "SAMPLE_ID\tD_RED\tD_GREEN\tD_BLUE\nA1\t0.82\t0.75\t0.91\n…" });
  const seen = eye.build(api, take);
  // What is printed is kept as the sheet that readings are of: its palette may change meanwhile.
  const printed = (/** @type {Parameters<Api["saveTestSheet"]>[0]} */ what) => () => {
    if (!api.do({ do: "keepSheet", at: new Date().toISOString() }).error) api.saveTestSheet(what);
  };
  const which = choice({ label: "Readings are of test sheet", commit: (code) => api.do({ do: "readSheet", code }) });
  const forget = button("Take off the list", () => api.do({ do: "dropSheet", code: which.select.value }), { class: "quiet small" });
  const known = h("div", {}, which.node, h("p", { class: "hint", text: "Its four signs stand on the films." }), actions(forget));
  const scanned = flatbed.build(api, say);

  const sheet = h("div", { class: "sheet", "data-sheet": "measured" },
    h("p", { class: "large", text: "Print this test sheet once and measure it: the proof then rests on your tissues." }),
    actions(...printers.map((printer) => button(`Test sheet, ${printer}`, printed(printer), { class: "small" })),
      button("Its plan", printed("page"), { class: "small" }), button("A table to fill in", printed("table"), { class: "quiet small" }),
      button("Plan as JSON", printed("plan"), { class: "quiet small" })),
    known,
    read.node,
    actions(fileButton({ label: "Open readings or a plan …", accept: ".txt,.csv,.tsv,.cgats,.json,text/plain,text/csv", multiple: true, open: take })),
    folded("Paste", pasted.node, actions(button("Read", () => take([new File([pasted.node.value], "what was pasted")])))),
    scanned,
    seen.node,
    still, found,
    folded("Why", h("p", { class: "hint", text: "Wedges tell how each tissue answers to light, overprints how the tissues look on each other. Spectra (CGATS text) tell most; with Lab, XYZ or densities the shape of the spectra stays as assumed. Some overprints are held out of the fit: they test the result. The row on black may be left out, but only it tells what scatters." })));
  const whole = fold("Your own tissues", false, sheet);
  return {
    nodes: [whole],
    update(view) {
      read.set(statuses, view.filled["readings.status"]);
      which.set([{ id: "", name: "of the palette as it is now" }, ...view.testSheets.map((sheet) => ({ ...sheet, own: true }))], view.testSheet);
      show(known, view.testSheets.length > 0);
      show(forget, view.testSheet !== "");
      pasted.update(view);
      seen.update(view);
    },
  };
}

/**
 * says shows what a fit found.
 * @param {Api} api
 * @param {Shown} shown
 */
function says(api, shown) {
  const take = button("Use these tissues", () => {
    if (!api.do({ do: "takePalette", palette: shown.palette }).error) take.disabled = true;
  });
  const list = (/** @type {string[]} */ lines) => h("ul", { class: "mind" }, ...lines.map((line) => h("li", { text: line })));
  return [
    h("p", { class: "large", text: shown.sentence }),
    h("p", { class: "hint", text: `Read as test sheet ${shown.sheet}.` }),
    actions(take),
    ...(shown.cells.length ? [picture(shown),
      h("p", { class: "hint", text: "Left half measured, right half predicted, with their ΔE00. Ringed: held out." }),
      h("table", {}, columns("patches", "mean ΔE00", "95 of 100", "largest"), h("tbody", {}, line("held out", shown.heldOut), line("fitted", shown.fitted)))] : []),
    curves(shown.curves),
    ...(shown.ratio ? [h("p", { text: shown.ratio })] : []),
    ...(shown.drifted.length ? [h("h4", { text: "Drifted" }), list(shown.drifted)] : []),
    ...(shown.leftOut.length ? [h("h4", { text: "Left out" }), list(shown.leftOut)] : []),
    ...(shown.left.length ? [folded("What the readings do not tell: as assumed", list(shown.left))] : []),
    ...(shown.notes.length ? [folded("Notes", list(shown.notes))] : []),
  ];
}

/**
 * @param {string} name
 * @param {Errors} errors
 */
const line = (name, errors) => h("tr", {}, h("th", { scope: "row", text: name }),
  ...[String(errors.n), figure(errors.mean, 2), figure(errors.p95, 2), figure(errors.max, 2)].map((value) => h("td", { text: value })));

const SIDE = 30; // of a patch of the picture

/**
 * picture is the sheet, patch by patch.
 * @param {Shown} shown
 */
function picture({ rows, cols, cells }) {
  const worst = cells.reduce((a, b) => (b.de00 > a.de00 ? b : a), cells[0]);
  return svg("svg", {
    viewBox: `0 0 ${SIDE * cols} ${SIDE * rows}`, class: "patches", role: "img",
    "aria-label": `The test sheet, measured against predicted. Farthest off: ${worst.id}, ΔE00 ${figure(worst.de00, 1)}.`,
  }, ...cells.map(patch));
}

/** @param {Cell} cell */
function patch({ id, use, row, col, measured, predicted, de00 }) {
  const [x, y, side] = [SIDE * col + 1, SIDE * row + 1, SIDE - 2];
  const dark = lightness(predicted) < 0.5;
  return svg("g", {},
    svg("title", { text: `${id}: ΔE00 ${figure(de00, 2)}` }),
    svg("rect", { x, y, width: side / 2, height: side, fill: measured }),
    svg("rect", { x: x + side / 2, y, width: side / 2, height: side, fill: predicted }),
    ...(use === "held-out" ? [svg("circle", { cx: x + side / 2, cy: y + side / 2, r: side / 2 - 2, class: dark ? "ring light" : "ring" })] : []),
    svg("text", { x: x + side / 2, y: y + side / 2 + 3.5, "text-anchor": "middle", class: dark ? "light" : "", text: figure(de00, 1) }));
}

// lightness is about that of a colour #rrggbb, 0 to 1.
const lightness = (/** @type {string} */ hex) => [1, 3, 5].reduce((sum, i, k) => sum + [0.3, 0.6, 0.1][k] * parseInt(hex.slice(i, i + 2), 16) / 255, 0);

/**
 * curves draws what exposures leave of each layer.
 * @param {Curve[]} all
 */
function curves(all) {
  const [w, height, left, bottom] = [300, 150, 30, 22];
  const least = Math.min(...all.flatMap(({ steps }) => steps.map((step) => step.logE)));
  const x = (/** @type {number} */ logE) => left + (1 - logE / least) * (w - left - 6);
  const y = (/** @type {number} */ amount) => height - bottom - Math.min(amount, 1.1) / 1.1 * (height - bottom - 6);
  const node = svg("svg", { viewBox: `0 0 ${w} ${height}`, class: "curves", role: "img", "aria-label": "Amounts of the layers by log exposure against the base exposure" },
    svg("path", { class: "axes", d: `M${left} 4V${height - bottom}H${w - 4}M${left} ${y(1)}h-4` }),
    svg("text", { x: left - 6, y: y(1) + 4, "text-anchor": "end", text: "1" }),
    svg("text", { x: left, y: height - 6, "text-anchor": "start", text: figure(least, 1) }),
    svg("text", { x: w - 6, y: height - 6, "text-anchor": "end", text: "log exposure 0" }),
    ...all.map(({ printer, steps }, i) => svg("g", { class: `layer ${printer}` },
      svg("path", { d: steps.map((step, k) => `${k ? "L" : "M"}${x(step.logE).toFixed(1)} ${y(step.amount).toFixed(1)}`).join("") }),
      ...steps.map((step) => svg("circle", { cx: x(step.logE), cy: y(step.amount), r: 1.8 })),
      svg("path", { d: `M${left + 8} ${10 + 14 * i}h24` }),
      svg("text", { x: left + 38, y: 14 + 14 * i, text: capital(printer) }))));
  return node;
}
