// What the second worker finds of the plates: asked for once, for all parts of the
// station that show it.

/** @import { Api } from "../../types/api.js" */
/** @import { Audit } from "../../types/audit.js" */
/** @import { Model } from "../../types/model.js" */

import { asker } from "../../print/ask.js";

/**
 * audits gives the audit of the plates as they stand: the latest one until that is
 * there, and whether it is still being made.
 * @param {Api} api
 */
export function audits(api) {
  const asked = asker(api, (view) => api.compute("audit", { blur: view.blur }), 20);
  /** @type {{ opened: string, audit: Audit } | null} */
  let latest = null;
  return (/** @type {Model} */ view) => {
    const key = `${view.auditKey}/${view.recipeKey}`;
    const files = view.plates.map((plate) => `${plate.file} ${plate.thumb}`).join();
    const now = view.auditKey ? asked.want(key, view) : null;
    if (now) latest = { opened: files, audit: now };
    const why = asked.why(key);
    return { audit: latest?.opened === files ? latest.audit : null, busy: now === null && why === "", why };
  };
}
