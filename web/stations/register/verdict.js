// The two verdicts: how the scans lie, and how the layers are laid on the print. Each has
// a sentence and the figures that decide it; all others are one click away.

/** @import { Api } from "../../types/api.js" */
/** @import { Register, Row } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, svg, text } from "../../ui/dom.js";
import { button, numberField, range } from "../../ui/controls.js";
import { capital, figure, length } from "../../ui/words.js";

const counted = ["no", "one", "two", "three", "four"];

/** @param {Api} api */
export function build(api) {
  const sign = mark();
  const word = h("strong");
  const sentence = h("p", { class: "sentence" });
  const next = h("p", { class: "hint" });
  const p95 = h("dd");
  const largest = h("dd");
  const stars = h("p", { class: "facts" });
  const onBench = h("p", { class: "sentence" });
  const ranges = api.view().ranges;
  const print = numberField({ label: "Print width", unit: "mm", step: 5, ...range(ranges.print_width_mm), commit: (widthMm) => api.do({ do: "print", widthMm }) });
  const viewing = numberField({ label: "Seen from", unit: "mm", step: 50, ...range(ranges.viewing_mm), commit: (mm) => api.do({ do: "viewing", mm }) });
  const tolerance = numberField({ label: "Own limit", unit: "µm", step: 10, ...range(ranges.tolerance_um), placeholder: "none", empty: 0, commit: (um) => api.do({ do: "tolerance", um }) });
  const pixel = h("p", { class: "hint" });
  const rows = h("tbody");
  const set = h("tbody");
  /** @type {Register} */
  let now;

  const node = h("section", { class: "judgement" },
    h("h3", { text: "The scans" }),
    h("div", { class: "judged", role: "status" }, h("div", { class: "signed" }, sign.node, word), sentence),
    next,
    h("h3", { text: "On the print" }),
    h("div", { role: "status" }, onBench),
    h("details", { class: "figured" },
      h("summary", { text: "All figures" }),
      h("div", { class: "within" },
        h("div", { class: "pair" }, print.node, viewing.node, tolerance.node),
        h("dl", { class: "three" },
          h("div", {}, h("dt", { text: "95 % within" }), p95),
          h("div", {}, h("dt", { text: "largest" }), largest)),
        h("details", {}, h("summary", { text: "Why" }), stars, pixel),
        h("table", { class: "rests" },
          h("caption", { text: "Left at single places" }),
          h("thead", {}, h("tr", {}, ...["plate", "median", "95 %", "largest"].map((name) => h("th", { scope: "col", text: name })))),
          rows),
        h("table", { class: "rests" },
          h("caption", { text: "The print" }),
          set),
        h("div", { class: "actions" }, button("Save the figures as CSV", () => api.saveVerdict(), { class: "small" })))),
    h("div", { class: "actions" }, button("Report on register", api.saveReport, { class: "small", title: "A page to sign: verdict, map, worst places, matrices" })));

  return {
    node,
    update(/** @type {Register} */ verdict) {
      now = verdict;
      sign.update(verdict.sign);
      text(word, capital(verdict.signWords));
      text(sentence, verdict.sentence);
      text(next, verdict.next);
      show(next, verdict.next !== "");
      const px = (/** @type {number} */ value) => !verdict.measured ? "not known"
        : `${figure(value, 2)} px${verdict.plateUm ? `\n${length(value * verdict.plateUm)}` : ""}`;
      text(p95, px(verdict.p95Px));
      text(largest, px(verdict.largestPx));
      text(stars, `${capital(counted[verdict.stars])} of four stars (${verdict.guideline}: four below 0.33 px, three below 0.50, two below 0.80).`);
      show(stars, verdict.stars > 0);
      text(onBench, verdict.onBench.sentence);
      print.set(verdict.printWidthMm, 1);
      viewing.set(verdict.viewingMm);
      tolerance.set(verdict.toleranceUm || NaN);
      text(pixel, `One scan pixel is ${length(verdict.pxUm)} on the print; the eye sees ${length(verdict.eyeUm)}.`);
      keyed(rows, verdict.rows, (row) => row.filter, () => plateRow(() => now.pxUm));
      const facts = [
        ["by the offsets", length(verdict.onBench.largestUm)],
        [`the eye, one arc minute at ${figure(verdict.viewingMm)} mm`, length(verdict.eyeUm)],
        ["to compare with, an offset press", length(verdict.pressUm)],
        ["own limit", verdict.toleranceUm ? length(verdict.toleranceUm) : "none"],
      ];
      keyed(set, facts, ([name]) => name.slice(0, 7), fact);
    },
  };
}

/**
 * @param {() => number} pxUm
 * @returns {Child<Row>}
 */
function plateRow(pxUm) {
  const name = h("th", { scope: "row" });
  const cells = [0, 1, 2].map(() => h("td"));
  return {
    node: h("tr", {}, name, ...cells),
    update(row) {
      text(name, row.filter + (row.key ? ", key" : ""));
      const left = row.left;
      const px = (/** @type {number} */ value) => (left.known ? `${figure(value, 2)} px\n${length(value * pxUm())}` : "–");
      [px(left.median), px(left.p95), px(left.max)].forEach((words, i) => text(cells[i], words));
    },
  };
}

/** @returns {Child<string[]>} */
function fact() {
  const name = h("th", { scope: "row" });
  const value = h("td");
  return {
    node: h("tr", {}, name, value),
    update([words, figures]) {
      text(name, words);
      text(value, figures);
    },
  };
}

// mark draws a register mark and a second one over it, shifted as far as the layers lie
// apart, and dashed where that is not known.
function mark() {
  /** @type {Record<string, number>} */
  const shifts = { in: 0, out: 9, unsure: 9 };
  const cross = () => svg("g", {}, svg("circle", { cx: 20, cy: 20, r: 8 }), svg("path", { d: "M20 5V35M5 20H35" }));
  const still = cross();
  const moved = cross();
  const node = svg("svg", { class: "sign", viewBox: "0 0 48 44", width: 48, height: 44, "aria-hidden": "true" }, still, moved);
  return {
    node,
    update(/** @type {string} */ sign) {
      attr(moved, "transform", `translate(${shifts[sign]} ${shifts[sign] / 2})`);
      attr(moved, "stroke-dasharray", sign === "unsure" ? "3 3" : null);
      attr(node, "data-sign", sign);
    },
  };
}
