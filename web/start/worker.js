// A Web Worker around worker.wasm, which comes compiled with the first message. The others
// go straight to the Go program. Or the first message asks for a program to be compiled: it goes
// to the page, and that is all. Or it brings a picture, which goes back as a data URL.
importScripts("../wasm_exec.js");

// release gives memory back at once, by sending it nowhere: the browser's own collector
// lets a hundred megabytes pile up. work.js does the same on the page's side.
const { port1: nowhere, port2 } = new MessageChannel();
port2.close();
const release = (/** @type {Uint8Array<ArrayBuffer>} */ bytes) => nowhere.postMessage(0, [bytes.buffer]);

// threeplyRead reads a part of a file for the Go program, which has copied what it was
// given before: that is released.
const reader = new FileReaderSync();
/** @type {Uint8Array<ArrayBuffer> | null} */
let last = null;
self.threeplyRead = (file, from, to) => {
  if (last) release(last);
  last = null; // the next one may not be had
  return last = new Uint8Array(reader.readAsArrayBuffer(file.slice(from, to)));
};

// threeplyHash tells the Go program the SHA-256 of a file, or null.
self.threeplyHash = (file, heard) => {
  file.arrayBuffer().then((bytes) => crypto.subtle.digest("SHA-256", bytes)).then((sum) => heard(new Uint8Array(sum)), () => heard(null));
};

// threeplyInflate begins a stream that the browser unpacks (RFC 1950) for the Go program, which hears
// of it in wasm/worker/inflate.go.
self.threeplyInflate = (heard) => {
  const { readable, writable } = new DecompressionStream("deflate");
  const from = readable.getReader(), to = writable.getWriter();
  let left = false;
  const tell = (/** @type {boolean | Uint8Array | null} */ what) => { if (!left) heard(what); };
  const failed = () => tell(false);
  return {
    give(bytes) { to.write(bytes).then(() => tell(true), failed); },
    end() { to.close().catch(failed); },
    ask() { from.read().then(({ value }) => tell(value ?? null), failed); },
    leave() {
      left = true;
      from.cancel().catch(() => {});
    },
  };
};

/**
 * compiled is a program compiled: of a file, or packed with gzip.
 * @param {string | Blob} from
 */
async function compiled(from) {
  if (typeof from === "string") return WebAssembly.compileStreaming(fetch(from));
  const unpacked = from.stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compileStreaming(new Response(unpacked, { headers: { "Content-Type": "application/wasm" } }));
}

/**
 * encoded is a picture as a data URL.
 * @param {ImageBitmap} picture
 */
async function encoded(picture) {
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  canvas.getContext("2d")?.drawImage(picture, 0, 0);
  picture.close();
  return new FileReaderSync().readAsDataURL(await canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 }));
}

onmessage = async (/** @type {MessageEvent<{ program: WebAssembly.Module } | { compile: string | Blob } | { encode: ImageBitmap }>} */ { data: first }) => {
  if ("encode" in first) {
    postMessage({ encoded: await encoded(first.encode).catch(() => "") });
    return;
  }
  if ("compile" in first) {
    postMessage({ program: await compiled(first.compile).catch(() => null) });
    return;
  }
  onmessage = ({ data }) => {
    self.threeplyWork(data);
    if (data.part) postMessage({ spent: data.part }, { transfer: [data.part.buffer] });
  };
  try {
    const go = new Go();
    await go.run(await WebAssembly.instantiate(first.program, go.importObject));
    postMessage({ died: true });
  } catch (error) {
    postMessage({ died: true, error: String(error) });
  }
};
