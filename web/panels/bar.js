// The bar under the pictures: ways to look, what the pointer does, the
// enlargement, and the colours at the point that was read.

import { h, show, style, text } from "./dom.js";
import { button, choice, radios } from "./controls.js";
import { figure } from "./words.js";

const tools = [
  { id: "pan", name: "moves the picture" },
  { id: "nudge", name: "nudges a layer" },
  { id: "sample", name: "reads a colour" },
  { id: "line", name: "lays the cut" },
];

const printers = ["cyan", "magenta", "yellow"].map((id) => ({ id, name: id }));

export function build(api) {
  const look = radios({ legend: "Look", commit: (id) => api.do({ do: "look", id }) });
  look.node.id = "look";
  const layer = choice({ label: "Layer to look at", hideLabel: true, commit: (id) => api.do({ do: "layer", id }) });
  const tool = radios({ legend: "Pointer", commit: (id) => api.do({ do: "tool", id }) });
  tool.node.id = "tool";

  const share = h("output", { id: "zoom", "aria-label": "Enlargement" });
  const zoom = h("div", { class: "zoom", role: "group", "aria-label": "Enlargement" },
    button("−", () => api.do({ do: "zoom", by: 0.8 }), { "aria-label": "Smaller" }),
    share,
    button("+", () => api.do({ do: "zoom", by: 1.25 }), { "aria-label": "Larger" }),
    button("fit", () => api.do({ do: "zoom", fit: true }), { "aria-label": "Fit the picture" }),
    button("100 %", () => api.do({ do: "zoom", percent: 100 }), { "aria-label": "One scan pixel to one screen pixel" }));

  const readout = reading();

  return {
    nodes: [
      h("div", { class: "row" }, h("div", { class: "looks" }, look.node, layer.node), zoom),
      h("div", { class: "row" }, tool.node, readout.node),
    ],
    update(view) {
      look.set(view.looks, view.look);
      layer.set(printers, view.layer);
      show(layer.node, view.look === "layer");
      tool.set(tools.map((item) => item.id === "nudge" && view.selected
        ? { ...item, name: `nudges the ${view.selected} layer` } : item), view.tool);
      text(share, `${figure(view.zoom * 100)} %`);
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
