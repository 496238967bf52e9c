// The decision: which print, why, by whom, and what stays open.

/** @import { Api, Block } from "../../types/api.js" */

import { h, show, text } from "../../ui/dom.js";
import { button } from "../../ui/controls.js";
import { textArea, textField } from "../../ui/textfield.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const decide = (/** @type {object} */ what) => api.do({ do: "decide", ...what });
  const today = () => new Date().toLocaleDateString("sv"); // as 2006-01-02
  const choice = textArea({
    label: "Choice", rows: 2, maxlength: 1000, keeps: true,
    commit: (value, gesture) => decide({ gesture, choice: value, ...(value && !api.view().decision.date ? { date: today() } : {}) }),
  });
  const reason = textArea({ label: "Reason", maxlength: 4000, keeps: true, commit: (value, gesture) => decide({ reason: value, gesture }) });
  const by = textField({ label: "Who", maxlength: 200, keeps: true, commit: (value, gesture) => decide({ by: value, gesture }) });
  const date = textField({ label: "Date", maxlength: 200, keeps: true, commit: (value, gesture) => decide({ date: value, gesture }) });
  const questions = textArea({ label: "Open questions", rows: 2, maxlength: 4000, keeps: true, commit: (value, gesture) => decide({ questions: value, gesture }) });
  const seen = h("p", { class: "facts" });
  const again = button("Show that print", () => api.do({ do: "showDecided" }), { class: "small" });
  return {
    node: h("section", { class: "review-part", "aria-label": "Decision" }, h("h3", { text: "Decision" }),
      choice.node, seen, again, reason.node, h("div", { class: "pair" }, by.node, date.node), questions.node),
    update({ decision: d }) {
      choice.set(d.choice);
      reason.set(d.reason);
      by.set(d.by);
      date.set(d.date);
      questions.set(d.questions);
      text(seen, d.now || !d.seen ? "For the print shown now." : `For another print than the one shown: ${d.seen}`);
      show(seen, d.seen !== "");
      show(again, d.seen !== "" && !d.now);
    },
  };
}
