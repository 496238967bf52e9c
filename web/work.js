// Long work, done in a Web Worker and cancelled by ending it: Go in
// WebAssembly is not preempted, so nothing else stops a decoder at once.

let worker = null;
let ready = null;
let next = 1;
const waiting = new Map();

function begin() {
  worker = new Worker("worker.js");
  ready = new Promise((resolve, reject) => {
    worker.onmessage = (event) => {
      const m = event.data;
      if (m.ready) return resolve();
      if (m.died) { fail(new Error(m.error || "the worker ended")); return reject(new Error(m.error || "the worker ended")); }
      const call = waiting.get(m.id);
      if (!call) return;
      if ("share" in m) return call.progress?.(m.share, m.what);
      waiting.delete(m.id);
      if ("error" in m) call.reject(new Error(m.error));
      else call.resolve(m.result);
    };
    worker.onerror = (event) => { event.preventDefault(); fail(new Error(event.message || "the worker did not start")); reject(new Error(event.message)); };
  });
  ready.catch(() => {});
}

function fail(error) {
  const calls = [...waiting.values()];
  waiting.clear();
  worker?.terminate();
  worker = null;
  for (const call of calls) call.reject(error);
}

// Cancelled is what a cancelled call is rejected with.
export class Cancelled extends Error {}

// warm starts the worker before it is needed.
export function warm() {
  if (!worker) begin();
}

// run sends one message and resolves to its result.
export async function run(op, message, transfer, progress) {
  warm();
  const id = next++;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject, progress });
    ready.then(() => { if (waiting.has(id)) worker.postMessage({ ...message, op, id }, transfer); }, reject);
  });
}

// cancelUnderWay ends whatever is under way; an idle worker stays.
export function cancelUnderWay() {
  if (waiting.size === 0) return;
  fail(new Cancelled("cancelled"));
  begin();
}
