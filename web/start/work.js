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

// Stopped is the error of work that was stopped.
export class Stopped extends Error {}

/**
 * @typedef {Hooks & { id: number, message: object, resolve: (result: never) => void, reject: (error: unknown) => void }} Call
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
      end(slot, new Error(event.message || "the worker did not start"));
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
    if ("died" in m) return end(slot, new Error(m.error || "the worker ended"));
    const call = slot.call;
    if (!call || call.id !== m.id) return;
    if ("share" in m) {
      call.progress?.(m.share, m.what);
    } else if ("take" in m) {
      call.take?.(m.take);
      nowhere.postMessage(0, [m.take.bytes.buffer]);
    } else if ("want" in m) {
      const part = call.give?.(m.want);
      if (!part) return end(slot, new Error("the plates were put away meanwhile"));
      slot.worker.postMessage({ id: m.id, part }, [part.buffer]);
    } else {
      slot.call = null;
      slot.grown ||= m.memory > MOST_MEMORY;
      if ("error" in m) call.reject(new Error(m.error));
      else call.resolve(m.result);
      if (slot.grown) dismiss(slot);
      assign();
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
  }

  // assign hands waiting calls to idle workers, and starts another worker where one is
  // missing.
  function assign() {
    for (const slot of slots) {
      const call = slot.ready && !slot.call ? queue.shift() : null;
      if (!call) continue;
      slot.call = call;
      slot.worker.postMessage(call.message);
    }
    const starting = [...slots].filter((slot) => !slot.ready).length;
    if (queue.length > starting && slots.size < most) begin();
  }

  /**
   * run has a worker do an operation. The promise fails with Stopped where it was halted.
   * @template {keyof Results} Op
   * @param {Op} op
   * @param {object} message
   * @param {Hooks} [hooks]
   * @returns {Promise<Results[Op]>}
   */
  function run(op, message, hooks = {}) {
    const id = next++;
    return new Promise((resolve, reject) => {
      queue.push({ ...hooks, id, message: { ...message, op, id }, resolve, reject });
      assign();
    });
  }

  /**
   * halt ends the work of a job at once, waiting or under way.
   * @param {number} token
   */
  function halt(token) {
    const waiting = queue.findIndex((call) => call.token === token);
    if (waiting >= 0) queue.splice(waiting, 1)[0].reject(new Stopped("stopped"));
    for (const slot of slots) if (slot.call?.token === token) end(slot, new Stopped("stopped"));
  }

  // warm starts a worker before it is needed.
  const warm = () => { if (slots.size === 0) begin(); };

  return { run, halt, warm };
}

// Two pieces of work at a time, as many as a small machine has cores.
export const { run, halt, warm } = pool(2);

// aside is a worker of its own for figures and small prints, one after the other, so that
// they hold up no plates, no register and nothing that is saved.
export const aside = pool(1);
