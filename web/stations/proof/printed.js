// How the layers are printed from their plates: tuned or straight, the exposure of each
// layer, and what the wash and the coat make of it.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Model, OwnPrint } from "../../types/model.js" */

import { h, keyed, show, text } from "../../ui/dom.js";
import { button, numberField, radios, range } from "../../ui/controls.js";
import { slider } from "../../ui/slider.js";
import { columns, row } from "../../ui/table.js";
import { asker } from "../../print/ask.js";
import * as shape from "./shape.js";
import { capital, figure } from "../../ui/words.js";

const ways = [{ id: "tuned", name: "tuned" }, { id: "straight", name: "straight" }];
const anchors = [{ id: "grey", name: "a middle grey" }, { id: "black", name: "the black" }];
const meaning = {
  tuned: "Tuned: negatives are drawn so that greys print grey.",
  straight: "Straight: negatives as the plates are, or enlarged; one exposure a layer.",
};

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  // A change starts from the way as it is now, which is asked for: what is shown may be
  // a frame old.
  const change = (/** @type {{ straight?: boolean, range?: number, atDepth?: boolean }} */ part) => {
    const { straight, range, atDepth } = api.view().way;
    api.do({ do: "way", straight, range, atDepth, ...part });
  };
  const way = radios({ legend: "Negatives", commit: (id) => change({ straight: id === "straight" }) });
  const means = h("p", { class: "hint" });
  const ranges = api.view().ranges;
  const enlarged = numberField({
    label: "Enlarged to a density range of", step: 0.05, ...range(ranges["way.range"]), empty: 0, placeholder: "as they are",
    commit: (value) => change({ range: value }),
  });
  const own = h("p", { class: "facts" });
  const anchor = radios({ legend: "Exposed for", commit: (id) => change({ atDepth: id === "black" }) });
  const straight = h("div", { class: "straight" }, enlarged.node, own, anchor.node);

  const [least, most] = ranges["way.stops"];
  const layers = ["cyan", "magenta", "yellow"].map((printer) => ({
    printer, light: h("span", { class: "aside" }),
    field: slider({
      label: capital(printer), unit: "stops", min: -1, max: 1, step: 0.05, least, most, digits: 2,
      change: (stops, gesture) => api.do({ do: "expose", printer, stops, gesture }),
    }),
  }));
  const ratio = h("p", { class: "facts" });
  const trial = asker(api, () => api.compute("ways", window.threeply.small() ?? {}));
  const cost = h("p", { class: "facts" });
  const curves = shape.build(api);
  const drawn = h("tbody", { class: "drawn" });
  const curve = h("details", {}, h("summary", { text: "What curve for each layer?" }), curves.node,
    h("table", {}, columns("cyan", "magenta", "yellow"), drawn),
    h("p", { class: "facts", text: "Density of a tuned negative above its clearest place, by the L* of the grey that it prints. It holds for the tissues as they stand here: a printed wedge of your own makes it yours." }));
  const meant = button("All as meant", () => api.do({ do: "exposeAll", stops: 0 }), { class: "small" });

  const fates = h("tbody", { class: "fates" });
  const greys = h("p", { class: "facts" });
  const lost = h("div", {},
    h("table", {}, columns("washes off", "blocks"), fates),
    h("p", { class: "facts", text: "Shares of the picture, and from which tone of the scene on. The height from which a layer holds is set at its tissue." }));
  const look = (/** @type {string} */ id) => api.do({ do: "look", id });
  return {
    node: h("section", { class: "printed" }, way.node, means, cost, straight,
      h("h4", { text: "Exposure against the normal one" }), h("div", { class: "exposures" }, ...layers.map(({ field, light }) => h("div", {}, field.node, light))),
      h("div", { class: "actions" }, meant, button("What if all get 15 % more or less?", () => look("exposed"), { class: "small" })),
      h("details", {}, h("summary", { text: "Or a tissue two days old?" }), h("p", { class: "facts", text: "No figure is published. Fresh tissue prints harder, a day or two old softer (American Carbon Manual), and moist tissue goes on hardening in the dark, as if it had more light. Log the times, and print a wedge on the day." })),
      h("h4", { text: "What exposure ratio?" }), ratio, curve,
      h("h4", { text: "Which tones wash off or block, in which layer?" }), lost,
      h("div", { class: "actions" }, button("Show where", () => look("losses"), { class: "small" }), button("Straight beside tuned", () => look("ways"), { class: "small" })),
      h("h4", { text: "Is the black neutral?" }), greys),
    update(view) {
      way.set(ways, view.way.straight ? "straight" : "tuned");
      text(means, view.tuned || (view.way.straight ? meaning.straight : meaning.tuned));
      const tried = view.ready ? trial.want(view.pictureKey, view) : null;
      text(cost, tried ? tried.says : view.ready ? "Both are being measured." : "");
      show(cost, view.ready);
      curves.update(view);
      show(straight, view.way.straight && !view.tuned);
      enlarged.set(view.way.range || NaN, 2);
      text(own, rangeWords(view.prints));
      show(own, own.textContent !== "");
      anchor.set(anchors, view.way.atDepth ? "black" : "grey");
      for (const { printer, field, light } of layers) {
        const now = printOf(view, printer);
        field.set(now.stops);
        text(light, now.light);
        show(light, now.stops !== 0);
      }
      text(ratio, view.ratio || "Open three plates first.");
      show(curve, view.curve.length > 0);
      keyed(drawn, view.curve.map((one, i) => ({ ...one, i })), (one) => String(one.i), () => row(3, (cells, one, name) => {
        text(name, `L* ${figure(one.lightness)}`);
        one.density.toReversed().forEach((density, i) => text(cells[i], figure(density, 2)));
      }));
      show(meant, view.prints.some((one) => one.stops !== 0));
      const counted = layers.map(({ printer }) => printOf(view, printer)).filter((one) => one.lost !== "");
      show(lost, counted.length > 0);
      keyed(fates, counted, (one) => one.printer, () => row(2, (cells, one, name) => {
        text(name, one.printer);
        text(cells[0], one.lost);
        text(cells[1], one.blocked);
      }));
      text(greys, view.greys);
    },
  };
}

/** @type {(view: Model, printer: string) => OwnPrint} */
function printOf(view, printer) {
  return view.prints.find((one) => one.printer === printer) ?? view.prints[0];
}

/**
 * rangeWords says what density ranges the plates have as they are.
 * @param {OwnPrint[]} prints
 */
function rangeWords(prints) {
  if (prints.every((one) => one.range === 0)) return "";
  return `As they are: ${prints.toReversed().map((one) => `${one.printer} ${figure(one.range, 2)}`).join(", ")}.`;
}
