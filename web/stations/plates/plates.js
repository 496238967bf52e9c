// The Plates station: what was opened, which plate is which, and what each is like.

/** @import { Api, Blocks, Block } from "../../types/api.js" */
/** @import { Model, Plate } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, keyed, named, show, text } from "../../ui/dom.js";
import { button, choice, fileButton, fold, heading, numberField, radios, range } from "../../ui/controls.js";
import { pick } from "../../ui/list.js";
import { capital, figure } from "../../ui/words.js";
import { audits } from "./audit.js";
import { build as fit } from "./fit.js";
import { build as gathered } from "./gathered.js";
import { build as kept } from "./kept.js";
import { build as neutrals } from "./neutrals.js";
import { thumb } from "./thumb.js";

const accept = ".tif,.tiff,.png,.jpg,.jpeg,image/tiff,image/png,image/jpeg";
const partOrders = [
  ["bgr", "blue, green, red"], ["brg", "blue, red, green"], ["gbr", "green, blue, red"],
  ["grb", "green, red, blue"], ["rbg", "red, blue, green"], ["rgb", "red, green, blue"],
].map(([id, name]) => ({ id, name }));
const encodings = ["linear", "sRGB", "gamma 2.2", "gamma 1.8"];
const polarities = [{ id: "negative", name: "negative" }, { id: "positive", name: "positive" }];

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const question = ask(api);
  const mixed = mixture(api);
  const layout = choice({ label: "The scans lie in", commit: (id) => api.desk({ do: "readAs", ...now.readAs, layout: id }) });
  const parts = choice({ label: "Exposures, top to bottom", commit: (order) => api.do({ do: "exposures", order }) });
  const list = h("div", { class: "cards" });
  const assumed = h("p", { class: "hint" });
  const sets = kept(api);
  const waiting = gathered(api);
  const audit = audits(api);
  const [fitness, greys] = [fit(), neutrals(api)];
  const found = h("div", { class: "found" }, fitness.node, ...greys.nodes);
  const each = fold("Each plate", false, list, assumed);
  let needed = false; // something is said of a plate, or asked
  /** @type {Model} */
  let now;

  return {
    nodes: [
      heading("Plates"),
      question.node, mixed.node,
      h("div", { class: "actions" },
        fileButton({ label: "Open scans …", accept, multiple: true, open: (files) => api.openFiles(files) }),
        button("Demonstration set", () => api.desk({ do: "demo" }), { class: "quiet" })),
      h("details", { class: "hint" }, h("summary", { text: "Or drop them anywhere" }),
        h("p", { text: "Three files, one tall file with three exposures, or one colour file. One plate or two are kept until the rest comes. TIFF, PNG or JPEG. They stay on this computer." })),
      waiting.node, layout.node, parts.node, found, each, sets.node,
    ],
    update(view) {
      now = view;
      question.update(view);
      mixed.update(view);
      sets.update(view);
      waiting.update(view);
      layout.set(view.layouts, view.layout);
      parts.set(partOrders, view.tallOrder);
      show(found, view.ready);
      show(each, view.plates.length > 0);
      const asks = view.ask || view.split || view.plates.some((plate) => plate.remarks.length > 0);
      if (asks && !needed) each.open = true;
      needed = asks;
      if (view.ready) {
        const { audit: seen, busy, why } = audit(view);
        fitness.update(seen, busy, why);
        greys.update(view, seen, busy);
      }
      show(parts.node, view.layout.startsWith("tall"));
      const usual = view.plates.filter((plate) => plate.assumed);
      show(assumed, usual.length > 0);
      if (usual.length > 0) {
        text(assumed, usual[0].polarity === "negative"
          ? "A film γ of 0.8 is assumed, not measured: the middle of the usual 0.7 to 0.9 (from memory). Give what a grey scale on the plate shows; it decides how steep the tones are."
          : "A film γ of 1 is assumed, not measured: a positive is taken as light.");
      }
      keyed(list, view.plates, (plate) => plate.filter, (plate) => card(api, plate.filter, () => now));
    },
  };
}

/**
 * sources names the scans, or the parts of one file, that a plate can be.
 * @param {Model} view
 */
function sources(view) {
  const one = new Set(view.plates.map((plate) => plate.file)).size < view.plates.length;
  return view.plates
    .map((plate) => ({ id: String(plate.source), name: one ? `${plate.file}, part ${plate.source + 1}` : plate.file }))
    .sort((a, b) => Number(a.id) - Number(b.id));
}

/**
 * readings are how a plate's codes can be read; the first, as its file says, is told in
 * words where it holds.
 * @param {Plate} plate
 */
function readings(plate) {
  const others = new Set([...encodings, plate.readAs]);
  others.delete("");
  return [{ id: "", name: plate.readAs ? "as the file says" : plate.encoding }, ...[...others].map((id) => ({ id, name: id }))];
}

/**
 * @param {Api} api
 * @returns {Block}
 */
function ask(api) {
  const places = h("div", { class: "asked" });
  const node = h("section", { class: "ask", "aria-label": "Which plate is which" },
    h("h3", { text: "Which plate is which?" }),
    h("p", { text: "The file names do not say. In negatives, red things are darkest in the red plate and blue sky in the blue plate; in positives they are lightest there." }),
    places,
    button("Keep them as they are", () => {
      const red = pick(api.view().plates, (plate) => plate.filter === "red");
      api.do({ do: "assign", filter: "red", source: red.source });
    }));
  return {
    node,
    update(view) {
      show(node, view.ask);
      if (!view.ask) return;
      const filters = view.plates.map((plate) => ({ id: plate.filter, name: plate.filter }));
      const scans = view.plates.toSorted((a, b) => a.source - b.source);
      keyed(places, scans, (plate) => plate.source, (first) => {
        const picture = thumb();
        const filter = choice({ label: `Filter of ${first.file}`, hideLabel: true, commit: (id) => api.do({ do: "assign", filter: id, source: first.source }) });
        const name = h("figcaption");
        return {
          node: h("figure", {}, picture.node, name, filter.node),
          update: (plate) => {
            picture.update(plate);
            named(name, plate.file);
            filter.set(filters, plate.filter);
          },
        };
      });
    },
  };
}

/**
 * mixture asks where some plates look like negatives and others like positives.
 * @param {Api} api
 * @returns {Block}
 */
function mixture(api) {
  const words = h("p");
  const node = h("section", { class: "ask", hidden: true, "aria-label": "Negatives and positives" },
    h("h3", { text: "Negatives and positives mixed?" }), words,
    button("Keep them as they are", () => {
      const { source, polarity } = api.view().plates[0];
      api.do({ do: "polarity", source, polarity });
    }));
  return {
    node,
    update(view) {
      show(node, view.split);
      if (!view.split) return;
      const of = (/** @type {string} */ polarity) => view.plates.filter((plate) => plate.polarity === polarity).map((plate) => plate.filter);
      const [negative, positive] = [of("negative"), of("positive")];
      const [verb, some] = negative.length > 1 ? ["plates look", "negatives"] : ["plate looks", "a negative"];
      text(words, `By their tones the ${negative.join(" and ")} ${verb} like ${some}, ${positive.join(" and ")} like ${positive.length > 1 ? "positives" : "a positive"}. Look at them, and set below what each is.`);
    },
  };
}

/**
 * @param {Api} api
 * @param {string} filter
 * @param {() => Model} view
 * @returns {Child<Plate>}
 */
function card(api, filter, view) {
  const picture = thumb();
  const title = h("h3");
  const printer = h("span", { class: "aside" });
  const source = choice({ label: `Scan of the ${filter} plate`, hideLabel: true, commit: (id) => api.do({ do: "assign", filter, source: Number(id) }) });
  const facts = h("p", { class: "facts" });
  const encoding = choice({ label: `What the codes of the ${filter} plate stand for`, hideLabel: true, commit: (id) => api.desk({ do: "readPlate", source: of(), encoding: id }) });
  const of = () => pick(api.view().plates, (plate) => plate.filter === filter).source;
  const polarity = radios({ legend: `Polarity of the ${filter} plate`, hideLegend: true, commit: (id) => api.do({ do: "polarity", source: of(), polarity: id }) });
  const looks = h("span", { class: "facts" });
  const density = (/** @type {"white" | "black"} */ end) => numberField({
    label: `${end}, D`, step: 0.01, ...range(api.view().ranges[`sources.film.${end}`]),
    commit: (value) => api.do({ do: "film", source: of(), ...(end === "white" ? { white: value } : { black: value }) }),
  });
  const [white, black] = [density("white"), density("black")];
  const gamma = numberField({ label: "film γ", step: 0.01, ...range(api.view().ranges["sources.film.gamma"]), commit: (value) => api.do({ do: "gamma", source: of(), value }) });
  const [baseFrom, base] = [h("dt"), h("dd")];
  const max = h("dd");
  const words = h("p", { class: "verdict" });
  const node = h("article", { class: "card" },
    h("header", {}, title, printer),
    h("div", { class: "plate" }, picture.node, h("div", {}, source.node, facts, encoding.node)),
    h("div", { class: "polarity" }, polarity.node, looks),
    h("div", { class: "figures" },
      h("dl", {}, h("div", {}, baseFrom, base), h("div", {}, h("dt", { text: "darkest" }), max))),
    h("div", { class: "film" }, white.node, black.node, gamma.node),
    words);
  return {
    node,
    update(plate) {
      text(title, `${plate.filter} filter`);
      text(printer, view().key === filter ? `${plate.printer} printer, the key` : `${plate.printer} printer`);
      picture.update(plate);
      source.set(sources(view()), plate.source);
      text(facts, [`${plate.w}\u00a0×\u00a0${plate.h}`, `${plate.bits}\u00a0bit`, plate.ppi ? `${figure(plate.ppi)}\u00a0ppi` : "no resolution"].join(", "));
      encoding.set(readings(plate), plate.readAs);
      polarity.set(polarities, plate.polarity);
      text(looks, plate.polarityWords);
      text(baseFrom, plate.fromRebate ? "base and fog, of the rebate" : "base and fog, of the picture");
      text(base, `D ${figure(plate.base, 2)}`);
      text(max, `D ${figure(plate.max, 2)}`);
      white.set(plate.white, 2);
      black.set(plate.black, 2);
      gamma.set(plate.gamma, 2);
      text(words, [plate.words, ...plate.remarks].filter(Boolean).map((w) => `${capital(w)}.`).join(" "));
    },
  };
}
