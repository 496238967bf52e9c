// A Web Worker around worker.wasm. Messages go straight to the Go program.
importScripts("wasm_exec.js");

(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(fetch("worker.wasm"), go.importObject);
  onmessage = (event) => self.threeplyWork(event.data);
  await go.run(instance);
  postMessage({ died: true });
})().catch((error) => postMessage({ died: true, error: String(error) }));
