// The palettes to choose from, built in and own, and the files of one's own.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Model, Palette } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { attr, h, keyed, named, show, style, text } from "../../ui/dom.js";
import { button, fileButton, folded } from "../../ui/controls.js";
import { textField } from "../../ui/textfield.js";
import { chosenPalette } from "../../print/layers.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  /** @type {Model} */
  let view;
  const rows = h("div");
  const save = button("Save the chosen one", () => {
    const { id } = chosenPalette(view);
    api.download(`${id}-palette.json`, window.threeply.paletteText(id), "application/json");
  });
  const open = fileButton({ label: "Open a file", accept: ".json,application/json", open: ([file]) => take(file) });
  const schema = button("Save the schema of these files", () => {
    api.download("threeply-palette.schema.json", window.threeply.paletteSchema(), "application/schema+json");
  }, { class: "quiet small", title: "The JSON schema that palette files keep to, for those who write their own" });

  async function take(/** @type {File} */ file) {
    const read = await api.readText(file, window.threeply.readPalette);
    if (read.palette) api.do({ do: "takePalette", palette: read.palette });
  }

  return {
    node: h("fieldset", { class: "palettes" }, h("legend", { text: "Palettes" }), rows,
      folded("Files", h("div", { class: "actions" }, open, save, schema))),
    update(now) {
      view = now;
      // An era stands once, at the first of its palettes.
      const palettes = view.palettes.map((palette, i) => ({ ...palette, first: view.palettes[i - 1]?.era !== palette.era }));
      keyed(rows, palettes, (palette) => palette.id, (palette) => row(api, palette.id));
    },
  };
}

/**
 * @param {Api} api
 * @param {string} id
 * @returns {Child<Palette & { first: boolean }>}
 */
function row(api, id) {
  const input = h("input", { type: "radio", name: "palette", value: id, change: () => api.do({ do: "palette", id }) });
  const name = h("span", { class: "name" });
  const era = h("span", { class: "aside" });
  const patches = h("span", { class: "patches", "aria-hidden": "true" });
  const depth = h("p", { class: "facts" });
  const note = h("p", { class: "facts" });
  const more = folded("More", depth, note);
  const rename = textField({ label: "Its name", maxlength: 60, commit: (words) => { if (words) api.do({ do: "namePalette", id, text: words }); } });
  const own = h("div", { class: "own" }, rename.node, button("Take it away", () => api.do({ do: "dropPalette", id })));
  const node = h("div", { class: "palette" },
    h("label", {}, input, h("span", { class: "words" }, h("span", { class: "titled" }, name, era), patches)), more, own);
  return {
    node,
    update(palette) {
      if (input.checked !== palette.chosen) input.checked = palette.chosen;
      attr(node, "data-chosen", palette.chosen);
      named(name, palette.name, palette.own);
      text(era, palette.byEye ? "by eye" : palette.measured ? "measured" : palette.own ? "own" : palette.first ? palette.era : "");
      const colours = [...palette.layers.map((layer) => ({ id: layer.printer, colour: layer.swatch })), { id: "depth", colour: palette.depth?.hex ?? "transparent" }];
      keyed(patches, colours, (patch) => patch.id, () => {
        const patch = h("i");
        return { node: patch, update: (now) => style(patch, "background-color", now.colour) };
      });
      text(depth, palette.deep);
      text(note, palette.note);
      show(more, palette.chosen);
      show(own, palette.own && palette.chosen);
      rename.set(palette.name);
    },
  };
}
