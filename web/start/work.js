// Long work, done in Web Workers. Go in WebAssembly is not preempted, so a piece of
// work is stopped by ending its worker; the others go on.

/** @import { FromWorker, Hooks, Results } from "../types/worker.js" */

import { worker } from "./parts.js";

// A worker whose memory has grown beyond this many bytes is ended when it has nothing to
// do: the memory of WebAssembly never shrinks.
const MOST_MEMORY = 256 * 1024 * 1024;

// Memory that is sent here is given back at once: the browser's own collector lets
// hundreds of megabytes pile up.
const { port1: nowhere, port2 } = new MessageChannel();
port2.close();
export const release = (/** @type {Uint8Array<ArrayBuffer>} */ bytes) => nowhere.postMessage(0, [bytes.buffer]);

// What passes of the plates between page and workers goes back, to be filled again: memory that was
// never written to costs many times what the copy does. Here as much is kept as two workers need, and
// nothing once nobody works.
const PART = 8 << 20; // bytes that pass at a time, as the worker has it
const MOST_SPARES = 4;
/** @type {ArrayBuffer[]} */
const spares = [];

/**
 * room is memory for so many bytes, filled before where there is some.
 * @param {number} bytes
 */
function room(bytes) {
  const at = spares.findIndex((spare) => spare.byteLength >= bytes);
  return new Uint8Array(at < 0 ? new ArrayBuffer(Math.max(bytes, PART)) : spares.splice(at, 1)[0], 0, bytes);
}

// Stopped is the error of work that was stopped, Died that of work whose worker ended.
export class Stopped extends Error {}
export class Died extends Error {}

// Of the workers of a pool two do what was asked for one by one; the others help where
// several work at one thing. A browser that says how much memory there is, in GB, gets a
// helper for each half of one.
const ALONE = 2;
const memory = /** @type {{ deviceMemory?: number }} */ (navigator).deviceMemory ?? 8;

/** helpers is how many workers may work at one thing: as many as the machine has cores. */
export const helpers = Math.max(1, Math.min(navigator.hardwareConcurrency || 2, 8, 2 * memory));

/**
 * @typedef {Hooks & { id: number, message: object, shared: boolean, resolve: (result: never) => void, reject: (error: unknown) => void }} Call
 * @typedef {{ worker: Worker, call: Call | null, ready: boolean, grown: boolean }} Slot a worker and what it does
 */

/**
 * pool shares work among at most so many workers. What finds none waits for its turn.
 * @param {number} most
 */
function pool(most) {
  /** @type {Set<Slot>} */
  const slots = new Set();
  /** @type {Call[]} */
  const queue = []; // calls that wait for a worker
  let next = 1;

  // begin starts a worker. Once it is ready, it takes the first call of the queue.
  function begin() {
    /** @type {Slot} */
    const slot = { worker: worker(), call: null, ready: false, grown: false };
    slots.add(slot);
    slot.worker.onmessage = (event) => {
      try {
        hear(slot, event.data);
      } catch (error) {
        end(slot, error);
      }
    };
    slot.worker.onerror = (event) => {
      event.preventDefault();
      end(slot, new Died(event.message || "the worker did not start"));
    };
    return slot;
  }

  /**
   * hear takes a message of a worker.
   * @param {Slot} slot
   * @param {FromWorker} m
   */
  function hear(slot, m) {
    if ("ready" in m) {
      slot.ready = true;
      return assign();
    }
    if ("died" in m) return end(slot, new Died(m.error || "the worker ended"));
    if ("spent" in m) {
      if (spares.length < MOST_SPARES && slot.call) spares.push(m.spent.buffer);
      else release(m.spent);
      return;
    }
    const call = slot.call;
    if (!call || call.id !== m.id) return;
    if ("share" in m) {
      call.progress?.(m.share, m.what);
    } else if ("take" in m) {
      call.take?.(m.take);
      slot.worker.postMessage({ spent: m.take.bytes }, [m.take.bytes.buffer]);
    } else if ("want" in m) {
      const part = call.give?.(m.want, room(m.want.to - m.want.from));
      if (!part) return end(slot, new Error("the plates were put away meanwhile"));
      slot.worker.postMessage({ id: m.id, part }, [part.buffer]);
    } else if ("turn" in m) {
      call.turn?.(m.turn, (turn) => slot.worker.postMessage({ id: m.id, turn }));
    } else {
      slot.call = null;
      slot.grown ||= m.memory > MOST_MEMORY;
      if ("error" in m) call.reject(new Error(m.error));
      else call.resolve(m.result);
      if (slot.grown || queue.length === 0 && slots.size > ALONE) dismiss(slot);
      assign();
      tidy();
    }
  }

  // dismiss ends a worker and forgets it.
  function dismiss(/** @type {Slot} */ slot) {
    slot.worker.terminate();
    slots.delete(slot);
  }

  /**
   * end dismisses a worker. The call that it was at fails with the error.
   * @param {Slot} slot
   * @param {unknown} error
   */
  function end(slot, error) {
    dismiss(slot);
    const failed = slot.call ?? (slot.ready ? null : queue.shift()); // a worker that cannot start keeps nobody waiting
    failed?.reject(error);
    assign();
    tidy();
  }

  // tidy gives memory back that nobody fills again.
  function tidy() {
    if (![...slots].some((slot) => slot.call)) spares.splice(0).forEach((spare) => release(new Uint8Array(spare)));
  }

  // assign hands waiting calls to idle workers, and starts another worker where one is
  // missing.
  function assign() {
    for (const slot of slots) {
      const call = slot.ready && !slot.call ? take() : null;
      if (!call) continue;
      slot.call = call;
      slot.worker.postMessage(call.message);
    }
    const starting = [...slots].filter((slot) => !slot.ready).length;
    if (queue.length > starting && slots.size < most) begin();
  }

  // take takes the first call of the queue that may begin: helpers leave no less to the others.
  function take() {
    const alone = [...slots].filter((slot) => slot.call && !slot.call.shared).length;
    const at = queue.findIndex((call) => call.shared || alone < ALONE);
    return at < 0 ? null : queue.splice(at, 1)[0];
  }

  /**
   * run has a worker do an operation. The promise fails with Stopped where it was halted.
   * @template {keyof Results} Op
   * @param {Op} op
   * @param {object} message
   * @param {Hooks} [hooks]
   * @param {boolean} [shared] it is one of several that work at one thing
   * @returns {Promise<Results[Op]>}
   */
  function run(op, message, hooks = {}, shared = false) {
    const id = next++;
    return new Promise((resolve, reject) => {
      queue.push({ ...hooks, id, message: { ...message, op, id }, shared, resolve, reject });
      assign();
    });
  }

  /**
   * halt ends the work of a job at once, waiting or under way.
   * @param {number} token
   */
  function halt(token) {
    withdraw(token);
    for (const slot of slots) if (slot.call?.token === token) end(slot, new Stopped("stopped"));
  }

  /**
   * withdraw takes the calls of a job out of the queue.
   * @param {number | undefined} token
   */
  function withdraw(token) {
    for (let at; (at = queue.findIndex((call) => call.token === token)) >= 0;) queue.splice(at, 1)[0].reject(new Stopped("stopped"));
  }

  // warm starts a worker before it is needed.
  const warm = () => { try { if (slots.size === 0) begin(); } catch { /* what needs one says so */ } };

  // spare tells whether work that is asked for now begins at once.
  const spare = () => queue.length === 0 && (slots.size < most || [...slots].some((slot) => !slot.call));

  return { run, halt, withdraw, warm, spare };
}

export const { run, halt, withdraw, warm, spare } = pool(Math.max(ALONE, helpers + 1));

// aside is a worker of its own for figures and small prints, one after the other, so that
// they hold up no plates, no register and nothing that is saved.
export const aside = pool(1);
