// The layers of the print: their order, and the palette that they are mixed by.

/** @import { Layer, Model } from "../types/model.js" */

import { pick } from "../ui/list.js";

/** @type {Record<string, string>} */
const printerOf = { y: "yellow", m: "magenta", c: "cyan" };

/**
 * fromPaper lists the printers of an order such as "ymc", from the paper up.
 * @param {string} order
 */
export function fromPaper(order) {
  return [...order].map((letter) => printerOf[letter]);
}

/**
 * orderOf is the reverse: printers from the paper up to an order.
 * @param {string[]} printers
 */
export function orderOf(printers) {
  return printers.map((printer) => printer[0]).join("");
}

/**
 * pigmentWords names the pigments of a layer: "Gamboge + Yellow ochre".
 * @param {Layer | undefined} layer
 */
export function pigmentWords(layer) {
  return layer ? layer.pigments.map((p) => p.name).join(" + ") : "";
}

/**
 * chosenPalette is the palette in use.
 * @param {Model} view
 */
export function chosenPalette(view) {
  return pick(view.palettes, (palette) => palette.chosen);
}
