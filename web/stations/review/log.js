// The log that tells original from interpretation: what was measured, assumed and chosen, and by
// whom. The review sheet has the same.

/** @import { Api, Block } from "../../types/api.js" */

import { h, keyed, named, show, text } from "../../ui/dom.js";
import { fold } from "../../ui/controls.js";

/**
 * @typedef {{ about: string, says: string, by: string, own: boolean, signed: boolean }} Line of package origin
 * @typedef {{ heading: string, lines: Line[] | null }} Section
 */

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("div", { class: "log" });
  const none = h("p", { class: "hint", text: "Open three plates first." });
  const node = fold("Measured, assumed, chosen", false, none, list);
  const fill = () => {
    if (!node.open) return;
    /** @type {Section[]} */
    const sections = JSON.parse(window.threeply.origin()) ?? [];
    show(none, sections.length === 0);
    keyed(list, sections.filter(({ lines }) => lines), ({ heading }) => heading, section);
  };
  node.addEventListener("toggle", fill);
  return { node, update: fill };
}

/** @type {(made: Section) => { node: HTMLElement, update: (now: Section) => void }} */
function section({ heading }) {
  const lines = h("dl");
  return {
    node: h("section", {}, h("h4", { text: heading }), lines),
    update: (now) => keyed(lines, (now.lines ?? []).map((line, i) => ({ i, line })), ({ i }) => i, () => {
      const [about, says, by] = [h("dt"), h("dd"), h("dd", { class: "by" })];
      return {
        node: h("div", {}, about, says, by),
        update: ({ line }) => {
          text(about, line.about);
          named(says, line.says, line.own);
          named(by, line.by, line.signed);
        },
      };
    }),
  };
}
