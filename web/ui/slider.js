// A slider with a number field beside it, for one value of something that is
// changed live.

import { h, attr } from "./dom.js";
import { numberField } from "./controls.js";
import { gesture } from "./gesture.js";

const same = (x) => x;

// slider is a labelled range and the same value as a number with its unit.
// min, max and step are the range's own; where its scale is not the value's,
// toValue and toPlace take one to the other. The number may go beyond it, from
// least to most. change(value, gesture) is called as the value moves, at most once a
// frame, end() when the hand lets go: what lies between has one name of its gesture;
// a number that is entered has none.
export function slider({ label, unit = "", min, max, step, least = min, most = max, digits = 0, toValue = same, toPlace = same, change, end = () => {} }) {
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
    pointerup: letGo, // back where it was, there is no change to be told of
    change: () => { if (!keyed) letGo(); },
  });
  const number = numberField({
    label, unit, min: least, max: most,
    commit: (value) => { change(value, ""); end(); },
  });
  const node = h("div", { class: "slider" }, number.node, range);
  return {
    node,
    set(value) {
      number.set(value, digits);
      attr(range, "aria-valuetext", `${rounded(value, digits)} ${unit}`.trim());
      const place = String(toPlace(value));
      if (!held && range.value !== place) range.value = place;
    },
  };
}

const rounded = (value, digits) => Number(value.toFixed(digits));
