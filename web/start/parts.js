// The parts of the page beside its scripts: programs and the demonstration set. They are
// files of the folder that it is served from; or, where the page is one file, it holds them
// as texts (tools/onefile), and nothing is fetched.

import { reason } from "../ui/words.js";

/** @type {Record<string, string>} */
const types = { wasm: "application/wasm", json: "application/json", tif: "image/tiff", js: "text/javascript" };

const held = (/** @type {string} */ name) => document.getElementById(`part ${name}`);

// inOneFile tells whether the page is one file.
export const inOneFile = held("page.wasm") !== null;

/**
 * part is a part of the page, by its path in the folder.
 * @param {string} name
 * @returns {Promise<Response>}
 */
export async function part(name) {
  if (!inOneFile) return fetch(name);
  const text = atob(held(name)?.textContent ?? "");
  const packed = new Uint8Array(text.length);
  for (let i = 0; i < packed.length; i++) packed[i] = text.charCodeAt(i);
  const type = types[name.slice(name.lastIndexOf(".") + 1)];
  return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": type } });
}

// ---- workers

const script = inOneFile ? URL.createObjectURL(new Blob([held("start/worker.js")?.textContent ?? ""], { type: types.js })) : "start/worker.js";

/** @type {Promise<WebAssembly.Module> | null} */
let compiled = null; // the workers' program, once for all of them

/**
 * worker starts a worker. Where its program cannot be had, it gets an error event.
 * @returns {Worker}
 */
export function worker() {
  const started = new Worker(script);
  compiled ??= WebAssembly.compileStreaming(part("worker.wasm"));
  compiled.then((program) => started.postMessage({ program }), (error) => {
    compiled = null;
    started.dispatchEvent(new ErrorEvent("error", { message: reason(error) }));
  });
  return started;
}
