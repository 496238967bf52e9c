// The Tissues station: which three pigmented gelatin layers, in which order, on
// which paper, under which light.

import { h, attr, keyed, show, style, text } from "./dom.js";
import { choice, heading } from "./controls.js";
import * as figures from "./figures.js";
import { figure, fromPaper, pigmentWords } from "./words.js";

export function build(api) {
  const list = h("fieldset", { class: "palettes" }, h("legend", { class: "unseen", text: "Palette" }));
  const rows = h("div");
  list.append(rows);
  const order = choice({ label: "From paper up", commit: (id) => api.do({ do: "order", order: id }) });
  const paper = choice({ label: "Paper", commit: (id) => api.do({ do: "paper", id }) });
  const finish = choice({ label: "Surface", commit: (id) => api.do({ do: "finish", id }) });
  const light = choice({ label: "Light", commit: (id) => api.do({ do: "light", id }) });
  const computed = figures.brief(api);
  const rests = h("p", { class: "hint" });
  const cautions = cautionList();

  return {
    nodes: [
      heading("Tissues", "Three pigmented gelatin layers, chosen to work together."),
      list,
      h("div", { class: "settings" }, order.node, paper.node, finish.node, light.node),
      computed.node, rests, cautions.node,
    ],
    update(view) {
      computed.update(view);
      keyed(rows, view.palettes, (palette) => palette.id, (palette) => paletteRow(api, palette.id));
      order.set(view.orders.map((id) => ({ id, name: fromPaper(id).join(", ") })), view.order);
      paper.set(view.papers, view.paper);
      finish.set(view.finishes, view.finish);
      light.set(view.lights, view.light);
      text(rests, view.rests);
      cautions.update(view.cautions);
    },
  };
}

function paletteRow(api, id) {
  const input = h("input", { type: "radio", name: "palette", value: id, change: () => api.do({ do: "palette", id }) });
  const name = h("span", { class: "name" });
  const era = h("span", { class: "aside" });
  const patches = h("span", { class: "patches", "aria-hidden": "true" });
  const pigments = h("span", { class: "facts" });
  const depth = h("span", { class: "facts" });
  const layers = h("div", { class: "tissue-list" });
  const more = h("details", {}, h("summary", { text: "The pigments" }), layers);
  const node = h("div", { class: "palette" },
    h("label", {}, input, h("span", { class: "words" }, h("span", { class: "titled" }, name, era), patches, pigments, depth)), more);
  return {
    node,
    update(palette) {
      if (input.checked !== palette.chosen) input.checked = palette.chosen;
      attr(node, "data-chosen", palette.chosen);
      text(name, palette.name);
      text(era, palette.era);
      const colours = [...palette.layers.map((layer) => ({ id: layer.printer, colour: layer.swatch })), { id: "depth", colour: palette.depth?.hex ?? "transparent" }];
      keyed(patches, colours, (patch) => patch.id, () => {
        const patch = h("i");
        return { node: patch, update: (now) => style(patch, "background-color", now.colour) };
      });
      text(pigments, palette.layers.map(pigmentWords).join(", "));
      text(depth, palette.depth ? `deepest grey L* ${figure(palette.depth.L, 1)}, density ${figure(palette.depth.density, 2)}` : "deepest grey: being computed");
      show(more, palette.chosen);
      if (palette.chosen) keyed(layers, palette.layers, (layer) => layer.printer, tissue);
    },
  };
}

function tissue(first) {
  const list = h("ul");
  return {
    node: h("section", {}, h("h4", { text: `${first.printer} tissue` }), list),
    update(layer) {
      keyed(list, layer.pigments, (pigment) => pigment.ci, () => {
        const what = h("span", { class: "what" });
        const how = h("span", { class: "facts" });
        const hazard = h("span", { class: "hazard" });
        return {
          node: h("li", {}, what, how, hazard),
          update: (pigment) => {
            text(what, `${pigment.name}, ${pigment.ci}${pigment.share < 1 ? `, ${figure(pigment.share * 100)} %` : ""}`);
            text(how, [pigment.status && `spectrum ${pigment.status}`, pigment.lightfastness && `lightfastness ${pigment.lightfastness}`].filter(Boolean).join(", "));
            text(hazard, pigment.hazard ? `Caution: ${pigment.hazard}` : "");
            show(hazard, Boolean(pigment.hazard));
          },
        };
      });
    },
  };
}

// cautionList shows where the work can hurt; it is closed until it is wanted,
// but says how many there are.
export function cautionList(open = false) {
  const list = h("ul");
  const summary = h("summary");
  const node = h("details", { class: "cautions", open }, summary, list);
  return {
    node,
    update(cautions) {
      show(node, cautions.length > 0);
      text(summary, `Cautions for the work (${cautions.length})`);
      keyed(list, cautions, (caution) => caution, (caution) => ({ node: h("li", { text: caution }), update() {} }));
    },
  };
}
