package browsertest

import (
	"testing"
)

// TestWorkerDies ends a worker from outside while it works: the page says so, keeps
// all that is open, and the next piece of work runs.
func TestWorkerDies(t *testing.T) {
	p := pier(t)
	text := p.sessionText()
	p.run(`(() => {
		for (const worker of workers) {
			const post = worker.postMessage.bind(worker);
			worker.postMessage = (message, transfer) => {
				if (message.op !== "register") return post(message, transfer);
				worker.terminate();
				worker.dispatchEvent(new ErrorEvent("error", {message: "out of memory", cancelable: true}));
			};
		}
	})()`)
	p.tell("register", nil)
	p.waitFor(`v.messages.some(m => m.kind === "error" && m.text.includes("out of memory"))`)
	if got := p.sessionText(); got != text {
		t.Errorf("the session has become\n%s", got)
	}
	p.tell("register", nil)
	p.waitFor(idle + ` && v.messages.length === 0`)
}

// TestStorageRefused closes the browser's storage while the user works: the page does
// not say saved, and goes on keeping once it is open again.
func TestStorageRefused(t *testing.T) {
	p := pier(t)
	p.waitFor(`v.saved.state === "saved"`)
	p.run(`window.put = IDBObjectStore.prototype.put;
		IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };`)
	p.reorder()
	p.waitFor(`v.saved.state === "refused" && v.messages.some(m => m.text.includes("no room left"))`)
	p.run(`IDBObjectStore.prototype.put = window.put`)
	p.pressMessage("Try again")
	p.waitFor(`v.saved.state === "saved"`)
	text := p.sessionText()
	p.reload()
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if got := p.sessionText(); got != text {
		t.Errorf("after a reload the session is\n%s", got)
	}
}

// TestGraphicsCardLost takes the graphics context away: the page comes back by itself,
// with all as it was.
func TestGraphicsCardLost(t *testing.T) {
	p := pier(t)
	p.reorder()
	text := p.sessionText()
	p.run(`window.before = true;
		document.querySelector("#stage canvas").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext();`)
	p.waitFor(`!window.before && v && v.plates.length === 3 && v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if got := p.sessionText(); got != text {
		t.Errorf("it came back with\n%s, not\n%s", got, text)
	}
}

// TestStopOneOfTwo stops one of two exports: the other's file comes.
func TestStopOneOfTwo(t *testing.T) {
	p := pier(t)
	folder := p.downloads()
	p.run(`window.held = []`) // both exports take as long as the test wants
	p.run(`import("/start/saving.js").then(saving => { saving.saveTIFF("reference"); saving.saveProof("print", "png", "srgb"); })`)
	p.waitFor(`v.jobs.length === 2 && held.length === 2 && document.querySelectorAll("#busy .job button").length === 2`)
	p.run(`document.querySelector("#busy .job button").click()`)
	p.run(`for (const send of held.splice(0)) send(); window.held = null;`)
	waitFile(t, folder, "-proof.png")
	p.waitFor(idle)
	if v := p.view(); len(v.errors()) != 0 {
		t.Errorf("messages: %q", v.errors())
	}
	if files := filesOf(t, folder, "-in-register.tif"); files != 0 {
		t.Error("the stopped export came all the same")
	}
}
