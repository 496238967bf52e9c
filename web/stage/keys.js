// The keys of the pictures. Tab, function keys and those with Alt, Ctrl or Meta go on
// to the browser, but for undo and redo, which the whole page has.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { gesture } from "../ui/gesture.js";

let arrowing = gesture(); // of arrow keys one after another

/** letGo ends the gesture of the arrow keys, as the hand does something else. */
export function letGo() {
  arrowing = gesture();
}

/** @type {Record<string, [number, number]>} the way that each arrow key goes, across and down */
export const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * keys does what a key says that is pressed over the pictures.
 * @param {KeyboardEvent} event
 * @param {Api | undefined} api
 * @param {Model | null} view
 */
export function keys(event, api, view) {
  if (!api) return;
  const step = history(event);
  if (step) {
    event.preventDefault();
    api.do({ do: step });
  }
  if (step || event.ctrlKey || event.altKey || event.metaKey || !view) return;
  if (!arrows[event.key]) {
    letGo();
    view = api.view(); // what stands by now: keys can come faster than the controls are rendered
  }
  if (view.look === "marks" && pinKey(event, api, view) || key(event, api, view)) event.preventDefault();
}

/**
 * history is the step of undo or redo that a key asks for, if any.
 * @param {KeyboardEvent} event
 */
function history(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return null;
  switch (event.key.toLowerCase()) {
    case "z": return event.shiftKey ? "redo" : "undo";
    case "y": return "redo";
    default: return null;
  }
}

/**
 * key is a key of every look; false is that it is none.
 * @param {KeyboardEvent} event
 * @param {Api} api
 * @param {Model} view
 */
function key(event, api, view) {
  const arrow = arrows[event.key];
  if (arrow && view.tool === "nudge" && view.selected) {
    // a tenth of a scan pixel, or with Shift a whole one
    const um = view.register.pxUm * (event.shiftKey ? 1 : 0.1);
    api.do({ do: "nudgeBy", printer: view.selected, dxUm: arrow[0] * um, dyUm: arrow[1] * um, gesture: arrowing });
  } else if (arrow) {
    const far = event.shiftKey ? 200 : 40;
    api.do({ do: "pan", dx: -arrow[0] * far, dy: -arrow[1] * far });
  } else if (event.key === "+" || event.key === "=") api.do({ do: "zoom", by: 1.25 });
  else if (event.key === "-") api.do({ do: "zoom", by: 0.8 });
  else if (event.key === "0") api.do({ do: "zoom", fit: true });
  else if (event.key === "1") api.do({ do: "zoom", percent: 100 });
  else if (event.key === "Enter") readMiddle(api, view);
  else if (view.divider && (event.key === "," || event.key === ".")) {
    const share = (view.divider.x - view.divider.from) / view.divider.width;
    api.do({ do: "divider", share: share + (event.key === "," ? -0.02 : 0.02) });
  } else if (event.key === "w") api.do({ do: "worst" });
  else if (event.key === "Escape" && ["grey", "scale", "note"].includes(view.tool)) api.do({ do: "tool", id: "pan" });
  else if (event.key === "Escape" && view.station !== "") api.do({ do: "station", id: "" });
  else if (event.key === "l") api.do({ do: "loupe", on: !view.loupe.on });
  else if (event.key === " " && (view.look === "blink" || view.look === "turns")) turn(api, view);
  else return false;
  return true;
}

/**
 * pausing does what Space does to two pictures that are shown by turns, wherever the focus is,
 * unless the key means something there.
 * @param {KeyboardEvent} event
 * @param {Api} api
 */
export function pausing(event, api) {
  if (event.key !== " " || event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.target instanceof Element && event.target.closest("button, summary, select, textarea, a[href], input:not([type=radio]), canvas, dialog")) return;
  const view = api.view();
  if (view.look !== "blink" && view.look !== "turns") return;
  turn(api, view);
  event.preventDefault();
}

/**
 * turn pauses two pictures that are shown by turns, or has them go on. Where the reader
 * wants no motion they stand, and it shows the other.
 * @param {Api} api
 * @param {Model} view
 */
function turn(api, view) {
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) api.do({ do: "blink" });
  else api.do({ do: "pause", on: !view.paused });
}

/** @type {Record<string, "greyAt" | "scaleHere">} */
const atMiddle = { grey: "greyAt", scale: "scaleHere" };

/**
 * readMiddle holds a point in the middle of the first picture, or does there what the tool
 * does: points at a grey, begins and ends a line along a scale.
 * @param {Api} api
 * @param {Model} view
 */
function readMiddle(api, { frames: [frame], tool }) {
  if (frame) api.do({ do: atMiddle[tool] ?? "pointAt", x: frame.x + frame.w / 2, y: frame.y + frame.h / 2 });
}

/**
 * pinKey is a key of the three plates with marks; false is that it is none.
 * @param {KeyboardEvent} event
 * @param {Api} api
 * @param {Model} view
 */
function pinKey(event, api, view) {
  const arrow = arrows[event.key];
  if (event.key === "n") api.do({ do: "markNext" });
  else if (event.key === "p") api.do({ do: "markPlate" });
  else if (event.key === "Enter") api.do({ do: "pinHere" });
  else if (!view.chosenMark) return false;
  else if (arrow) {
    const step = event.shiftKey ? 1 : 0.1; // pixels of the scan
    api.do({ do: "pinBy", stepX: arrow[0] * step, stepY: arrow[1] * step, gesture: arrowing });
  } else if (event.key === "Delete" || event.key === "Backspace") api.do({ do: "unpin", n: view.chosenMark });
  else if (event.key === "Escape") api.do({ do: "markChoose" });
  else return false;
  return true;
}
