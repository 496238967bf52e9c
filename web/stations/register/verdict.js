// The verdict on register: a sign, a sentence, the limits that decide it, and all figures
// one click away.

/** @import { Api } from "../../types/api.js" */
/** @import { Register, Row } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, svg, text } from "../../ui/dom.js";
import { button, numberField, range } from "../../ui/controls.js";
import { capital, figure, length } from "../../ui/words.js";

const counted = ["no", "one", "two", "three", "four"];

/** @param {Api} api */
export function build(api) {
  const sign = mark();
  const word = h("strong");
  const sentence = h("p", { class: "sentence" });
  const largest = h("dd");
  const p95 = h("dd");
  const eye = h("dd");
  const stars = h("p", { class: "facts" });
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
    h("div", { class: "judged", role: "status" }, h("div", { class: "signed" }, sign.node, word), sentence),
    h("dl", { class: "three" },
      h("div", {}, h("dt", { text: "typically" }), largest),
      h("div", {}, h("dt", { text: "95 % of places" }), p95),
      h("div", {}, h("dt", { text: "the eye sees" }), eye)),
    stars,
    h("div", { class: "pair" }, print.node, viewing.node, tolerance.node),
    pixel,
    h("details", { class: "figured" },
      h("summary", { text: "All figures" }),
      h("div", { class: "within" },
        h("table", { class: "rests" },
          h("caption", { text: "What register leaves, in pixels of the scan and on the print" }),
          h("thead", {}, h("tr", {}, ...["plate", "median", "95 %", "largest", "stars"].map((name) => h("th", { scope: "col", text: name })))),
          rows),
        h("table", { class: "rests" },
          h("caption", { text: "The set, on the print" }),
          set),
        h("p", { class: "hint", text: "Judged by the offsets and by the median of what register leaves, added as independent errors; single places can lie further off. By marks it is the root mean square over those beyond the three that the map uses up; three and fewer are held against what register measured, where both agree to a pixel." }),
        h("div", { class: "actions" }, button("Save the figures as CSV", () => api.saveVerdict(), { class: "small" })))));

  return {
    node,
    update(/** @type {Register} */ verdict) {
      sign.update(verdict.sign);
      text(word, capital(verdict.signWords));
      text(sentence, verdict.sentence);
      const known = verdict.judged;
      text(largest, known ? length(verdict.largestUm) : "not known");
      text(p95, known ? length(verdict.placesP95Um) : "not known");
      text(eye, length(verdict.eyeUm));
      print.set(verdict.printWidthMm, 1);
      viewing.set(verdict.viewingMm);
      tolerance.set(verdict.toleranceUm || NaN);
      now = verdict;
      text(stars, known && !verdict.stars ? "As a scan of three channels: no stars while a part of a plate lies elsewhere." : known
        ? `As a scan of three channels: ${counted[verdict.stars]} of four stars, ${figure(verdict.apartPx, 2)} px between the plates (${verdict.guideline}: four below 0.33 px, three below 0.50, two below 0.80).`
        : "As a scan of three channels: not to be judged before it is in register.");
      text(pixel, `One scan pixel is ${length(verdict.pxUm)} on the print.`);
      keyed(rows, verdict.rows, (row) => row.filter, () => plateRow(() => now.pxUm));
      const facts = [
        ["typically, over the picture", known ? length(verdict.largestUm) : "not known"],
        ["95 % of the single places within", known ? length(verdict.placesP95Um) : "not known"],
        ["largest of the single places", known ? length(verdict.placesMaxUm) : "not known"],
        ["by the offsets alone", length(verdict.movedUm)],
        ["between the plates, median", known ? `${figure(verdict.apartPx, 2)} px, ${length(verdict.apartPx * verdict.pxUm)}` : "not known"],
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
  const cells = [0, 1, 2, 3].map(() => h("td"));
  return {
    node: h("tr", {}, name, ...cells),
    update(row) {
      text(name, row.filter + (row.key ? ", key" : ""));
      const left = row.left;
      const px = (/** @type {number} */ value) => (left.known ? `${figure(value, 2)} px\n${length(value * pxUm())}` : "–");
      [px(left.median), px(left.p95), px(left.max), left.known ? counted[left.stars] : "–"].forEach((words, i) => text(cells[i], words));
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
  const shifts = { in: 0, near: 3, out: 9, unsure: 9 };
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
