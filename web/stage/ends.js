// The two ends of the section's line for the keys: each a control over the picture that Tab
// comes to, and that the arrow keys move. The pointer takes hold of what is drawn below it.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { attr, h, show, style } from "../ui/dom.js";
import { gesture } from "../ui/gesture.js";
import { figure } from "../ui/words.js";
import { arrows } from "./keys.js";
import { lined } from "./overlay.js";

const NEAR = 2; // px that an arrow key moves
const FAR = 20; // and with Shift
const LEAST = 0.02; // of the picture: a shorter line is none

/**
 * ends makes the two and lays them on the stage; what it returns moves them to where the line
 * lies in the first picture.
 * @param {HTMLElement} stage
 * @param {Api} api
 */
export function ends(stage, api) {
  const both = [end(api, 0), end(api, 1)];
  stage.append(...both.map(({ node }) => node));
  return (/** @type {Model} */ view) => both.forEach((one) => one.update(view));
}

/**
 * @param {Api} api
 * @param {0 | 1} which
 */
function end(api, which) {
  let moving = gesture(); // of one key after another
  const name = ["First", "Second"][which];
  const node = h("button", {
    type: "button", class: "cut-end", hidden: true,
    keydown: (event) => {
      const arrow = arrows[event.key];
      if (!arrow || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      const at = placeOf(api.view(), which); // keys can come faster than the controls are rendered
      if (!at) return;
      const step = event.shiftKey ? FAR : NEAR;
      move(at.x, at.y, step * arrow[0], step * arrow[1]);
    },
    blur: () => { moving = gesture(); },
  });

  /**
   * move moves the end from a point of the stage; across or down, where it does not go, it stays
   * exactly where it was.
   * @param {number} x
   * @param {number} y
   * @param {number} dx
   * @param {number} dy
   */
  function move(x, y, dx, dy) {
    const { line } = api.view();
    if (!line) return;
    const { x0, y0, x1, y1 } = line.share;
    const was = which === 0 ? [x0, y0] : [x1, y1];
    const to = window.threeply.keyAt(x + dx, y + dy).map((share, i) => ([dx, dy][i] ? Math.min(Math.max(share, 0), 1) : was[i]));
    const share = which === 0 ? { x0: to[0], y0: to[1], x1, y1 } : { x0, y0, x1: to[0], y1: to[1] };
    if (Math.hypot(share.x1 - share.x0, share.y1 - share.y0) > LEAST) api.do({ do: "section", ...share, gesture: moving });
  }

  return {
    node,
    update(/** @type {Model} */ view) {
      const at = placeOf(view, which);
      show(node, at !== null);
      if (!at || !view.line) return;
      const { frame } = at;
      const within = (/** @type {number} */ v, /** @type {number} */ from, /** @type {number} */ size) => Math.min(Math.max(v, from), from + size);
      style(node, "left", `${within(at.x, frame.x, frame.w)}px`);
      style(node, "top", `${within(at.y, frame.y, frame.h)}px`);
      const { x0, y0, x1, y1 } = view.line.share;
      const [across, down] = which === 0 ? [x0, y0] : [x1, y1];
      attr(node, "aria-label", `${name} end of the section, ${figure(100 * across)} % across and ${figure(100 * down)} % down: arrow keys move it, with Shift farther`);
    },
  };
}

/**
 * placeOf is where an end lies in the first picture, null where no line is drawn.
 * @param {Model} view
 * @param {0 | 1} which
 */
function placeOf(view, which) {
  const [frame] = view.frames;
  const line = view.line?.frames[0];
  if (!frame || !line || !lined(view)) return null;
  return which === 0 ? { frame, x: line.x0, y: line.y0 } : { frame, x: line.x1, y: line.y1 };
}
