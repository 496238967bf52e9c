// Marks and the loupe over the pictures: pins, numbered as in the list, and the
// frames of the loupe's three panes. No colour is needed to tell them apart:
// what the tool proposes is dashed and hollow, the chosen mark larger.

/** @import { Api } from "../types/api.js" */
/** @import { Frame, LoupeBox, PanePin } from "../types/model.js" */

import { svg } from "../ui/dom.js";

// A pin's cross leaves its middle free, so that the feature is seen.
/** @type {(x: number, y: number, near: number, far: number) => string} */
const cross = (x, y, near, far) => `M${x - far} ${y}H${x - near}M${x + near} ${y}H${x + far}M${x} ${y - far}V${y - near}M${x} ${y + near}V${y + far}`;

/**
 * drawPins draws the marks of one frame; where a plate stands in its own pixels they
 * can be dragged.
 * @param {PanePin[]} pins
 * @param {Frame} frame
 */
export function drawPins(pins, frame) {
  const group = svg("g", { class: "pins" });
  for (const pin of pins) {
    const r = pin.chosen ? 11 : 7;
    const one = svg("g", { class: `pin${pin.proposed ? " proposed" : ""}${pin.chosen ? " chosen" : ""}` });
    for (const tone of ["under", "over"]) {
      one.append(svg("path", { class: tone, d: cross(pin.x, pin.y, 3, r + 5) }));
      one.append(svg("circle", { class: `${tone} round`, cx: pin.x, cy: pin.y, r }));
    }
    const left = pin.x + r + 26 > frame.x + frame.w;
    one.append(svg("text", { x: pin.x + (left ? -r - 6 : r + 6), y: pin.y - r + 1, "text-anchor": left ? "end" : "start" }, String(pin.n)));
    if (pin.filter) {
      const grip = svg("circle", { class: "pin-grip", cx: pin.x, cy: pin.y, r: r + 6 });
      grip.dataset.grip = "pin";
      grip.dataset.n = String(pin.n);
      grip.dataset.filter = pin.filter;
      one.append(grip);
    }
    group.append(one);
  }
  return group;
}

/**
 * drawMiddle marks the middle of a plate's pane, where the key Enter pins.
 * @param {Frame} frame
 * @param {boolean} here this plate has the keys
 */
export function drawMiddle(frame, here) {
  const x = frame.x + frame.w / 2, y = frame.y + frame.h / 2;
  const group = svg("g", { class: `middle${here ? " here" : ""}`, "pointer-events": "none" });
  for (const tone of ["under", "over"]) group.append(svg("path", { class: tone, d: cross(x, y, 4, 12) }));
  if (here) group.append(svg("rect", { class: "over", x: frame.x + 0.75, y: frame.y + 0.75, width: frame.w - 1.5, height: frame.h - 1.5 }));
  return group;
}

/**
 * underLoupe keeps what is drawn over the pictures off the loupe, and puts the loupe's
 * own frames there.
 * @param {LoupeBox} loupe
 * @param {SVGElement[]} parts
 */
export function underLoupe(loupe, parts) {
  if (loupe.panes.length === 0) return parts;
  const hole = svg("clipPath", { id: "beside-loupe" });
  hole.append(svg("path", { "clip-rule": "evenodd", d: `M0 0H9999V9999H0zM${loupe.x} ${loupe.y}h${loupe.w}v${loupe.h}h${-loupe.w}z` }));
  const rest = svg("g", { "clip-path": "url(#beside-loupe)" });
  rest.append(...parts);
  return [hole, rest, drawLoupe(loupe)];
}

/**
 * drawLoupe labels the panes of the loupe and marks the place in each.
 * @param {LoupeBox} loupe
 */
function drawLoupe(loupe) {
  const group = svg("g", { class: "loupe", "pointer-events": "none" });
  group.append(svg("rect", { class: "edge", x: loupe.x + 0.5, y: loupe.y + 0.5, width: loupe.w - 1, height: loupe.h - 1 }));
  for (const pane of loupe.panes) {
    const x = pane.x + pane.w / 2, y = pane.y + pane.h / 2;
    group.append(svg("text", { x: pane.x + 1, y: pane.y - 5 }, pane.label));
    for (const tone of ["under", "over"]) group.append(svg("path", { class: tone, d: cross(x, y, 5, 13) }));
  }
  return group;
}

// ---- where the other plates show a mark

/** @type {Api} */
let api;
export function start(/** @type {Api} */ given) { api = given; }

// seek has the worker look for the chosen mark in the plates in which nobody has pinned
// it. Only the parts about it are searched.
export async function seek() {
  const search = window.threeply.seek();
  if (search) window.threeply.found(search.turn, search.n, await api.locate(search.tries));
}

// The commands after which the page looks for the mark in the other plates.
export const pinning = new Set(["pinAt", "pinHere"]);
