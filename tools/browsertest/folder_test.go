package browsertest

import (
	"os"
	"strings"
	"testing"
)

// checkStoppedFiles stops the job that makes all files while another one is under way: that one goes
// on and its file comes, of the stopped one nothing does.
func checkStoppedFiles(t *testing.T, p *page, folder string) {
	t.Helper()
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`document.getElementById("panel-sheets")?.checkVisibility()`)
	before, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	p.run(`for (const label of ["Alle Dateien", "ICC-Profil dieser Pigmentpapiere"]) [...document.querySelectorAll("#drawer button")].find(b => b.textContent === label).click()`)
	p.waitFor(`v.jobs.length === 2 && v.jobs[0].share > 0 && document.querySelectorAll("#busy button").length === 2`)
	p.run(`document.querySelector("#busy button").click()`)
	p.waitFor(`v.jobs.length === 1 && v.jobs[0].words === "Computing the ICC profile" || v.jobs.length === 0`)
	waitFile(t, folder, "tissues.icc")
	p.waitFor(`v.jobs.length === 0`)
	after, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(after) != len(before)+1 {
		t.Errorf("a stopped job and another leave %d files, want 1: %v", len(after)-len(before), after)
	}
	p.command("station", map[string]any{"id": "review"})
}

// checkFolder puts all files into a folder of the browser's own, which is chosen without asking:
// stopped, each file that is there is whole; done, what lay there before is as it was. Where leave to
// write is withdrawn half-way, or the disk is full, what was put there stays, of the rest nothing is left.
func checkFolder(t *testing.T, p *page) {
	t.Helper()
	pressed := func() {
		p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === "Alle Dateien in einen Ordner …").click()`)
	}
	within := func() map[string]int {
		return eval[map[string]int](p, `(async () => {
			const sizes = {};
			for await (const [name, entry] of window.testFolder) sizes[name] = (await entry.getFile()).size;
			return sizes;
		})()`)
	}
	p.run(`(async () => {
		const root = await navigator.storage.getDirectory();
		window.testFolder = await root.getDirectoryHandle("Ordner", {create: true});
		window.showDirectoryPicker = async () => window.testFolder;
	})()`)
	pressed()
	p.waitFor(`v.jobs.length === 1 && v.jobs[0].share > 2 / 20`) // two files at least are there
	p.run(`document.querySelector("#busy button").click()`)
	p.waitFor(`v.jobs.length === 0 && v.messages.some(m => m.text.startsWith("Not all files are in the folder."))`)
	some := within()
	for name, size := range some {
		if size < 100 {
			t.Errorf("stopped, %s has %d bytes", name, size)
		}
	}
	if len(some) < 2 || len(some) > 12 {
		t.Errorf("stopped in the middle the folder holds %v", some)
	}
	// all but two names are taken
	p.run(`(async () => {
		for (const what of ["proof.tif", "reference.tif", "red-plate-in-register.tif", "green-plate-in-register.tif", "blue-plate-in-register.tif", "reference-in-register.tif",
			"yellow-negative.tif", "magenta-negative.tif", "cyan-negative.tif", "review.html", "register.html", "register.csv", "verdict.csv", "session.json", "test-sheet.html", "test-sheet.json",
			"readings.csv", "test-sheet-yellow.tif", "test-sheet-magenta.tif", "test-sheet-cyan.tif", "film-wedge.tif", "tissues.icc"]) {
			const out = await (await window.testFolder.getFileHandle(threeply.fileName(what), {create: true})).createWritable();
			await out.write("mine");
			await out.close();
		}
	})()`)
	before := within()
	pressed()
	p.waitFor(`v.jobs.length === 0 && v.messages.some(m => m.text === "Files put into the folder: 2.") && v.messages.some(m => m.text.startsWith("There already, and left as they are: "))`)
	after := within()
	for name, size := range before {
		if size != 4 || after[name] != size {
			t.Errorf("%s has %d bytes, %d were there", name, after[name], size)
		}
	}
	for _, what := range []string{"process.html", "curves.csv"} {
		name := eval[string](p, `threeply.fileName(`+quoted(what)+`)`)
		if after[name] < 100 || len(after) != len(before)+2 {
			t.Errorf("%s has %d bytes in a folder of %d files, %d were there", name, after[name], len(after), len(before))
		}
	}
	for _, c := range []struct{ what, missing, refuse, says string }{
		{"leave is withdrawn", `["process.html", "curves.csv"]`, `testFolder.getFileHandle = function (name, how) {
			if (how?.create && name === threeply.fileName("curves.csv")) throw new DOMException("no leave", "NotAllowedError");
			return FileSystemDirectoryHandle.prototype.getFileHandle.call(this, name, how);
		}`, "Ordner: the browser does not let the page write there."},
		{"the disk is full", `["curves.csv"]`, `delete testFolder.getFileHandle;
			const write = FileSystemWritableFileStream.prototype.write;
			FileSystemWritableFileStream.prototype.write = async function () {
				FileSystemWritableFileStream.prototype.write = write;
				throw new DOMException("full", "QuotaExceededError");
			}`, "Ordner: there is no room left."},
	} {
		p.run(`(async () => {
			for (const what of ` + c.missing + `) await testFolder.removeEntry(threeply.fileName(what)).catch(() => {});
			` + c.refuse + `
		})()`)
		pressed()
		p.waitFor(`v.jobs.length === 0 && v.messages.some(m => m.text.includes(` + quoted(c.says) + `))`)
		there := within()
		for name, size := range after {
			if now, has := there[name]; strings.HasSuffix(name, "curves.csv") == has || has && now != size {
				t.Errorf("%s: %s has %d bytes, is there: %v; it had %d", c.what, name, now, has, size)
			}
		}
	}
	p.waitFor(`v.messages.some(m => m.text === "Not all files are in the folder. There are 1, each of them whole.")`)
}
