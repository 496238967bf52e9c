// Figures that the second worker computes, one at a time and only while they are shown.
// They are kept under keys: a key stands for everything that a figure is computed from.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { reason } from "../ui/words.js";

/**
 * asker asks for figures and keeps up to most answers.
 * @template Answer
 * @param {Api} api
 * @param {(view: Model) => Promise<Answer>} ask resolves to the answer for the view as it is now
 * @param {number} [most]
 */
export function asker(api, ask, most = 60) {
  /** @type {Map<string, Answer>} */
  const kept = new Map();
  let asking = false;
  let failed = { key: "", why: "" };

  /** @type {(key: string, view: Model) => Promise<void>} */
  async function begin(key, view) {
    asking = true;
    try {
      const got = await ask(view);
      kept.set(key, got);
      for (const [oldest] of kept) {
        if (kept.size <= most) break;
        kept.delete(oldest);
      }
    } catch (error) {
      failed = { key, why: reason(error) };
    }
    asking = false;
    api.refresh();
  }

  return {
    /**
     * want gives the answer for a key, and null until it is there. It must be called in
     * the task in which the view was read, so that the key fits the session.
     * @param {string} key
     * @param {Model} view
     */
    want(key, view) {
      const answer = kept.get(key);
      if (answer !== undefined) return answer;
      if (!asking && failed.key !== key && view.ready) begin(key, view);
      return null;
    },
    // why says why there is no answer for a key, "" where nothing went wrong.
    why: (/** @type {string} */ key) => (failed.key === key ? failed.why : ""),
  };
}
