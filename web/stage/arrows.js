// Arrows over a picture, which show how far a plate lies from its place after register,
// and the bar that gives their scale.

/** @import { Arrow, Frame, Arrows } from "../types/model.js" */

import { svg } from "../ui/dom.js";

// Each layer has a tail of its own, so that no colour need be told apart.
/** @type {Record<string, (x: number, y: number) => string>} */
const tails = {
  cyan: (x, y) => `M${x - 3} ${y}a3 3 0 1 1 6 0a3 3 0 1 1 -6 0z`,
  magenta: (x, y) => `M${x} ${y - 3.6}l3.4 6h-6.8z`,
  yellow: (x, y) => `M${x - 2.7} ${y - 2.7}h5.4v5.4h-5.4z`,
};

/**
 * head is an arrow's head. Its outline runs the same way round as the tails': the other
 * way round, two that overlap would cut holes in each other.
 * @param {number} x
 * @param {number} y
 * @param {number} ux the direction, of length 1
 * @param {number} uy
 * @param {number} size
 */
function head(x, y, ux, uy, size) {
  const bx = x - size * ux, by = y - size * uy, w = size * 0.45;
  return `M${x} ${y}L${bx - w * uy} ${by + w * ux}L${bx + w * uy} ${by - w * ux}z`;
}

/**
 * shape is an arrow's outline; one that is cut short has a second head.
 * @param {Arrow} arrow
 */
function shape({ x, y, dx, dy, printer, cut }) {
  const long = Math.hypot(dx, dy);
  let d = tails[printer](x, y);
  if (long < 4) return d;
  const size = Math.min(6, 0.6 * long);
  const ux = dx / long, uy = dy / long, back = long - size;
  if (back > 3) d += `M${x + 3 * ux} ${y + 3 * uy}L${x + back * ux} ${y + back * uy}`;
  d += head(x + dx, y + dy, ux, uy, size);
  if (cut) d += head(x + back * ux, y + back * uy, ux, uy, size);
  return d;
}

/**
 * hatched is a part of a frame under stripes.
 * @param {string} d its outline
 * @param {string} id
 */
export function hatched(d, id) {
  const hatch = (/** @type {string} */ tone) => svg("path", { class: tone, d: "M-2 14L14 -2M6 22L22 6" });
  return svg("g", { class: "hatched", "pointer-events": "none" },
    svg("pattern", { id, width: 12, height: 12, patternUnits: "userSpaceOnUse" }, hatch("under"), hatch("over")),
    svg("path", { fill: `url(#${id})`, "fill-rule": "evenodd", d }));
}

/**
 * drawUnreached hatches the part of a frame that not all of its plates reach.
 * @param {Frame} frame
 */
export function drawUnreached({ id, x, y, w, h, part, reached }) {
  if (!part) return [];
  const corners = reached.map(([px, py], i) => `${i ? "L" : "M"}${px} ${py}`).join("");
  return [hatched(`M${x} ${y}h${w}v${h}h${-w}z${corners}${corners && "z"}`, `unreached-${id}`)];
}

/**
 * drawLeft draws the arrows of one frame: those that agree filled, the outvoted hollow,
 * those that were not measured with certainty fainter and below the others.
 * @param {Arrows} left
 * @param {Frame} frame
 * @param {string} place words for the ring, "" for none
 */
export function drawLeft(left, frame, place) {
  const group = svg("g", { class: "left", "pointer-events": "none" });
  if (left.blank.length > 0) group.append(hatched(left.blank.map(([x, y, w, h]) => `M${x} ${y}h${w}v${h}h${-w}z`).join(""), `blank-${frame.id}`));
  for (const [sure, outvoted] of [[false, true], [false, false], [true, true], [true, false]]) {
    const d = left.arrows.filter((arrow) => arrow.sure === sure && arrow.outvoted === outvoted).map(shape).join("");
    if (!d) continue;
    for (const tone of ["under", "over"]) group.append(svg("path", { d, class: `${tone} ${outvoted ? "outvoted" : "agreed"} ${sure ? "sure" : "faint"}` }));
  }
  if (left.ring) {
    const [cx, cy] = left.ring;
    const inside = cx > frame.x && cy > frame.y && cx < frame.x + frame.w && cy < frame.y + frame.h;
    if (inside) for (const tone of ["under", "over"]) group.append(svg("circle", { class: `ring ${tone}`, cx, cy, r: 22 }));
  }
  if (place) group.append(svg("text", { x: frame.x + 12, y: frame.y + 22 }, place));
  if (!left.barCss) return group;
  const x = frame.x + 14, y = frame.y + frame.h - 14;
  for (const tone of ["under", "over"]) group.append(svg("path", { class: `bar ${tone}`, d: `M${x} ${y - 4}v8m0 -4h${left.barCss}m0 -4v8` }));
  group.append(svg("text", { x: x + left.barCss + 8, y: y + 4 }, `${left.barPx} px of the scan`));
  return group;
}
