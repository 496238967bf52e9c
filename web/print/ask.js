// Figures that the second worker computes, one at a time and only while they are
// looked at, and that are kept by what they stand on.

/** @import { Api, View } from "../types/api.js" */

import { reason } from "../ui/words.js";

/**
 * asker keeps up to most answers.
 * @template Answer
 * @param {Api} api
 * @param {(view: View) => Promise<Answer>} ask resolves to the answer for the view as it is now
 * @param {number} [most]
 */
export function asker(api, ask, most = 60) {
  /** @type {Map<string, Answer>} */
  const kept = new Map();
  let under = false; // one is under way
  let failed = { key: "", why: "" };

  /** @type {(key: string, view: View) => Promise<void>} */
  async function begin(key, view) {
    under = true;
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
    under = false;
    api.refresh();
  }

  return {
    /**
     * want gives the answer of a key, null until it is there. The view was read from
     * the session in this very task, so that the two agree.
     * @param {string} key
     * @param {View} view
     */
    want(key, view) {
      const answer = kept.get(key);
      if (answer !== undefined) return answer;
      if (!under && failed.key !== key && view.ready) begin(key, view);
      return null;
    },
    // why says what went wrong with a key, "" for nothing.
    why: (/** @type {string} */ key) => (failed.key === key ? failed.why : ""),
  };
}
