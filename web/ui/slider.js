// A slider with a number field beside it, for one value of something that is
// changed live.

import { h, attr } from "./dom.js";
import { numberField } from "./controls.js";
import { gesture } from "./gesture.js";

const same = (/** @type {number} */ x) => x;

/**
 * slider is a labelled range and the same value as a number with its unit.
 * @param {object} of
 * @param {string} of.label
 * @param {string} [of.unit]
 * @param {number} of.min of the range, as are max and step
 * @param {number} of.max
 * @param {number} of.step
 * @param {number} [of.least] of the number, which may go beyond the range, as may most
 * @param {number} [of.most]
 * @param {number} [of.digits] that the value is rounded to
 * @param {(place: number) => number} [of.toValue] where the range has a scale of its own
 * @param {(value: number) => number} [of.toPlace]
 * @param {(value: number, gesture: string) => void} of.change called as the value moves, at
 *   most once a frame, with one gesture until the hand lets go; with "" for a number that
 *   is entered
 * @param {() => void} [of.end] called when the hand has let go
 */
export function slider({ label, unit = "", min, max, step, least = min, most = max, digits = 0, toValue = same, toPlace = same, change, end = () => {} }) {
  /** @type {number | null} */
  let waiting = null; // the value that the next frame sends
  let held = ""; // the gesture of the pointer or the key that has it
  let keyed = false;

  const send = () => {
    if (waiting === null) return;
    const value = waiting;
    waiting = null;
    change(value, held);
  };
  const letGo = () => {
    keyed = false;
    if (!held) return;
    send();
    held = "";
    end();
  };
  const range = h("input", {
    type: "range", min, max, step, "aria-label": `${label}, as a slider`,
    input: () => {
      held ||= gesture();
      if (waiting === null) requestAnimationFrame(send);
      waiting = rounded(toValue(Number(range.value)), digits);
    },
    keydown: () => { keyed = true; },
    keyup: letGo,
    blur: letGo,
    pointerup: letGo, // "change" does not come where the slider is back at its old place
    change: () => { if (!keyed) letGo(); },
  });
  const number = numberField({
    label, unit, min: least, max: most,
    commit: (value) => { change(value, ""); end(); },
  });
  const node = h("div", { class: "slider" }, number.node, range);
  return {
    node,
    set(/** @type {number} */ value) {
      number.set(value, digits);
      attr(range, "aria-valuetext", `${rounded(value, digits)} ${unit}`.trim());
      const place = String(toPlace(value));
      if (!held && range.value !== place) range.value = place;
    },
  };
}

const rounded = (/** @type {number} */ value, /** @type {number} */ digits) => Number(value.toFixed(digits));
