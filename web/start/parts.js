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
 * part is a part of the page, by its path in the folder. An error names it.
 * @param {string} name
 * @returns {Promise<Response>}
 */
export async function part(name) {
  if (!inOneFile) {
    const got = await fetch(name).catch(reason);
    if (typeof got !== "string" && got.ok) return got;
    throw new Error(`${name} cannot be had from the server (${typeof got === "string" ? got : got.status})`);
  }
  const type = types[name.slice(name.lastIndexOf(".") + 1)];
  return new Response(packed(name).stream().pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": type } });
}

/**
 * packed is a part that the page holds, packed with gzip.
 * @param {string} name
 */
function packed(name) {
  const text = atob(held(name)?.textContent ?? "");
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i);
  return new Blob([bytes]);
}

// ---- programs and workers

const script = inOneFile ? URL.createObjectURL(new Blob([held("start/worker.js")?.textContent ?? ""], { type: types.js })) : "start/worker.js";

/**
 * begun is a worker, null where the browser lets none begin.
 * @returns {Worker | null}
 */
function begun() {
  try {
    return new Worker(script);
  } catch {
    return null;
  }
}

let compiler = begun(); // that compiles the next program: it takes a while until a worker is there

/**
 * compile has a program compiled by a worker: the page's own thread would stand still for half a
 * second. Where no worker may, the page does it. The worker stays: what a browser then finds worth
 * optimising Chromium keeps for the next time, as long as who asked for the program lives.
 * @param {string} name
 * @returns {Promise<WebAssembly.Module>}
 */
const compile = (name) => new Promise((/** @type {(program: WebAssembly.Module) => void} */ resolve, reject) => {
  const own = compiler ?? begun();
  compiler = null;
  const here = () => {
    own?.terminate();
    part(name).then((response) => WebAssembly.compileStreaming(response)).then(resolve, reject);
  };
  if (!own) return here();
  own.onerror = (event) => { event.preventDefault(); here(); };
  own.onmessage = (/** @type {MessageEvent<{ program?: WebAssembly.Module }>} */ { data: { program } }) => {
    if (!program) return here();
    compiler = own;
    resolve(program);
  };
  own.postMessage({ compile: inOneFile ? packed(name) : new URL(name, document.baseURI).href });
});

/**
 * encoded is a picture as a data URL, made by a worker; "" where it cannot.
 * @param {ImageBitmap} picture
 * @returns {Promise<string>}
 */
export const encoded = (picture) => new Promise((resolve) => {
  const encoder = new Worker(script);
  const end = (/** @type {string} */ text) => {
    encoder.terminate();
    resolve(text);
  };
  encoder.onerror = (event) => { event.preventDefault(); end(""); };
  encoder.onmessage = ({ data }) => end(data.encoded);
  encoder.postMessage({ encode: picture }, [picture]);
});

// workersMay has the workers' program compiled. It is called once the canvas has its context: for that
// the page waits for the browser's process of the graphics card, and long where a compiler keeps the
// cores busy.
/** @type {() => void} */
export let workersMay = () => {};
const allowed = new Promise((/** @type {(done: void) => void} */ done) => { workersMay = done; });

// page is the page's program; the workers' one is compiled after it.
export const page = compile("page.wasm");
page.catch(() => {}); // boot.js says it

/** @type {Promise<WebAssembly.Module> | null} */
let compiled = Promise.all([page, allowed]).then(() => compile("worker.wasm")); // once for all workers

/**
 * worker starts a worker. Where its program cannot be had, it gets an error event.
 * @returns {Worker}
 */
export function worker() {
  const started = new Worker(script);
  compiled ??= compile("worker.wasm");
  compiled.then((program) => started.postMessage({ program }), (error) => {
    compiled = null;
    started.dispatchEvent(new ErrorEvent("error", { message: reason(error) }));
  });
  return started;
}
