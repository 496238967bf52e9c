// The Sheets station: what leaves the tool as a file.

/** @import { Api, Blocks } from "../../types/api.js" */
/** @import { Model } from "../../types/model.js" */

import { h, text } from "../../ui/dom.js";
import { button, fileButton, fold, heading, radios } from "../../ui/controls.js";
import { fill } from "../../ui/filled.js";
import { cautionList } from "../../print/cautions.js";
import { capital, figure } from "../../ui/words.js";
import * as bench from "./bench.js";
import * as measured from "./measured.js";

const forms = [{ id: "png", name: "PNG, 8 bits" }, { id: "tiff", name: "TIFF, 16 bits" }];
const cuts = [{ id: "picture", name: "the picture" }, { id: "plates", name: "the plates’ edges" }];
const either = [{ id: "no", name: "no" }, { id: "yes", name: "yes" }];
const spaces = [{ id: "srgb", name: "sRGB" }, { id: "p3", name: "Display P3" }];

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const cautions = cautionList();
  const rests = h("p", { class: "hint" });
  const relative = h("p", { class: "hint" });
  /** @type {(title: string, words: string, ...controls: Node[]) => HTMLElement} */
  const item = (title, words, ...controls) => fold(title, false, h("div", { class: "sheet" }, ...controls, h("details", {}, h("summary", { text: "Why" }), h("p", { class: "hint", text: words }))));
  const actions = (/** @type {Node[]} */ ...controls) => h("div", { class: "actions" }, ...controls);
  const proofs = proofActions(api, actions);
  const workshop = [bench.negatives(api), bench.process(api), measured.build(api)];
  // Who opens a part that leads to work at the bench sees the cautions for it.
  for (const part of workshop.flatMap(({ nodes }) => nodes)) part.addEventListener("toggle", () => { if (part instanceof HTMLDetailsElement && part.open) cautions.node.open = true; });

  return {
    nodes: [
      heading("Sheets"),
      ...workshop.flatMap((part) => part.nodes),
      h("p", { class: "sentence", text: "UV light, dichromates, lead pigments and hot water can harm. Follow data sheets, local rules and licensed practice." }),
      cautions.node,
      item("Proof", "The computed print at the size of the key plate, or the reference for comparison. The file carries the profile of its colour space, the resolution of the print’s width, and in words what it is and what it rests on.", ...proofs.nodes),
      item("Profile", "For a soft proof in any program that reads ICC profiles: what these tissues make of the amounts of cyan, magenta and yellow, and back, on this paper and under this light.",
        relative,
        actions(button("ICC profile of these tissues", api.saveProfile))),
      item("Register", "The matrix of each plate: it takes a pixel of the key plate to the plate’s own pixel. Pixel centres lie at whole numbers. The verdict: what is left, the limits and the offsets, figure by figure. The report says all of it on a page to sign, with a map and the worst places.",
        actions(button("Report on register", api.saveReport), button("Save the matrices as CSV", api.saveMatrices), button("Save the verdict as CSV", api.saveVerdict))),
      item("Plates in register", "Each plate as the key plate sees it, resampled once from its scan: TIFF of 16 bits, grey, linear transmittance. The reference adds them as red, green and blue light: TIFF of 16 bits with the profile of sRGB. Offsets on the print are left out.",
        actions(...["red", "green", "blue"].map((filter) => button(`${capital(filter)} plate`, () => api.saveTIFF(filter), { "aria-label": `Save the ${filter} plate in register`, class: "small" })),
          button("Save the reference as TIFF", () => api.saveTIFF("reference")))),
      item("Session", "All settings and offsets, without the scans. Opened again with the same scans it brings the work back.",
        actions(button("Save the session", () => api.saveSession(false)),
          fileButton({ label: "Open a session …", accept: ".json,.zip,application/json,application/zip", open: (files) => api.openSession(files[0]) }))),
      fold("What it rests on", false, rests),
    ],
    update(view) {
      proofs.update(view);
      for (const part of workshop) part.update(view);
      text(relative, `100 % is the thickest layer that you allow at the Proof, ${view.limit === 1 ? "now the whole coat" : `now ${figure(100 * view.limit)} % of its coat`}; it is not a dot area. The profile’s name says so too.`);
      text(rests, view.rests);
      cautions.update(view.cautions);
    },
  };
}

/**
 * proofActions saves print and reference as a kind of file and in a colour space: at
 * first the wider one, where the screen can show it.
 * @param {Api} api
 * @param {(...controls: Node[]) => HTMLElement} actions
 */
function proofActions(api, actions) {
  const cropped = radios({ legend: "Trimmed to", commit: fill(api, "proof.cut") });
  const mounted = radios({ legend: "With title and recipe on a margin", commit: fill(api, "proof.margin") });
  const formed = radios({ legend: "File", commit: fill(api, "proof.file") });
  const spaced = radios({ legend: "Colour space", commit: fill(api, "proof.space") });
  const spaceOf = (/** @type {Model} */ { filled }) => filled["proof.space"] || (matchMedia("(color-gamut: p3)").matches ? "p3" : "srgb");
  const save = (/** @type {string} */ picture) => {
    const view = api.view();
    const { filled } = view;
    api.saveProof(picture, filled["proof.file"], spaceOf(view), filled["proof.cut"] === "picture", filled["proof.margin"] === "yes");
  };
  return {
    nodes: [
      formed.node, spaced.node, cropped.node, mounted.node,
      actions(button("Save the proof", () => save("print")),
        button("Save the reference", () => save("reference"), { class: "quiet" })),
    ],
    update(/** @type {Model} */ view) {
      formed.set(forms, view.filled["proof.file"]);
      spaced.set(spaces, spaceOf(view));
      cropped.set(cuts, view.filled["proof.cut"]);
      mounted.set(either, view.filled["proof.margin"]);
    },
  };
}
