// The hatching of a layer, as its negative and the process sheet have it: dots for yellow,
// upright lines for magenta, level lines for cyan. Under a safelight a colour tells nothing.

import { svg } from "../ui/dom.js";

/** @param {string} printer */
export function hatch(printer) {
  const marks = [];
  for (let at = 2.8; at < 13.5; at += 2.8) {
    if (printer === "magenta") marks.push(svg("path", { d: `M${at} 0V9` }));
    if (printer === "cyan" && at < 9) marks.push(svg("path", { d: `M0 ${at}H14` }));
    if (printer === "yellow") for (let y = 2; y < 9; y += 2.5) marks.push(svg("circle", { cx: at, cy: y, r: 0.6 }));
  }
  return svg("svg", { class: "hatch", viewBox: "0 0 14 9", width: 21, height: 14, "aria-hidden": "true" }, svg("rect", { x: 0.25, y: 0.25, width: 13.5, height: 8.5 }), ...marks);
}
