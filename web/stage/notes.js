// The notes over the pictures: numbered discs that can be read from the back of a room, and dots
// where they lie too close for that.

/** @import { Frame, PaneNote } from "../types/model.js" */

import { svg } from "../ui/dom.js";

/**
 * drawNotes draws the notes of one frame. The tip of each lies on its place.
 * @param {PaneNote[]} notes
 * @param {number[]} dots x, y, x, y …
 * @param {Frame} frame
 */
export function drawNotes(notes, dots, frame) {
  const group = svg("g", { class: "notes" });
  let d = "";
  for (let i = 0; i < dots.length; i += 2) d += `M${dots[i]} ${dots[i + 1]}h0`;
  if (d) for (const tone of ["under", "over"]) group.append(svg("path", { class: `dots ${tone}`, d }));
  for (const { n, x, y, chosen } of notes) {
    const r = chosen ? 17 : 14;
    const up = y - 2 * r - 10 > frame.y ? -1 : 1; // a note at the upper edge hangs below its place
    const middle = y + up * (r + 8);
    const words = svg("text", { x, y: middle, "text-anchor": "middle", "dominant-baseline": "central", text: String(n) });
    group.append(svg("g", { class: chosen ? "note chosen" : "note" },
      svg("path", { class: "tip", d: `M${x} ${y}L${x - 6} ${y + up * 12}H${x + 6}z` }),
      svg("circle", { class: "disc", cx: x, cy: middle, r, "data-grip": "note", "data-n": n }),
      words));
  }
  return group;
}
