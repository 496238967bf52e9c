// What is known of the pigments of the table, shown wherever one is chosen.

/** @import { PigmentFacts } from "../../types/model.js" */

import { h, show, style, text } from "../../ui/dom.js";
import { capital } from "../../ui/words.js";

/** @type {PigmentFacts[] | null} */
let table = null;

/**
 * pigments is the table, read once.
 * @returns {PigmentFacts[]}
 */
export function pigments() {
  return (table ??= JSON.parse(window.threeply.pigments()));
}

// facts shows a pigment's era, lightfastness, the source of its spectrum and its hazards.
export function facts() {
  const chip = h("span", { class: "chip", "aria-hidden": "true" });
  const what = h("span");
  const when = h("p", { class: "facts" }, chip, what);
  const shown = h("p", { class: "facts" });
  const status = h("summary");
  const source = h("p", { class: "facts" });
  const spectrum = h("details", {}, status, source);
  const hazard = h("p", { class: "hazard" });
  const node = h("div", { class: "pigment-facts" }, when, shown, spectrum, hazard);
  return {
    node,
    update(/** @type {string} */ ci) {
      const known = pigments().find((pigment) => pigment.ci === ci);
      show(node, known !== undefined);
      if (!known) return;
      style(chip, "background-color", known.swatch);
      text(what, `${known.ci}, ${known.era}. Lightfastness: ${known.lightfastness}.`);
      text(shown, known.onShow);
      show(shown, known.onShow !== "");
      text(status, `Spectrum: ${known.status}`);
      text(source, `${capital(known.source)}.`);
      text(hazard, `Caution: ${caution(known.hazard)}`);
    },
  };
}

/**
 * caution writes a hazard so that it can follow a colon: with a small first letter,
 * unless its first word is all capitals. Where the hazard is more than low it adds whom
 * to follow.
 * @param {string} words
 */
function caution(words) {
  const begun = /^[A-Z]{2}/.test(words) ? words : words.charAt(0).toLowerCase() + words.slice(1);
  return words.startsWith("Low") ? begun : `${begun} Follow its safety data sheet and local rules.`;
}
