// The Tissues station: which three pigmented gelatine layers, in which order, on
// which paper, under which light.

/** @import { Api, Blocks } from "../../types/api.js" */

import { h, show, text } from "../../ui/dom.js";
import { choice, fold, heading } from "../../ui/controls.js";
import * as figures from "../../print/brief.js";
import { cautionList } from "../../print/cautions.js";
import * as held from "../../print/held.js";
import * as light from "../../print/light.js";
import * as palettes from "./palettes.js";
import * as paper from "./paper.js";
import { editor } from "./tissue.js";
import { fromPaper } from "../../print/layers.js";

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const editors = ["yellow", "magenta", "cyan"].map((printer) => ({ printer, ...editor(api, printer) }));
  const order = choice({ label: "From paper up", commit: (id) => api.do({ do: "order", order: id }) });
  const finish = choice({ label: "Surface", commit: (id) => api.do({ do: "finish", id }) });
  const finishNote = h("p", { class: "facts" });
  const parts = [palettes.build(api), paper.build(api), light.build(api), held.build(api)];
  const [list, papers, lit, holding] = parts;
  const computed = figures.brief(api);
  const toxic = h("p", { class: "toxic", role: "note" });
  const rests = h("p", { class: "hint" });
  const cautions = cautionList();
  let sought = 0; // how many times an editor had been opened when one was last scrolled to

  return {
    nodes: [
      heading("Tissues"),
      h("section", { class: "tissues" }, toxic, ...editors.map((each) => each.node)),
      list.node,
      fold("Order, paper, light", false, h("div", { class: "settings" }, order.node, papers.node, finish.node, finishNote, lit.node)),
      fold("Held prints", false, holding.node),
      fold("Figures", false, computed.node, rests),
      cautions.node,
    ],
    update(view) {
      text(toxic, view.workbench.toxic.join(" "));
      show(toxic, view.workbench.toxic.length > 0);
      for (const part of [computed, ...parts, ...editors]) part.update(view);
      order.set(view.orders.map((id) => ({ id, name: fromPaper(id).join(", ") })), view.order);
      finish.set(view.finishes, view.finish);
      text(finishNote, view.finishNote);
      text(rests, view.rests);
      cautions.update(view.cautions);
      if (view.editing.times === sought) return;
      sought = view.editing.times;
      requestAnimationFrame(() => editors.find((each) => each.printer === view.editing.printer)?.seek());
    },
  };
}
