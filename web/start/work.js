// Long work, done in Web Workers and cancelled by ending them: Go in WebAssembly
// is not preempted, so nothing else stops a decoder at once.

// A worker that has grown beyond this many bytes is ended when it has nothing to
// do: the memory of WebAssembly never shrinks.
const MOST = 256 * 1024 * 1024;

// What is sent here is let go at once: the browser's own collector lets
// hundreds of megabytes pile up.
const { port1: nowhere, port2 } = new MessageChannel();
port2.close();

// Cancelled is what a cancelled call is rejected with.
export class Cancelled extends Error {}

// bench is one worker and the calls that wait for it.
function bench() {
  let worker = null;
  let ready = null;
  let next = 1;
  let grown = false; // the worker takes too much memory to be kept idle
  const waiting = new Map();

  function begin() {
    grown = false;
    worker = new Worker("start/worker.js");
    ready = new Promise((resolve, reject) => {
      worker.onmessage = (event) => {
        const m = event.data;
        if (m.ready) return resolve();
        if (m.died) { fail(new Error(m.error || "the worker ended")); return reject(new Error(m.error || "the worker ended")); }
        try {
          hear(m);
        } catch (error) {
          fail(error);
        }
      };
      worker.onerror = (event) => { event.preventDefault(); fail(new Error(event.message || "the worker did not start")); reject(new Error(event.message)); };
    });
    ready.catch(() => {});
  }

  // hear takes a message of a call.
  function hear(m) {
    const call = waiting.get(m.id);
    if (!call) return;
    if ("share" in m) {
      call.progress?.(m.share, m.what);
    } else if ("take" in m) {
      call.take(m.take);
      nowhere.postMessage(0, [m.take.bytes.buffer]);
    } else if ("want" in m) {
      const part = call.give(m.want);
      worker.postMessage({ id: m.id, part }, [part.buffer]);
    } else {
      waiting.delete(m.id);
      grown ||= m.memory > MOST;
      if (grown && waiting.size === 0) {
        worker.terminate();
        begin();
      }
      if ("error" in m) call.reject(new Error(m.error));
      else call.resolve(m.result);
    }
  }

  function fail(error) {
    const calls = [...waiting.values()];
    waiting.clear();
    worker?.terminate();
    worker = null;
    for (const call of calls) call.reject(error);
  }

  // warm starts the worker before it is needed.
  function warm() {
    if (!worker) begin();
  }

  // run sends one message and resolves to its result. On the way progress(share,
  // what) is told how far it is, take({source, level, w, h, at, bytes}) is given the
  // parts of the plates that are opened, and give({source, from, to}) is asked for
  // the bytes of those that are open.
  async function run(op, message, { progress, take, give } = {}) {
    warm();
    const id = next++;
    return new Promise((resolve, reject) => {
      waiting.set(id, { resolve, reject, progress, take, give });
      ready.then(() => { if (waiting.has(id)) worker.postMessage({ ...message, op, id }); }, reject);
    });
  }

  // cancelUnderWay ends whatever is under way; an idle worker stays.
  function cancelUnderWay() {
    if (waiting.size === 0) return;
    fail(new Cancelled("cancelled"));
    begin();
  }

  return { warm, run, cancelUnderWay };
}

export const { warm, run, cancelUnderWay } = bench();

// aside is a second worker, for figures and small prints: whatever is under way
// there holds up no plates, no register and nothing that is saved.
export const aside = bench();
