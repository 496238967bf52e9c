// The layers of the print: their order, and the palette that they are mixed by.

/** @import { Depth, Layer, Model } from "../types/model.js" */

import { pick } from "../ui/list.js";
import { figure } from "../ui/words.js";

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

/**
 * blackWord says what a blackest grey is worth. The limits are those of the head (wasm/page/model/head.go).
 * @param {number} lightness
 */
export const blackWord = (lightness) => (lightness < 12 ? "deep" : lightness <= 22 ? "fair" : "weak");

/**
 * depthWords says how deep a palette's greys go, or that it has next to none.
 * @param {Depth | null} depth
 */
export function depthWords(depth) {
  if (!depth) return "blackest grey: being computed";
  if (depth.even) return `no greys below L* ${figure(depth.greyest)}; full coats give L* ${figure(depth.L, 1)}`;
  return `blackest grey ${blackWord(depth.L)}: L* ${figure(depth.L, 1)}, density ${figure(depth.density, 2)}`;
}
