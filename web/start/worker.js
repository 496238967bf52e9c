// A Web Worker around worker.wasm, which comes compiled with the first message. The others
// go straight to the Go program.
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
  return last = new Uint8Array(reader.readAsArrayBuffer(file.slice(from, to)));
};

onmessage = async (/** @type {MessageEvent<{ program: WebAssembly.Module }>} */ { data: { program } }) => {
  onmessage = ({ data }) => {
    self.threeplyWork(data);
    if (data.part) postMessage({ spent: data.part }, { transfer: [data.part.buffer] });
  };
  try {
    const go = new Go();
    await go.run(await WebAssembly.instantiate(program, go.importObject));
    postMessage({ died: true });
  } catch (error) {
    postMessage({ died: true, error: String(error) });
  }
};
