// The editor of one tissue: its pigments by share, how much there is of them,
// how much they scatter, how thick it is coated.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Hardening, Share, Tissue } from "../../types/command.js" */
/** @import { Layer, Model, Palette, Pigment } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { byID, h, attr, keyed, show, style, text } from "../../ui/dom.js";
import { button, choice, numberField } from "../../ui/controls.js";
import { facts, pigments } from "./pigment.js";
import { slider } from "../../ui/slider.js";
import { add, rescale, same, takeAway } from "./mix.js";
import { wedge } from "./wedge.js";
import { chosenPalette, pigmentWords } from "../../print/layers.js";
import { fill } from "../../ui/filled.js";
import { pick } from "../../ui/list.js";
import { capital, figure } from "../../ui/words.js";

const most = 8; // pigments of a tissue

// The slider of the load runs from a quarter to four times in equal ratios.
const ratio = { steps: 120, least: 0.25, span: 16 };
const toLoad = (/** @type {number} */ place) => ratio.least * ratio.span ** (place / ratio.steps);
const toPlace = (/** @type {number} */ load) => Math.round(ratio.steps * Math.log(load / ratio.least) / Math.log(ratio.span));

/**
 * editor makes the tissue of one printer: a line that opens its editor. seek brings the
 * open editor into view.
 * @param {Api} api
 * @param {string} printer
 * @returns {Block & { seek: () => void }}
 */
export function editor(api, printer) {
  /** @type {Model} */
  let view;
  /** @type {Layer} */
  let now; // the tissue as it is shown
  /** @type {Share[] | null} */
  let before = null; // its pigments when a slider of a share was taken

  // A change starts from the tissue as it is now, which is asked for: what is shown may be
  // a frame old.
  const layer = (/** @type {Model} */ view) => layerOf(chosenPalette(view), printer);
  const held = () => plain(layer(api.view()));
  /** @type {(changed: Partial<Tissue>, gesture?: string) => void} */
  const change = (changed, gesture = "") => { api.do({ do: "tissue", printer, tissue: { ...held(), ...changed }, gesture }); };
  const end = () => { before = null; };

  const ends = (/** @type {string} */ part) => {
    const [least, most] = api.view().ranges[`own_palettes.${printer}.${part}`];
    return { least, most };
  };

  // ---- the line
  const chip = h("span", { class: "chip", "aria-hidden": "true" });
  const holds = h("span", { class: "facts" });
  const opener = h("button", {
    type: "button", class: "opener", "aria-controls": `tissue-${printer}`,
    click: () => api.do({ do: "edit", printer: view.editing.printer === printer ? "" : printer }),
  }, chip, h("span", { class: "named" }, h("span", { class: "name", text: capital(printer) }), holds));

  // ---- its pigments
  const mix = h("ul", { class: "mix" });
  /** @type {(pigment: Pigment) => Child<Pigment>} */
  const pigmentRow = ({ ci, name }) => {
    const known = facts();
    const share = slider({
      label: "Share", unit: "%", min: 1, max: 99, step: 1, least: 0.1, most: 99.9, digits: 1,
      change: (value, gesture) => change({ pigments: rescale(before ??= held().pigments, ci, value / 100) }, gesture),
      end,
    });
    const away = button("Take away", () => change({ pigments: takeAway(held().pigments, ci) }), { class: "small", "aria-label": `Take away ${name}` });
    const node = h("li", {}, h("header", {}, h("h4", { text: name }), away), share.node, known.node);
    return {
      node,
      update(pigment) {
        const alone = now.pigments.length === 1;
        share.set(100 * pigment.share);
        show(share.node, !alone);
        show(away, !alone);
        known.update(ci);
      },
    };
  };

  // ---- one more
  let offered = ""; // what is chosen there, or the first that can be
  const known = facts();
  const list = choice({ label: "Pigment", commit: fill(api, `pigment.${printer}`) });
  const adding = h("details", { class: "adding" }, h("summary", { text: "Add a pigment" }),
    list.node, known.node,
    button("Add it, a fifth of the mix", () => change({ pigments: add(held().pigments, offered, 0.2) })));

  // ---- how much
  const load = slider({
    label: "Load, coat held", unit: "×", min: 0, max: ratio.steps, step: 1, ...ends("load"), digits: 2, toValue: toLoad, toPlace,
    change: (value, gesture) => change({ load: value }, gesture),
  });
  const haze = slider({
    label: "Haze", unit: "×", min: 0, max: 4, step: 0.05, ...ends("haze"), digits: 2,
    change: (value, gesture) => change({ haze: value }, gesture),
  });
  const coat = slider({
    label: "Coat, mixture held", unit: "µm", min: 5, max: 100, step: 1, ...ends("coatMicron"), digits: 1,
    change: (value, gesture) => {
      const { load, coatMicron } = held();
      change({ coatMicron: value, load: load * value / coatMicron }, gesture);
    },
  });
  const mixture = h("p", { class: "facts" });

  // ---- how it hardens
  /** @type {(part: Partial<Hardening>) => void} */
  const harden = (part) => {
    const hardening = { ...held().hardening, ...part };
    change({ hardening: /** @type {Hardening} */ (Object.fromEntries(Object.entries(hardening).filter(([, value]) => value !== undefined && !Number.isNaN(value)))) });
  };
  const measured = (/** @type {"holdOnMicron" | "depthMicron" | "threshold"} */ part, /** @type {string} */ label, /** @type {string} */ unit) => {
    const { least, most } = ends(`hardening.${part}`);
    return numberField({ label, unit, min: least, max: most, step: "any", empty: NaN, commit: (value) => harden({ [part]: Number.isNaN(value) ? undefined : value }) });
  };
  const holdOn = measured("holdOnMicron", "Holds on from a height of", "µm");
  const depth = measured("depthMicron", "Light falls to 1/e in", "µm");
  const threshold = measured("threshold", "Least exposure that hardens", "");
  const hardens = h("p", { class: "hint" });
  const measuredWedge = wedge(api, printer);

  const tabled = button("Load and haze as in the table", () => change({ load: 1, haze: 1 }), { class: "small" });
  const from = choice({
    label: "Same as in",
    commit: (id) => {
      const palette = view.palettes.find((p) => p.id === id);
      if (palette) api.do({ do: "tissue", printer, tissue: plain(layerOf(palette, printer)), from: id });
    },
  });

  const body = h("div", { class: "edit", id: `tissue-${printer}` },
    from.node, mix, adding,
    h("div", { class: "amounts" }, load.node, haze.node, coat.node, mixture),
    h("p", { class: "hint", text: "Load is pigment in the whole coat, 1 as tabulated; haze its scattering alone, the least certain figure; the coat is the dry height of the layer. Coating thicker holds the mixture, so that the load goes along; the load alone changes the mixture." }),
    h("details", { class: "hardens" }, h("summary", { text: "How it hardens" }), holdOn.node, depth.node, threshold.node, hardens, measuredWedge.node),
    h("div", { class: "actions" }, tabled));
  const node = h("section", { class: "tissue", "data-tissue": printer }, h("h3", {}, opener), body);

  function update(/** @type {Model} */ fresh) {
    view = fresh;
    now = layer(view);
    const open = view.editing.printer === printer;
    style(chip, "background-color", now.swatch);
    text(holds, mixWords(now));
    attr(opener, "aria-expanded", String(open));
    show(body, open);
    if (!open) return;
    keyed(mix, now.pigments, (pigment) => pigment.ci, pigmentRow);
    const left = pigments().filter((pigment) => !now.pigments.some((p) => p.ci === pigment.ci));
    offered = (left.find((pigment) => pigment.ci === view.filled[`pigment.${printer}`]) ?? left[0]).ci;
    list.set(left.map((pigment) => ({ id: pigment.ci, name: `${pigment.name}, ${pigment.ci}` })), offered);
    known.update(offered);
    show(adding, now.pigments.length < most);
    load.set(now.load);
    haze.set(now.haze);
    coat.set(now.coatMicron);
    text(mixture, `Mixture ${figure(now.strength, 2)} × as tabulated.`);
    const { holdOnMicron, depthMicron, threshold: least } = now.hardening;
    holdOn.set(holdOnMicron ?? NaN, 2);
    attr(holdOn.input, "placeholder", figure(now.holdOn, 2));
    depth.set(depthMicron || NaN, 2);
    attr(depth.input, "placeholder", figure(now.depthOfLight, 1));
    threshold.set(least || NaN, 4);
    attr(threshold.input, "placeholder", "1");
    text(hardens, hardeningWords(now));
    measuredWedge.update(view, now.hardening.wedge);
    attr(tabled, "aria-disabled", now.load === 1 && now.haze === 1 ? "true" : null);
    const [chosen, others] = likenesses(view, printer, now);
    from.set(others, chosen);
  }

  return {
    node,
    update,
    seek() {
      const drawer = byID("drawer");
      const [box, seen] = [node, drawer].map((part) => part.getBoundingClientRect());
      const bar = parseFloat(getComputedStyle(drawer).scrollPaddingTop);
      if (box.top < seen.top + bar || box.bottom > seen.bottom) drawer.scrollBy({ top: box.top - seen.top - bar });
    },
  };
}

/**
 * hardeningWords says which figures of a tissue's hardening are assumed, and its range.
 * @param {Layer} layer
 */
function hardeningWords({ hardening, holdOn, hardeningRange }) {
  const words = [`From nothing to the whole coat it prints a density range of ${figure(hardeningRange, 2)}.`];
  if (hardening.holdOnMicron === undefined) words.push(`That ${figure(holdOn, 1)} µm hold on is common practice without a published figure: print a wedge to know.`);
  if (!hardening.depthMicron) words.push("The depth of the light is a prior from the pigment's own absorption at 380 to 400 nm.");
  if (hardening.wedge) words.push("Its measured wedge is used in place of the formula.");
  return words.join(" ");
}

/**
 * layerOf is a palette's layer of one printer.
 * @param {Palette} palette
 * @param {string} printer
 */
function layerOf(palette, printer) {
  return pick(palette.layers, (layer) => layer.printer === printer);
}

/**
 * likenesses lists the palettes whose tissue can be taken over, after the palette whose
 * tissue is the same as this one, "" where there is none.
 * @param {Model} view
 * @param {string} printer
 * @param {Layer} now
 * @returns {[string, { id: string, name: string }[]]}
 */
function likenesses(view, printer, now) {
  const others = view.palettes.filter((palette) => !(palette.own && palette.chosen));
  const like = others.find((palette) => palette.chosen) ?? others.find((palette) => same(layerOf(palette, printer), now));
  const list = others.map((palette) => ({ id: palette.id, name: `${palette.name}: ${words(layerOf(palette, printer))}` }));
  return [like?.id ?? "", like ? list : [{ id: "", name: "no other palette" }, ...list]];
}

/**
 * mixWords says which pigments a tissue holds: "Gamboge 70 % + …".
 * @param {Layer} layer
 */
const mixWords = (layer) => (layer.pigments.length === 1 ? pigmentWords(layer) : layer.pigments.map((p) => `${p.name} ${figure(100 * p.share)}\u00a0%`).join(" + "));

/**
 * words says how much of them too: "Gamboge 70 % + …, load 1.2".
 * @param {Layer} layer
 */
function words(layer) {
  const more = Object.entries({ load: layer.load, haze: layer.haze }).filter(([, value]) => value !== 1).map(([name, value]) => `${name} ${figure(value, 2)}`);
  return [mixWords(layer), ...more].join(", ");
}

/**
 * plain is a layer's tissue in the form of a session.
 * @param {Layer} layer
 * @returns {Tissue}
 */
function plain(layer) {
  return {
    pigments: layer.pigments.map(({ ci, share }) => ({ ci, share })),
    load: layer.load, haze: layer.haze, coatMicron: layer.coatMicron, hardening: layer.hardening,
  };
}
