// Where each plate lies against the key: what register found, and how it is placed by
// hand.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Lies, Pose, Row } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { button, fold, numberField } from "../../ui/controls.js";
import { pick } from "../../ui/list.js";
import { capital, figure, length, signed } from "../../ui/words.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("div", { class: "cards" });
  return {
    node: h("section", { class: "places" }, fold("Where the plates lie", false, list)),
    update(view) {
      keyed(list, view.register.rows, (row) => row.filter, (row) => plate(api, row.filter));
    },
  };
}

/**
 * lies says in words where a plate lies in its scan.
 * @param {Row} row
 */
function lies({ found, notFound }) {
  if (notFound) return "Not found: it lies as it was scanned, centre on centre.";
  const way = (/** @type {number} */ value, /** @type {string} */ there, /** @type {string} */ back) => `${figure(Math.abs(value), 1)} px ${value < 0 ? back : there}`;
  const turn = Math.abs(found.turnDeg) < 0.005 ? "not turned" : `turned ${figure(Math.abs(found.turnDeg), 2)}° ${found.turnDeg < 0 ? "to the left" : "to the right"}`;
  return `In its scan the picture lies ${way(found.dxPx, "to the right", "to the left")} and ${way(found.dyPx, "down", "up")} (${length(Math.hypot(found.dxUm, found.dyUm))} on the print), ${turn}, ${stretched(found)}, ${found.mirrored ? "mirrored left to right: scanned from the back" : "not mirrored"}.`;
}

/**
 * stretched says by how much, across and down apart where they differ noticeably, and
 * the shear: old film has both.
 * @param {Lies} found
 */
function stretched({ stretchPct, acrossPct, downPct, shearDeg }) {
  const uneven = Math.abs(acrossPct - downPct) >= 0.1;
  const by = uneven ? `${signed(acrossPct, 2)} % across and ${signed(downPct, 2)} % down` : `${signed(stretchPct, 2)} %`;
  return `stretched by ${by}${Math.abs(shearDeg) >= 0.1 ? `, sheared by ${figure(Math.abs(shearDeg), 1)}°` : ""}`;
}

/** @param {Row} row */
function left(row) {
  const { known, marks, measured, outvoted, median, p95, max } = row.left;
  if (!known) return row.way === "none" ? "" : "No figure says what is left.";
  const rest = `${figure(median, 2)}, 95 % within ${figure(p95, 2)}, largest ${figure(max, 2)} px`;
  if (marks > 0 && !measured) return `Left over at the marks: root mean square ${figure(median, 2)}, largest ${figure(max, 2)} px.`;
  const elsewhere = outvoted >= 0.005 ? `; ${figure(100 * outvoted)} % of what was measured lies elsewhere` : "";
  return `Left over: median ${rest}${row.left.local ? ", with the local register" : ""}${elsewhere}.`;
}

/**
 * @param {Api} api
 * @param {string} filter
 * @returns {Child<Row>}
 */
function plate(api, filter) {
  // A change by hand starts from where the plate lies now, which is asked for: what is
  // shown may be a frame old.
  const row = () => pick(api.view().register.rows, (r) => r.filter === filter);
  const layer = h("span", { class: "aside" });
  const words = h("p", { class: "verdict" });
  const where = h("p", { class: "facts" });
  const rest = h("p", { class: "facts" });
  const why = h("p", { class: "hint" });
  const place = (/** @type {Partial<Pose>} */ change) => api.do({ do: "place", source: row().source, pose: { ...row().pose, ...change } });
  /** @type {(label: string, unit: string, step: number, min: number | undefined, max: number | undefined, commit: (value: number) => void) => ReturnType<typeof numberField>} */
  const cell = (label, unit, step, min, max, commit) => numberField({ label: `${label}, ${filter} plate`, hideLabel: true, unit, step, min, max, commit });
  const right = cell("The picture lies to the right by", "px", 1, undefined, undefined, (dxPx) => place({ dxPx }));
  const down = cell("The picture lies down by", "px", 1, undefined, undefined, (dyPx) => place({ dyPx }));
  const turn = cell("It is turned to the right by", "°", 0.1, -180, 180, (turnDeg) => place({ turnDeg }));
  const stretch = cell("It is stretched by", "%", 0.1, -75, 300, (stretchPct) => place({ stretchPct }));
  const fields = [right, down, turn, stretch];
  // To turn the picture to the right, the place in the scan turns to the left; where the
  // plate lies with its other side up, both turn the same way.
  const quarter = (/** @type {1 | -1} */ way) => {
    const { turnDeg, mirrored } = row().pose;
    place({ turnDeg: within(turnDeg + (mirrored ? 90 : -90) * way) });
  };
  const act = (/** @type {string} */ name, /** @type {() => void} */ does) => button(name, does, { class: "small", "aria-label": `${name}, ${filter} plate` });
  const buttons = [
    act("Quarter turn left", () => quarter(-1)),
    act("Quarter turn right", () => quarter(1)),
    act("Mirror", () => place({ mirrored: !row().pose.mirrored })),
    act("Centre on centre", () => api.do({ do: "centre", source: row().source })),
  ];
  const measure = act("Measure again from here", () => api.desk({ do: "refine", source: row().source }));
  /** @type {(name: string, ...cells: { node: Node }[]) => HTMLElement} */
  const line = (name, ...cells) => h("div", { class: "offset" }, h("span", { text: name }), ...cells.map((f) => f.node));
  const hand = h("details", { class: "hand" },
    h("summary", { text: "Place by hand" }),
    h("div", { class: "within" },
      why,
      h("div", {}, line("right, down", right, down), line("turn, stretch", turn, stretch)),
      h("div", { class: "four" }, ...buttons),
      h("div", { class: "actions" }, measure),
      h("p", { class: "hint", text: "“Measure again” keeps this place and looks around it. “Register again” gives it up." })));

  return {
    node: h("article", { class: "card", "data-filter": filter },
      h("header", {}, h("h4", { text: `${capital(filter)} plate` }), layer),
      words, where, rest, hand),
    update(now) {
      text(layer, `${now.printer} layer, ${now.polarity}`);
      const sure = now.way === "found" || now.way === "both" ? ` Confidence ${figure(now.confidence * 100)} %.` : "";
      text(words, capital(now.words) + sure);
      text(where, lies(now));
      show(where, !now.key && now.way !== "none");
      text(rest, left(now));
      show(rest, !now.key && rest.textContent !== "");
      show(hand, !now.key);
      text(why, now.poseWhy && `Not now: ${now.poseWhy}.`);
      show(why, now.poseWhy !== "");
      right.set(now.pose.dxPx, 2);
      down.set(now.pose.dyPx, 2);
      turn.set(now.pose.turnDeg, 3);
      stretch.set(now.pose.stretchPct, 3);
      for (const field of fields) attr(field.input, "disabled", now.poseWhy !== "");
      for (const each of buttons) attr(each, "disabled", now.poseWhy !== "");
      show(measure, now.way === "hand" || now.way === "marks" || now.way === "both");
    },
  };
}

/**
 * within brings an angle to -180 … 180°.
 * @param {number} turn
 */
function within(turn) {
  return turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn;
}
