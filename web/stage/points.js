// The points whose colours are read, over the pictures, numbered as in their list.

/** @import { PaneGrey } from "../types/model.js" */

import { svg } from "../ui/dom.js";

/**
 * drawPoints draws the points of one frame: a ring that leaves the place free, and the
 * number beside it.
 * @param {PaneGrey[]} points
 */
export function drawPoints(points) {
  return svg("g", { class: "read-points", "pointer-events": "none" }, ...points.flatMap(({ n, x, y }) => [
    ...["under", "over"].map((tone) => svg("circle", { class: tone, cx: x, cy: y, r: 8 })),
    svg("text", { x: x + 12, y: y - 7, text: String(n) }),
  ]));
}
