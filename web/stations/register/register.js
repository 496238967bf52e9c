// The Register station: how well the layers lie over one another, where each plate lies,
// the marks, and the offsets that the user adds.

/** @import { Api, Blocks } from "../../types/api.js" */

import { h, show, text } from "../../ui/dom.js";
import { button, choice, fold, heading } from "../../ui/controls.js";
import * as places from "./places.js";
import * as local from "./local.js";
import * as marks from "./marks.js";
import * as offsets from "./offsets.js";
import * as verdict from "./verdict.js";

const tails = " Tails: round cyan, three-cornered magenta, square yellow. Hollow: elsewhere than the rest of its plate. Faint: not certain. Two heads: cut short.";

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const judgement = verdict.build(api);
  const parts = [places.build(api), local.build(api), marks.build(api), offsets.build(api)];
  const [plates, shrunken, pinned, slips] = parts;
  const again = button("Register", () => api.desk({ do: "register" }));
  const key = choice({ label: "Key plate", commit: (filter) => api.do({ do: "key", filter }) });
  const proposal = h("p", { class: "hint" });
  let proposed = "";
  let offered = false; // a better key is proposed
  const take = button("", () => api.do({ do: "key", filter: proposed }), { class: "small" });
  const arrows = h("input", { type: "checkbox", change: () => api.do({ do: "left", hidden: !arrows.checked }) });
  const scale = h("p", { class: "hint" });
  const place = h("p", { class: "facts", role: "status" });
  const worst = button("Go to the worst place", () => api.do({ do: "worst" }), { class: "small", "aria-keyshortcuts": "w" });

  const keyPlate = fold("Key plate", false, h("div", { class: "pair" }, key.node, again), proposal, h("div", { class: "actions" }, take));

  return {
    nodes: [
      heading("Register"),
      judgement.node,
      h("section", { class: "key" }, keyPlate),
      plates.node,
      h("section", { class: "leftover" }, fold("What is left", false,
        h("label", { class: "tick" }, arrows, h("span", { text: "Show what is left" })),
        scale, h("div", { class: "actions" }, worst), place)),
      pinned.node,
      shrunken.node,
      slips.node,
    ],
    update(view) {
      judgement.update(view.register);
      key.set(view.plates.map((plate) => ({ id: plate.filter, name: `${plate.filter} plate` })), view.key);
      text(again, view.registered === "none" ? "Register" : "Register again");
      const said = view.register.proposal;
      text(proposal, said?.why ?? "");
      show(proposal, said !== null);
      proposed = said?.key ?? "";
      text(take, `Make the ${proposed} plate the key`);
      const better = proposed !== "" && proposed !== view.key;
      if (better && !offered) keyPlate.open = true; // there is something to decide
      offered = better;
      show(take, better);
      arrows.checked = view.left.shown;
      text(scale, view.left.words + (view.left.have ? tails : "") + (view.register.localUsed ? " Drawn with the local register where it is on." : ""));
      text(place, view.left.place);
      show(place, view.left.place !== "");
      text(worst, view.left.place ? "Go to the next worst place (key w)" : "Go to the worst place (key w)");
      show(worst, view.left.have);
      for (const part of parts) part.update(view);
    },
  };
}
