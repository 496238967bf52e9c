// Whether the scans are fit: the answer, what to mend and to mind, and behind it all
// that was looked at.

/** @import { Audit, Finding } from "../../types/audit.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { capital } from "../../ui/words.js";

const signs = /** @type {Record<string, string>} */ ({ mend: "!", mind: "?", fine: "" });

export function build() {
  const answer = h("p", { class: "sentence" });
  const worst = h("ul", { class: "findings" });
  const rest = h("ul", { class: "findings" });
  const why = h("details", {}, h("summary", { text: "Why" }), rest);
  const node = h("section", { class: "fit", "aria-label": "Are the scans fit?" }, h("h3", { text: "Are the scans fit?" }), answer, worst, why);
  return {
    node,
    update(/** @type {Audit | null} */ audit, /** @type {boolean} */ busy, /** @type {string} */ wrong) {
      attr(node, "aria-busy", busy ? "true" : null);
      text(answer, audit ? audit.scans.answer : wrong ? `The scans could not be looked at: ${wrong}` : "The scans are being looked at.");
      const all = (audit?.scans.findings ?? []).map((one, i) => ({ ...one, i }));
      const first = all.filter((one) => one.weight === "mend");
      const shown = first.length > 0 ? first : all.filter((one) => one.weight === "mind").slice(0, 1);
      keyed(worst, shown, (one) => one.i, () => brief());
      keyed(rest, all, (one) => one.i, () => long());
      show(why, all.length > 0);
    },
  };
}

/** @returns {Child<Finding>} */
function brief() {
  const sign = h("b", { class: "sign" });
  const words = h("span");
  return {
    node: h("li", {}, sign, words),
    update(one) {
      text(sign, signs[one.weight] ?? "");
      text(words, `${capital(one.of)}: ${one.says}`); // what to do about it stands behind “Why”
    },
  };
}

/** @returns {Child<Finding>} */
function long() {
  const sign = h("b", { class: "sign" });
  const about = h("b");
  const words = h("span");
  return {
    node: h("li", {}, sign, h("span", {}, about, " ", words)),
    update(one) {
      text(sign, signs[one.weight] ?? "");
      text(about, `${capital(one.about)}, ${one.of}.`);
      text(words, `${capital(one.figure)}. ${one.says} ${one.do}`.trim());
    },
  };
}
