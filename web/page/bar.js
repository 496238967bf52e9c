// The bar under the pictures: ways to look, what the pointer does, the
// enlargement, and the colours at the point that was read.

/** @import { Api, Blocks } from "../types/api.js" */
/** @import { Sample } from "../types/model.js" */

import { attr, h, show, style, text } from "../ui/dom.js";
import { button, choice, radios } from "../ui/controls.js";
import { figure } from "../ui/words.js";

const tools = [
  { id: "pan", name: "move" },
  { id: "nudge", name: "nudge" },
  { id: "sample", name: "read colour" },
  { id: "line", name: "lay the cut" },
];

// Where greys of the scene are worked at, the pointer points at them too.
const greyTools = [...tools, { id: "grey", name: "point at greys" }, { id: "scale", name: "draw along a scale" }];

// At the three plates side by side the pointer moves them or pins.
const plateTools = [{ id: "pin", name: "pin marks" }, { id: "pan", name: "move" }];

const printers = ["cyan", "magenta", "yellow"].map((id) => ({ id, name: id }));

// Two layers, or their plates, that are compared, by their numbers in the program:
// 0 yellow (blue plate), 1 magenta (green), 2 cyan (red).
const layerPairs = [
  { id: "1,2", name: "magenta and cyan" },
  { id: "0,2", name: "yellow and cyan" },
  { id: "0,1", name: "yellow and magenta" },
];
const platePairs = [
  { id: "1,2", name: "green and red" },
  { id: "0,2", name: "blue and red" },
  { id: "0,1", name: "blue and green" },
];
const plates = [{ id: "2", name: "red" }, { id: "1", name: "green" }, { id: "0", name: "blue" }];

// How many pixels of the screen the loupe gives one of the scan.
const enlargements = [2, 4, 8, 16].map((id) => ({ id, name: `${id} ×` }));

const pairChoice = (/** @type {Api} */ api, /** @type {string} */ label, /** @type {"plates" | "edges"} */ command) => choice({
  label, hideLabel: true,
  commit: (id) => {
    const [first, second] = id.split(",").map(Number);
    api.do({ do: command, first, second });
  },
});

const tick = (/** @type {string} */ words, /** @type {string} */ title, /** @type {(on: boolean) => void} */ change) => {
  const box = h("input", { type: "checkbox", change: () => change(box.checked) });
  return { box, node: h("label", { class: "tick", title }, box, words) };
};

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  // A pointer that nudges needs a layer: cyan, which is the easiest to see.
  function take(/** @type {string} */ id) {
    if (id === "nudge" && !api.view().selected) api.do({ do: "select", printer: "cyan" });
    api.do({ do: "tool", id });
  }

  const ofPrint = radios({ legend: "The print", commit: (id) => api.do({ do: "look", id }) });
  // Looks that are chosen from a list, which says what it offers until one of them is.
  const lists = [{ of: "marked", offer: "mark …" }, { of: "pairs", offer: "what if …" }].map(({ of, offer }) => ({
    of, offer, list: choice({ label: offer, hideLabel: true, commit: (id) => { if (id) api.do({ do: "look", id }); } }),
  }));
  const ofPlates = radios({ legend: "The plates", commit: (id) => api.do({ do: "look", id }) });
  const layer = choice({ label: "Layer to look at", hideLabel: true, commit: (id) => api.do({ do: "layer", id }) });
  const other = choice({ label: "The other palette", hideLabel: true, commit: (id) => api.do({ do: "other", id }) });
  const plate = choice({
    label: "Plate to look at", hideLabel: true,
    commit: (id) => api.do({ do: "plates", first: Number(id), second: api.view().platePair.find((p) => p !== Number(id)) ?? (Number(id) + 1) % 3 }),
  });
  const turns = pairChoice(api, "Plates that are looked at by turns", "plates");
  const edges = pairChoice(api, "Layers whose edges are held together", "edges");
  const tool = radios({ legend: "Pointer", commit: take });
  tool.node.id = "tool";
  const together = tick("move all three", "A drag moves the three plates alike, as with Shift", (on) => api.do({ do: "together", on }));

  const contrast = tick("full contrast", "Enlarged plates show the tones that stand in the pane over the whole scale", (on) => api.do({ do: "contrast", on }));
  const loupe = tick("loupe", "The three plates enlarged beside the pointer (key l over the picture)", (on) => api.do({ do: "loupe", on }));
  loupe.box.setAttribute("aria-keyshortcuts", "l");
  const enlarged = choice({ label: "Enlargement of the loupe", hideLabel: true, commit: (id) => api.do({ do: "loupe", on: true, zoom: Number(id) }) });
  const borders = tick("borders", "Show the plates to their edges, or only the picture that all three hold", (on) => api.do({ do: "whole", hidden: !on }));

  const share = h("output", { id: "zoom", "aria-label": "Enlargement" });
  const zoom = h("div", { class: "zoom", role: "group", "aria-label": "Enlargement" },
    button("−", () => api.do({ do: "zoom", by: 0.8 }), { "aria-label": "Smaller" }),
    share,
    button("+", () => api.do({ do: "zoom", by: 1.25 }), { "aria-label": "Larger" }),
    button("fit", () => api.do({ do: "zoom", fit: true }), { "aria-label": "Fit the picture" }),
    button("100 %", () => api.do({ do: "zoom", percent: 100 }), { title: "One scan pixel to one screen pixel" }));

  const readout = reading();
  const hint = h("p", { class: "pin-hint", text: "Click a feature in one plate: its place in the others is proposed." });

  return {
    nodes: [
      h("div", { id: "look" },
        h("div", { class: "row" }, h("div", { class: "looks" }, ofPrint.node, ...lists.map(({ list }) => list.node), other.node)),
        h("div", { class: "row" },
          h("div", { class: "looks" }, ofPlates.node, layer.node, plate.node, turns.node, edges.node),
          h("div", { class: "aids" }, contrast.node, enlarged.node, loupe.node, borders.node, zoom))),
      h("div", { class: "row" }, h("div", { class: "looks" }, tool.node, together.node), readout.node, hint),
    ],
    update(view) {
      const marking = view.look === "marks";
      ofPrint.set(view.looks.filter((look) => look.of === "print"), view.look);
      for (const { of, offer, list } of lists) {
        const looks = view.looks.filter((look) => look.of === of);
        const chosen = looks.some((look) => look.id === view.look);
        list.set([{ id: "", name: offer }, ...looks], chosen ? view.look : "");
        attr(list.node, "data-chosen", chosen);
      }
      ofPlates.set(view.looks.filter((look) => look.of === "plates"), view.look);
      layer.set(printers, view.layer);
      other.set(view.palettes.filter((palette) => !palette.chosen), view.other);
      plate.set(plates, view.platePair[0]);
      turns.set(platePairs, view.platePair.toSorted().join());
      edges.set(layerPairs, view.edges.toSorted().join());
      for (const [look, control] of Object.entries({ palettes: other, layer, plate, turns, edges })) show(control.node, view.look === look);
      tool.set(marking ? plateTools : (view.station === "plates" ? greyTools : tools).map((item) => item.id === "nudge" && view.selected
        ? { ...item, name: `nudge ${view.selected}` } : item), view.tool);
      show(together.node, marking);
      together.box.checked = view.together;
      show(zoom, view.look !== "board");
      text(share, `${figure(view.zoom * 100)} %`);
      borders.box.checked = view.whole;
      loupe.box.checked = view.loupe.on;
      enlarged.set(enlargements, view.loupe.zoom);
      show(enlarged.node, view.loupe.on);
      contrast.box.checked = view.contrast;
      show(contrast.node, marking || view.loupe.on);
      readout.update(view.sample);
      show(readout.node, !marking);
      show(hint, marking);
    },
  };
}

function reading() {
  const patch = () => h("span", { class: "patch", "aria-hidden": "true" });
  const [leftPatch, rightPatch] = [patch(), patch()];
  const [left, right, apart, outside] = [h("span"), h("span"), h("b"), h("b", { class: "outside" })];
  const colours = h("span", {},
    leftPatch, "reference ", left, rightPatch, "print ", right, " ", apart, " ", outside);
  const none = h("span", { class: "none", text: "no point read" });
  const node = h("p", { id: "readout", title: "L* a* b* under the chosen light" }, colours, none);
  const lab = (/** @type {number[]} */ values) => values.map((v) => figure(v)).join(" ");
  return {
    node,
    update(/** @type {Sample | null} */ sample) {
      show(colours, sample !== null);
      show(none, sample === null);
      if (sample === null) return;
      style(leftPatch, "background-color", sample.hexReference);
      style(rightPatch, "background-color", sample.hexPrint);
      text(left, lab(sample.reference));
      text(right, lab(sample.print));
      text(apart, `ΔE00 ${figure(sample.dE, 1)}`);
      text(outside, sample.outside > 0 ? "outside this screen" : "");
    },
  };
}
