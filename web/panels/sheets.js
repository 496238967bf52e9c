// The Sheets station: what leaves the tool as a file.

import { h, text } from "./dom.js";
import { button, fileButton, heading } from "./controls.js";
import { cautionList } from "./tissues.js";
import { capital } from "./words.js";

export function build(api) {
  const cautions = cautionList(true);
  const rests = h("p", { class: "hint" });
  const item = (title, words, ...controls) => h("section", { class: "sheet" }, h("h3", { text: title }), h("p", { class: "hint", text: words }), h("div", { class: "actions" }, ...controls));

  return {
    nodes: [
      heading("Sheets", "What leaves for the workshop and the file."),
      item("Proof", "The computed print at the size of the key plate, and the reference beside it for comparison, as PNG.",
        button("Save the proof", () => api.saveProof("proof")),
        button("Save the reference", () => api.saveProof("reference"), { class: "quiet" })),
      item("Profile", "For a soft proof in any programme that reads ICC profiles: what these tissues make of the amounts of cyan, magenta and yellow, and back, on this paper and under this light. 100 % is the whole coat of a layer, not a dot area.",
        button("ICC profile of these tissues", () => api.saveProof("icc"))),
      item("Register", "The matrix of each plate: it takes a pixel of the key plate to the plate’s own pixel. Pixel centres lie at whole numbers.",
        button("Save the matrices as CSV", () => api.saveProof("matrices"))),
      item("Plates in register", "Each plate as the key plate sees it, resampled once from its scan: TIFF of 16 bits, grey, linear transmittance. The reference adds them as red, green and blue light: TIFF of 16 bits with the profile of sRGB. Offsets on the print are left out.",
        ...["red", "green", "blue"].map((filter) => button(`${capital(filter)} plate`, () => api.saveTIFF(filter), { "aria-label": `Save the ${filter} plate in register`, class: "small" })),
        button("Save the reference as TIFF", () => api.saveTIFF("reference"))),
      item("Session", "All settings and offsets, without the scans. Opened again with the same scans it brings the work back.",
        button("Save the session", () => api.saveProof("session")),
        fileButton({ label: "Open a session …", accept: ".json,application/json", open: (files) => api.openSession(files[0]) })),
      rests, cautions.node,
    ],
    update(view) {
      text(rests, view.rests);
      cautions.update(view.cautions);
    },
  };
}
