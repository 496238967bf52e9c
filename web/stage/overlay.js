// What lies over the pictures: the section's line, the divider, the arrows of what
// register leaves, the marks, and the frames of the loupe.

/** @import { Frame, Model, Segment } from "../types/model.js" */

import { svg } from "../ui/dom.js";
import { drawLeft, drawUnreached } from "./arrows.js";
import { drawGreys } from "./greys.js";
import { drawNotes } from "./notes.js";
import { drawPoints } from "./points.js";
import { drawMiddle, drawPins, underLoupe } from "./pins.js";

/**
 * overlay draws all of it, in CSS pixels of the stage.
 * @param {Model} view
 */
export function overlay(view) {
  /** @type {SVGElement[]} */
  const parts = view.frames.flatMap(drawUnreached);
  view.frames.forEach((frame, i) => {
    const line = view.line?.frames[i];
    if (line && lined(view)) parts.push(...drawLine(line, frame, `frame-${i}`));
  });
  if (view.divider) {
    const { x, y, h } = view.divider;
    const at = { x1: x, y1: y, x2: x, y2: y + h };
    parts.push(svg("line", { class: "divider", ...at }), svg("line", { class: "divider-grip", "data-grip": "divider", ...at }));
  }
  if (view.look === "marks") {
    parts.push(...view.frames.map((frame) => drawMiddle(frame, frame.id === `plate-${view.pinPlate}`)));
  }
  if (view.tool === "grey" || view.tool === "scale") parts.push(...view.frames.map((frame) => drawMiddle(frame, false)));
  parts.push(...drawGreys(view));
  parts.push(...view.left.frames.map((left, i) => drawLeft(left, view.frames[i], i === 0 ? view.left.short : "")));
  parts.push(...view.pointFrames.map(drawPoints));
  parts.push(...view.pins.map((list, i) => drawPins(list, view.frames[i])));
  parts.push(...view.notePins.map((list, i) => drawNotes(list, view.noteDots[i], view.frames[i])));
  return underLoupe(view.loupe, parts);
}

// lined tells whether the section's line is drawn in a look.
export const lined = (/** @type {Model} */ { look }) => look !== "edges" && look !== "marks";

/**
 * drawLine draws the section's line in one frame, with a grip at each end.
 * @param {Segment} line
 * @param {Frame} frame
 * @param {string} id of the frame's clip
 */
function drawLine({ x0, y0, x1, y1 }, frame, id) {
  const clip = svg("clipPath", { id }, svg("rect", { x: frame.x, y: frame.y, width: frame.w, height: frame.h }));
  const group = svg("g", { "clip-path": `url(#${id})` },
    ...["under", "over"].map((tone) => svg("line", { class: `cut ${tone}`, x1: x0, y1: y0, x2: x1, y2: y1 })),
    svg("circle", { class: "grip", "data-grip": "begin", cx: x0, cy: y0, r: 6 }),
    svg("circle", { class: "grip", "data-grip": "end", cx: x1, cy: y1, r: 6 }));
  return [clip, group];
}
