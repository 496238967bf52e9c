// Long work, done in Web Workers. Go in WebAssembly is not preempted, so a piece of
// work is stopped by ending its worker; the others go on.

/** @import { FromWorker, Hooks, Results } from "../types/worker.js" */

// A worker that has grown beyond this many bytes is ended when it has nothing to
// do: the memory of WebAssembly never shrinks.
const MOST = 256 * 1024 * 1024;

// What is sent here is let go at once: the browser's own collector lets
// hundreds of megabytes pile up.
const { port1: nowhere, port2 } = new MessageChannel();
port2.close();

// Stopped is what work that was stopped is rejected with.
export class Stopped extends Error {}

/**
 * @typedef {Hooks & { id: number, message: object, resolve: (result: never) => void, reject: (error: unknown) => void }} Call
 * @typedef {{ worker: Worker, call: Call | null, ready: boolean, grown: boolean }} One worker
 */

/**
 * lane gives work to at most so many workers; what finds none waits for its turn.
 * @param {number} most
 */
function lane(most) {
  /** @type {Set<One>} */
  const workers = new Set();
  /** @type {Call[]} */
  const queue = []; // calls that wait for a worker
  let next = 1;

  // begin starts a worker; it takes the first call of the queue once it is ready.
  function begin() {
    /** @type {One} */
    const one = { worker: new Worker("start/worker.js"), call: null, ready: false, grown: false };
    workers.add(one);
    one.worker.onmessage = (event) => {
      try {
        hear(one, event.data);
      } catch (error) {
        end(one, error);
      }
    };
    one.worker.onerror = (event) => {
      event.preventDefault();
      end(one, new Error(event.message || "the worker did not start"));
    };
    return one;
  }

  /**
   * hear takes a message of a worker.
   * @param {One} one
   * @param {FromWorker} m
   */
  function hear(one, m) {
    if ("ready" in m) {
      one.ready = true;
      return give();
    }
    if ("died" in m) return end(one, new Error(m.error || "the worker ended"));
    const call = one.call;
    if (!call || call.id !== m.id) return;
    if ("share" in m) {
      call.progress?.(m.share, m.what);
    } else if ("take" in m) {
      call.take?.(m.take);
      nowhere.postMessage(0, [m.take.bytes.buffer]);
    } else if ("want" in m) {
      const part = call.give?.(m.want);
      if (!part) return end(one, new Error("the plates were put away meanwhile"));
      one.worker.postMessage({ id: m.id, part }, [part.buffer]);
    } else {
      one.call = null;
      one.grown ||= m.memory > MOST;
      if ("error" in m) call.reject(new Error(m.error));
      else call.resolve(m.result);
      if (one.grown) dismiss(one);
      give();
    }
  }

  function dismiss(/** @type {One} */ one) {
    one.worker.terminate();
    workers.delete(one);
  }

  /**
   * end dismisses a worker, and tells its call why.
   * @param {One} one
   * @param {unknown} error
   */
  function end(one, error) {
    dismiss(one);
    const failed = one.call ?? (one.ready ? null : queue.shift()); // one that cannot start keeps nobody waiting
    failed?.reject(error);
    give();
  }

  // give hands waiting calls to idle workers, and starts one where there is need.
  function give() {
    for (const one of workers) {
      const call = one.ready && !one.call ? queue.shift() : null;
      if (!call) continue;
      one.call = call;
      one.worker.postMessage(call.message);
    }
    const coming = [...workers].filter((one) => !one.ready).length;
    if (queue.length > coming && workers.size < most) begin();
  }

  /**
   * run has a worker do an operation.
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
      give();
    });
  }

  /**
   * halt ends the work of a job at once.
   * @param {number} token
   */
  function halt(token) {
    const waiting = queue.findIndex((call) => call.token === token);
    if (waiting >= 0) queue.splice(waiting, 1)[0].reject(new Stopped("stopped"));
    for (const one of workers) if (one.call?.token === token) end(one, new Stopped("stopped"));
  }

  // warm starts a worker before it is needed.
  const warm = () => { if (workers.size === 0) begin(); };

  return { run, halt, warm };
}

// Two pieces of work at a time, as many as a small machine has cores.
export const { run, halt, warm } = lane(2);

// aside does figures and small prints one by one: whatever is under way there holds
// up no plates, no register and nothing that is saved.
export const aside = lane(1);
