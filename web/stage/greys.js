// The greys of the scene over the pictures, numbered as in the list; dashed those of a
// scale that is only proposed; and the line that is being drawn along one.

/** @import { Model, PaneGrey } from "../types/model.js" */

import { svg } from "../ui/dom.js";

/** @param {Model} view */
export function drawGreys(view) {
  const parts = [
    ...view.proposedGreys.map((list) => drawList(list, "proposed", true)),
    ...view.pointed.map((list) => drawList(list, "", view.greyRow)),
  ];
  if (view.rule) {
    const { x0: x1, y0: y1, x1: x2, y1: y2 } = view.rule;
    parts.push(svg("g", { class: "greys" }, ...["under", "over"].map((tone) => svg("line", { class: tone, x1, y1, x2, y2 }))));
  }
  return parts;
}

/**
 * drawList draws the greys of one frame; a row is the steps of a scale.
 * @param {PaneGrey[]} list
 * @param {string} kind
 * @param {boolean} row
 */
function drawList(list, kind, row) {
  const group = svg("g", { class: `greys ${kind}`.trim(), "pointer-events": "none" });
  const [first, last] = [list[0], list[list.length - 1]];
  for (const tone of ["under", "over"]) {
    if (row && list.length > 1) group.append(svg("line", { class: tone, x1: first.x, y1: first.y, x2: last.x, y2: last.y }));
    group.append(...list.map(({ x, y }) => svg("circle", { class: tone, cx: x, cy: y, r: row ? 3 : 7 })));
  }
  if (!row) group.append(...list.map(({ x, y, n }) => svg("text", { x: x + 11, y: y - 6 }, String(n))));
  return group;
}
