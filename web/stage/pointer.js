// What pointer and wheel do over the pictures.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { gesture } from "../ui/gesture.js";
import { letGo } from "./keys.js";
import * as pins from "./pins.js";
import { reading } from "./reading.js";

/**
 * @typedef {{ x: number, y: number }} Point in CSS pixels of the stage
 *
 * What the pointer has hold of: a mark's pin, a plate that is moved or pinned, a line
 * that is laid from a place, one of its ends, or what the tool moves.
 * @typedef {{ kind: "pin", n: number, filter: string, moved: boolean }
 *   | { kind: "plate", from: Point, pins: boolean, together: boolean }
 *   | { kind: "draw", from: number[] }
 *   | { kind: "place", does: "greyAt" | "noteAt", from: Point, points: boolean }
 *   | { kind: "scale", from: Point }
 *   | { kind: "pan", from: Point, reads: boolean }
 *   | { kind: "begin" | "end" | "divider" | "nudge" | "pinch" }} Hold
 */

const STILL = 4; // CSS pixels that a click may move

/**
 * pointer has the stage follow the pointer. away takes the tag off that says the colours
 * there.
 * @param {HTMLElement} stage
 * @param {SVGElement} lines what is drawn over the pictures, with the grips
 * @param {Api} api
 * @param {() => Model | null} now what the page shows
 */
export function pointer(stage, lines, api, now) {
  /** @type {Map<number, Point>} */
  const pointers = new Map();
  /** @type {Hold | null} */
  let hold = null;
  let last = { x: 0, y: 0 }; // where the pointer was before
  let apart = 0; // how far two fingers were apart before
  let held = ""; // the gesture of what is held
  const tag = reading(stage);

  /**
   * take takes hold of what is under a point.
   * @param {PointerEvent} event
   * @param {Point} p
   * @param {Model} view
   * @returns {Hold}
   */
  function take(event, p, view) {
    const { grip, n, filter } = dataOf(event.target);
    if (grip === "note") {
      api.do({ do: "noteChoose", n: Number(n) });
      return { kind: "pan", from: p, reads: false };
    }
    if (grip === "pin") {
      api.do({ do: "markChoose", n: Number(n), filter });
      return { kind: "pin", n: Number(n), filter: String(filter), moved: false };
    }
    if (grip === "begin" || grip === "end" || grip === "divider") return { kind: grip };
    if (view.look === "marks") return { kind: "plate", from: p, pins: view.tool === "pin", together: event.shiftKey };
    switch (view.tool) {
      case "grey": return { kind: "place", does: "greyAt", from: p, points: true };
      case "note": return { kind: "place", does: "noteAt", from: p, points: true };
      case "scale": return { kind: "scale", from: p };
      case "line": return { kind: "draw", from: share(p) };
      case "nudge":
        if (!view.selected) break;
        return { kind: "nudge" };
    }
    return { kind: "pan", from: p, reads: true };
  }

  function down(/** @type {PointerEvent} */ event) {
    const view = now();
    const { target } = event;
    if (!view || target !== lines && !(target instanceof HTMLCanvasElement) && !dataOf(target).grip) return;
    letGo();
    held = gesture();
    const p = at(event, stage);
    pointers.set(event.pointerId, p);
    stage.setPointerCapture(event.pointerId);
    if (pointers.size === 2) {
      hold = { kind: "pinch" };
      apart = fingersApart(pointers);
      return;
    }
    last = p;
    hold = take(event, p, view);
    tag.away();
    stage.querySelector("canvas")?.focus({ preventScroll: true });
  }

  function move(/** @type {PointerEvent} */ event) {
    const view = now();
    if (!view) return;
    const p = at(event, stage);
    if (view.loupe.on) hover(p);
    if (!pointers.has(event.pointerId)) {
      if (view.tool === "pan" && event.pointerType !== "touch") tag.over(p);
      return;
    }
    pointers.set(event.pointerId, p);
    if (hold && drag(hold, p, view)) last = p;
  }

  /**
   * drag moves what is held to a point; false is that it stays where it was.
   * @param {Hold} hold
   * @param {Point} p
   * @param {Model} view
   */
  function drag(hold, p, view) {
    const [dx, dy] = [p.x - last.x, p.y - last.y];
    switch (hold.kind) {
      case "pinch": {
        const before = apart;
        const [a, b] = [...pointers.values()];
        apart = fingersApart(pointers);
        if (before > 0 && b) api.do({ do: "zoom", by: apart / before, x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
        break;
      }
      case "plate": // a press that hardly moves pins
        hold.pins &&= Math.hypot(p.x - hold.from.x, p.y - hold.from.y) < STILL;
        if (hold.pins) return false;
        api.do({ do: "pan", dx, dy, x: hold.from.x, y: hold.from.y, together: hold.together });
        break;
      case "pin":
        hold.moved ||= Math.hypot(dx, dy) >= 1;
        if (!hold.moved) return false;
        api.do({ do: "pinBy", n: hold.n, filter: hold.filter, dx, dy, gesture: held });
        break;
      case "place": // a press that hardly moves points
        hold.points &&= Math.hypot(p.x - hold.from.x, p.y - hold.from.y) < STILL;
        if (hold.points) return false;
        api.panBy(dx, dy);
        break;
      case "scale": api.do({ do: "rule", x0: hold.from.x, y0: hold.from.y, x1: p.x, y1: p.y }); break;
      case "pan": // a press that hardly moves reads
        hold.reads &&= Math.hypot(p.x - hold.from.x, p.y - hold.from.y) < STILL;
        if (hold.reads) return false;
        api.panBy(dx, dy);
        break;
      case "nudge": {
        const um = view.register.pxUm * (window.devicePixelRatio || 1) / view.zoom; // a CSS pixel, on the print
        if (view.selected) api.nudgeBy(view.selected, dx * um, dy * um, held);
        break;
      }
      case "divider": if (view.divider) api.do({ do: "divider", share: (p.x - view.divider.from) / view.divider.width }); break;
      case "draw": lay({ x0: hold.from[0], y0: hold.from[1] }, p); break;
      case "begin": if (view.line) lay({ x0: view.line.share.x1, y0: view.line.share.y1 }, p, true); break;
      case "end": if (view.line) lay(view.line.share, p); break;
    }
    return true;
  }

  /**
   * lay lays the section's line from a place to a point, or, turned, from the point to
   * the place. One that is next to nothing is not laid.
   * @param {{ x0: number, y0: number }} from
   * @param {Point} to
   * @param {boolean} [turned]
   */
  function lay({ x0, y0 }, to, turned = false) {
    const [x1, y1] = share(to);
    if (Math.hypot(x1 - x0, y1 - y0) <= 0.02) return;
    const line = turned ? { x0: x1, y0: y1, x1: x0, y1: y0 } : { x0, y0, x1, y1 };
    api.do({ do: "section", ...line, gesture: held });
  }

  /**
   * endScale has the scale read along the line that was drawn; one that is next to
   * nothing is none.
   * @param {Point} from
   * @param {Point} to
   * @param {boolean} done
   */
  function endScale(from, to, done) {
    if (done && Math.hypot(to.x - from.x, to.y - from.y) >= STILL) api.do({ do: "scaleAt", x0: from.x, y0: from.y, x1: to.x, y1: to.y });
    else api.do({ do: "rule", hidden: true });
  }

  function up(/** @type {PointerEvent} */ event) {
    pointers.delete(event.pointerId);
    if (pointers.size > 0) return;
    api.rest();
    if (hold?.kind === "plate" && hold.pins && event.type === "pointerup") api.do({ do: "pinAt", ...hold.from });
    if (hold?.kind === "place" && hold.points && event.type === "pointerup") api.do({ do: hold.does, ...hold.from });
    if (hold?.kind === "pan" && hold.reads && event.type === "pointerup") api.do({ do: "pointAt", ...hold.from });
    if (hold?.kind === "scale") endScale(hold.from, at(event, stage), event.type === "pointerup");
    if (hold?.kind === "pin" && hold.moved) pins.seek();
    hold = null;
  }

  // hover has the loupe follow the pointer, once a frame; null is off the stage.
  let waiting = false;
  /** @type {Point | null} */
  let hovered = null;
  function hover(/** @type {Point | null} */ p) {
    if (!now()?.loupe.on) return;
    hovered = p;
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      api.do({ do: "hover", x: hovered?.x ?? 0, y: hovered?.y ?? 0, hidden: hovered === null });
    });
  }

  stage.addEventListener("pointerdown", down);
  stage.addEventListener("pointermove", move);
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("pointerleave", () => { hover(null); tag.away(); });
  return { away: tag.away };
}

/**
 * wheel enlarges and reduces about the pointer.
 * @param {WheelEvent} event
 * @param {HTMLElement} stage
 * @param {Api | undefined} api
 */
export function wheel(event, stage, api) {
  event.preventDefault();
  event.stopPropagation();
  const step = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? event.deltaY * 16 : event.deltaY;
  api?.do({ do: "zoom", by: Math.exp(-Math.max(-240, Math.min(240, step)) * 0.0022), ...at(event, stage) });
}

/**
 * at is where an event is on the stage.
 * @param {MouseEvent} event
 * @param {HTMLElement} stage
 * @returns {Point}
 */
function at(event, stage) {
  const box = stage.getBoundingClientRect();
  return { x: event.clientX - box.left, y: event.clientY - box.top };
}

/**
 * dataOf is the data of an element that can be taken hold of.
 * @param {EventTarget | null} target
 * @returns {DOMStringMap}
 */
const dataOf = (target) => (target instanceof SVGElement ? target.dataset : {});

/**
 * share is a point as shares of the key plate's width and height.
 * @param {Point} p
 */
const share = (p) => window.threeply.keyAt(p.x, p.y).map((v) => Math.min(Math.max(v, 0), 1));

/** @param {Map<number, Point>} pointers */
function fingersApart(pointers) {
  const [a, b] = [...pointers.values()];
  return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
}
