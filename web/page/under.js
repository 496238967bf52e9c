// What lies under the prints: the drawing of the stack, and where it is asked for the
// section along a line and the transfers.

/** @import { Api, Part } from "../types/api.js" */

import { byID, show } from "../ui/dom.js";
import * as section from "./section.js";
import * as stack from "./stack.js";
import * as turns from "./turns.js";

/**
 * @param {Api} api
 * @returns {Part}
 */
export function build(api) {
  const layers = stack.build(api);
  const parts = { stack: layers, section: section.build(layers.at), turns: turns.build(api) };
  for (const [id, part] of Object.entries(parts)) byID(id).append(...part.nodes);
  const [under, cut, transfers] = [byID("under"), byID("section"), byID("turns")];
  return {
    update(view) {
      show(under, view.stack && view.look !== "board");
      show(cut, view.cut);
      show(transfers, view.cut);
      for (const part of Object.values(parts)) part.update(view);
    },
  };
}
