// The bar under the pictures: ways to look, what the pointer does, the
// enlargement, and the colours at the point that was read.

import { h, show, style, text } from "./dom.js";
import { button, choice, radios } from "./controls.js";
import { figure } from "./words.js";

const tools = [
  { id: "pan", name: "move" },
  { id: "nudge", name: "nudge" },
  { id: "sample", name: "read colour" },
  { id: "line", name: "lay the cut" },
];

const printers = ["cyan", "magenta", "yellow"].map((id) => ({ id, name: id }));

// Two layers to hold against one another at their edges, by their numbers in
// the program: 0 yellow, 1 magenta, 2 cyan.
const pairs = [
  { id: "1,2", name: "magenta and cyan" },
  { id: "0,2", name: "yellow and cyan" },
  { id: "0,1", name: "yellow and magenta" },
];

export function build(api) {
  let selected = "";
  // A pointer that nudges needs a layer: cyan, which is the easiest to see.
  function take(id) {
    if (id === "nudge" && !selected) api.do({ do: "select", printer: "cyan" });
    api.do({ do: "tool", id });
  }

  const look = radios({ legend: "Look", commit: (id) => api.do({ do: "look", id }) });
  look.node.id = "look";
  const layer = choice({ label: "Layer to look at", hideLabel: true, commit: (id) => api.do({ do: "layer", id }) });
  const pair = choice({
    label: "Layers whose edges are held together", hideLabel: true,
    commit: (id) => {
      const [first, second] = id.split(",").map(Number);
      api.do({ do: "edges", first, second });
    },
  });
  const tool = radios({ legend: "Pointer", commit: take });
  tool.node.id = "tool";

  const share = h("output", { id: "zoom", "aria-label": "Enlargement" });
  const zoom = h("div", { class: "zoom", role: "group", "aria-label": "Enlargement" },
    button("−", () => api.do({ do: "zoom", by: 0.8 }), { "aria-label": "Smaller" }),
    share,
    button("+", () => api.do({ do: "zoom", by: 1.25 }), { "aria-label": "Larger" }),
    button("fit", () => api.do({ do: "zoom", fit: true }), { "aria-label": "Fit the picture" }),
    button("100 %", () => api.do({ do: "zoom", percent: 100 }), { title: "One scan pixel to one screen pixel" }));
  const borders = h("input", { type: "checkbox", change: () => api.do({ do: "whole", hidden: !borders.checked }) });
  zoom.append(h("label", { class: "borders", title: "Show the plates to their edges, or only the picture that all three hold" }, borders, "borders"));

  const readout = reading();

  return {
    nodes: [
      h("div", { class: "row" }, h("div", { class: "looks" }, look.node, layer.node, pair.node), zoom),
      h("div", { class: "row" }, tool.node, readout.node),
    ],
    update(view) {
      selected = view.selected;
      look.set(view.looks, view.look);
      layer.set(printers, view.layer);
      show(layer.node, view.look === "layer");
      pair.set(pairs, view.edges.toSorted().join());
      show(pair.node, view.look === "edges");
      tool.set(tools.map((item) => item.id === "nudge" && view.selected
        ? { ...item, name: `nudge ${view.selected}` } : item), view.tool);
      text(share, `${figure(view.zoom * 100)} %`);
      borders.checked = view.whole;
      readout.update(view.sample);
    },
  };
}

function reading() {
  const patch = () => h("span", { class: "patch", "aria-hidden": "true" });
  const [leftPatch, rightPatch] = [patch(), patch()];
  const [left, right, apart] = [h("span"), h("span"), h("b")];
  const found = h("span", { class: "found" },
    leftPatch, "reference ", left, rightPatch, "print ", right, " ", apart);
  const none = h("span", { class: "none", text: "no point read" });
  const node = h("p", { id: "readout", title: "L* a* b* under the chosen light" }, found, none);
  const lab = (values) => values.map((v) => figure(v)).join(" ");
  return {
    node,
    update(sample) {
      show(found, sample !== null);
      show(none, sample === null);
      if (sample === null) return;
      style(leftPatch, "background-color", sample.hexReference);
      style(rightPatch, "background-color", sample.hexPrint);
      text(left, lab(sample.reference));
      text(right, lab(sample.print));
      text(apart, `ΔE00 ${figure(sample.dE, 1)}`);
    },
  };
}
