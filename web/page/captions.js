// The captions over the pictures, above each frame: what is shown and whether it
// is an estimate at the left, what it is of at the right. Where there is little
// room the right is cut, then the name, never the word “estimate”.

/** @import { Part } from "../types/api.js" */

import { h, keyed, show, style, text } from "../ui/dom.js";

const HEIGHT = 26;
const CLOSE = 12; // px between two captions at the least

/**
 * @param {HTMLElement} place
 * @param {HTMLElement} opening shown until plates are open
 * @returns {Part}
 */
export function build(place, opening) {
  return {
    update(view) {
      show(opening, !view.ready);
      const frames = view.ready ? view.frames : [];
      const shown = frames.map((frame, i) => ({ ...frame, gap: frames[i + 1]?.x - frame.x - frame.w < CLOSE ? CLOSE : 0 }));
      keyed(place, shown, (frame) => frame.id, () => {
        const label = h("span", { class: "what" });
        const estimate = h("span", { class: "estimate", text: "estimate" });
        const note = h("span", { class: "note" });
        const scale = differenceScale();
        const far = reachScale();
        const legend = h("span", { class: "legend" });
        const node = h("p", { class: "caption" }, label, estimate, legend, note, scale, far);
        return {
          node,
          update: (frame) => {
            text(label, frame.label);
            show(estimate, frame.estimate);
            text(note, frame.note);
            show(note, frame.note !== "");
            show(legend, frame.legend.length > 0);
            keyed(legend, frame.legend, (mark) => mark.hex, () => {
              const [patch, words] = [h("i"), h("span")];
              return {
                node: h("span", {}, patch, words),
                update: (mark) => {
                  style(patch, "background-color", mark.hex);
                  text(words, mark.words);
                },
              };
            });
            show(scale, frame.id === "difference");
            show(far, frame.id === "reach");
            style(node, "left", `${Math.round(frame.x)}px`);
            style(node, "top", `${Math.max(0, Math.round(frame.y) - HEIGHT)}px`);
            style(node, "width", `${Math.max(0, Math.round(frame.w) - frame.gap)}px`);
          },
        };
      });
    },
  };
}

// The colours of the difference, in the steps of heat() in proof.kage.
function differenceScale() {
  return h("span", { class: "heat" }, "0",
    h("i", { role: "img", "aria-label": "from dark blue through violet and orange to pale yellow" }), "20+");
}

// The colours of how far a colour is out of reach, in the same steps, from heat(4) on:
// the darkest are left out, so that even the least difference stands out from the grey.
function reachScale() {
  return h("span", { class: "heat" }, "1",
    h("i", { class: "far", role: "img", "aria-label": "from blue through violet and orange to pale yellow; grey is within reach" }), "20+");
}
