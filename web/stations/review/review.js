// The Review station: what was noted at which place, what was decided, which object it is,
// and what is kept of all that.

/** @import { Api, Blocks } from "../../types/api.js" */

import { heading } from "../../ui/controls.js";
import * as notes from "./notes.js";
import * as decision from "./decision.js";
import * as log from "./log.js";
import * as identity from "./identity.js";
import * as keeping from "./keeping.js";

/**
 * @param {Api} api
 * @returns {Blocks}
 */
export function build(api) {
  const blocks = [notes, decision, log, identity, keeping].map((part) => part.build(api));
  return {
    nodes: [heading("Review"), ...blocks.map((block) => block.node)],
    update(view) {
      for (const block of blocks) block.update(view);
    },
  };
}
