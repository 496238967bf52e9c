// Files that several workers draw: each takes one band of rows after the other. Where a worker
// dies, the others draw its band too.

/** @import { Hooks, Joined, Turn } from "../types/worker.js" */

import * as work from "./work.js";

const ROOM = 640 * 1024 * 1024; // bytes that all workers together may take of the plates and of what they draw
const EACH = 64 * 1024 * 1024; // bytes that a worker takes for itself and for the band that it draws
const MOST_DEATHS = 3;

/**
 * @typedef {{ share: number, band: number | null }} Helper a worker at it: which band it draws, and how much of that
 * @typedef {{ helper: Helper, next: (turn: Turn) => void }} Waiting
 */

/**
 * draw has workers draw a file, and gives its parts, a note on it, and how many workers died over it.
 * @param {"proof" | "tiff" | "negative"} op
 * @param {object} message
 * @param {Hooks} hooks
 * @returns {Promise<{ parts: BlobPart[], note: string, died: number }>}
 */
export function draw(op, message, hooks) {
  const at = Date.now();
  return new Promise((resolve, reject) => {
    /** @type {Set<Helper>} */
    const all = new Set();
    /** @type {Waiting[]} */
    const waiting = [];
    /** @type {number[] | null} */
    let left = null; // bands that nobody draws; null until a worker has said how many there are
    let room = 1; // how many bands may be drawn at a time
    /** @type {{ bytes: Blob, packed: number[] }[]} */
    const made = [];
    let bands = 0;
    let done = 0;
    let died = 0;
    /** @type {Helper | null} */
    let joining = null;
    let over = false;

    function help() {
      /** @type {Helper} */
      const helper = { share: 0, band: null };
      all.add(helper);
      work.run(op, { ...message, at }, {
        ...hooks,
        progress: (share, words) => { helper.share = share; tell(words); },
        turn(told, next) {
          if (over) return next({}); // it was made ready while the others drew all
          if ("bands" in told) begun(told.bands, told.needs);
          else if ("band" in told) took(helper, told.band, told.bytes, told.packed);
          waiting.push({ helper, next });
          serve();
        },
      }, true).then((joined) => { if (joined) finish(joined); else all.delete(helper); }, (error) => lost(helper, error));
    }

    function begun(/** @type {number} */ count, /** @type {number} */ needs) {
      if (left) return;
      bands = count;
      left = [...Array(count).keys()];
      room = Math.max(1, Math.floor(ROOM / (needs + EACH)));
    }

    function took(/** @type {Helper} */ helper, /** @type {number} */ band, /** @type {Uint8Array<ArrayBuffer>} */ bytes, /** @type {number[]} */ packed) {
      helper.band = null;
      made[band] = { bytes: new Blob([bytes]), packed }; // which the browser may lay on disk
      work.release(bytes);
      done++;
      tell("");
    }

    function tell(/** @type {string} */ words) {
      const under = [...all].reduce((sum, { band, share }) => sum + (band === null ? 0 : share), 0);
      if (!over && bands) hooks.progress?.((done + under) / bands, words);
    }

    // serve gives those that wait what there is to do. They wait on while others draw: one of
    // these may die.
    function serve() {
      const drawn = () => [...all].filter(({ band }) => band !== null).length;
      while (left?.length && waiting.length && drawn() < room) {
        const { helper, next } = /** @type {Waiting} */ (waiting.shift());
        helper.share = 0;
        helper.band = /** @type {number} */ (left.shift());
        next({ band: helper.band });
      }
      if (left && done === bands && !joining && waiting.length) {
        const { helper, next } = /** @type {Waiting} */ (waiting.shift());
        joining = helper;
        next({ join: made.flatMap(({ packed }) => packed) });
      }
    }

    function finish(/** @type {Joined} */ { before, after, note }) {
      end();
      resolve({ parts: [before, ...made.map(({ bytes }) => bytes), after], note, died });
    }

    // end lets those go that wait, and those that have not begun.
    function end() {
      over = true;
      for (const { next } of waiting) next({});
      work.withdraw(hooks.token);
    }

    function lost(/** @type {Helper} */ helper, /** @type {unknown} */ error) {
      all.delete(helper);
      if (over) return;
      if (!(error instanceof work.Died) || ++died > MOST_DEATHS) {
        end();
        if (hooks.token !== undefined) work.halt(hooks.token);
        reject(error);
        return;
      }
      if (helper.band !== null) left?.unshift(helper.band);
      if (helper === joining) joining = null;
      const waits = waiting.findIndex((one) => one.helper === helper);
      if (waits >= 0) waiting.splice(waits, 1);
      if (all.size === 0) help();
      serve();
    }

    for (let i = 0; i < work.helpers; i++) help();
  });
}
