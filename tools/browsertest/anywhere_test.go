package browsertest

import (
	"context"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"threeply/tools/onefile"
	"threeply/tools/site"
)

// TestOneFile opens the page as one file of a disc, in a browser that speaks German, and so
// does the page: the demonstration set stands, a worker registers it, a proof is saved, and
// nothing is asked of any network.
func TestOneFile(t *testing.T) {
	p := openBlank(t, windowWidth, windowHeight)
	name := oneFile(t)
	p.before(`Object.defineProperty(navigator, "language", { value: "de-DE" })`)
	asked := p.requests()
	p.goTo("file://" + filepath.ToSlash(name))
	p.waitReady()
	p.waitRegistered()
	folder := p.downloads()
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`(b => b && (b.click(), true))([...document.querySelectorAll("#drawer button")].find(b => b.textContent === "Den Proof sichern"))`)
	saved, err := os.ReadFile(waitFile(t, folder, ".png"))
	if err != nil {
		t.Fatal(err)
	}
	if picture := plain(decodedPNG(t, saved)); colours(picture, picture.Rect) < 500 {
		t.Error("the saved proof is no picture")
	}
	p.waitFor(idle)
	p.close()
	for _, address := range asked() {
		if !ofTheDisc(address) {
			t.Errorf("asked for %s", address)
		}
	}
}

// oneFile makes the page as one file of a disc.
func oneFile(t *testing.T) string {
	t.Helper()
	content, err := onefile.Of(siteDir)
	if err != nil {
		t.Fatal(err)
	}
	return made(t, "Threeply on a stick.html", content)
}

// ofTheDisc tells whether what is at an address needs no network.
func ofTheDisc(address string) bool {
	return strings.HasPrefix(address, "file:") || strings.HasPrefix(address, "blob:") || strings.HasPrefix(address, "data:")
}

// TestNoGraphicsCard opens the page in a browser without WebGL 2: the Go renderer draws the
// same pictures, and the page says so.
func TestNoGraphicsCard(t *testing.T) {
	p := openBlank(t, windowWidth, windowHeight)
	p.before(`(() => {
		const get = HTMLCanvasElement.prototype.getContext;
		HTMLCanvasElement.prototype.getContext = function (kind, ...how) { return /webgl/.test(kind) ? null : get.call(this, kind, ...how); };
		// the pictures come coarse and whole first, then row by row: at rest all rows are there
		let rows = 0;
		const put = CanvasRenderingContext2D.prototype.putImageData;
		CanvasRenderingContext2D.prototype.putImageData = function (...what) {
			const { width, height } = what[0];
			rows = width === this.canvas.width && height === this.canvas.height ? 0 : rows + width * height;
			observed.drawn++;
			return put.apply(this, what);
		};
		const still = observed.rest;
		observed.rest = async () => {
			for (let times = 0; times < 8;) { // the drawing begins some frames after what it shows
				await still();
				const all = JSON.parse(threeply.view()).frames.reduce((sum, f) => sum + f.w * f.h, 0);
				times = rows < 0.98 * all ? 0 : times + 1;
			}
		};
	})()`)
	p.navigate()
	p.waitReady()
	p.waitRegistered()
	p.waitFor(`v.messages.some(m => m.text.includes("no WebGL 2"))`)
	p.dismissAll()
	p.command("look", map[string]any{"id": "beside"})
	p.rest()
	p.nudgedAgainstNative()
}

// requests notes every address that the tab asks for, until it is closed.
func (p *page) requests() func() []string {
	p.t.Helper()
	var all []string
	done := make(chan struct{})
	events := chromedp.Events(p.ctx, network.RequestWillBeSent)
	go func() {
		defer close(done)
		for event, err := range events {
			if err != nil {
				return
			}
			all = append(all, event.Request.URL)
		}
	}()
	p.do("watching the network", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, network.Enable, network.EnableParams{})
		return err
	}))
	return func() []string {
		<-done
		if len(all) == 0 {
			p.t.Error("the network was not watched: not even the page was asked for")
		}
		return all
	}
}

// keepsItself holds once the page's service worker has all files.
const keepsItself = `(await navigator.serviceWorker.ready).active.state === "activated"`

// until waits until a JavaScript expression that may await holds.
func (p *page) until(condition string) {
	p.t.Helper()
	p.run(`(async () => { while (!(` + condition + `)) await new Promise((done) => setTimeout(done, 20)); })()`)
}

// TestKeptWhole tries the service worker on a page of two files. What it has kept is served
// when the host is gone; files of two versions are never taken; and a newer version, whole,
// comes with the next load of the only tab.
func TestKeptWhole(t *testing.T) {
	built := time.Now()
	version := func(n string) fstest.MapFS {
		made := fstest.MapFS{
			"index.html": {Data: []byte(`<title>` + n + `</title><link rel="icon" href="data:,"><script src="a.js"></script><script>navigator.serviceWorker.register("offline.js", {updateViaCache: "none"})</script>`)},
			"a.js":       {Data: []byte(`window.a = ` + n)},
		}
		worker, err := os.ReadFile("../../web/start/offline.js")
		if err != nil {
			t.Fatal(err)
		}
		script, err := site.Offline(made, worker)
		if err != nil {
			t.Fatal(err)
		}
		made["offline.js"] = &fstest.MapFile{Data: script}
		for _, file := range made {
			file.ModTime = built // which the host tells versions by
		}
		built = built.Add(time.Second)
		return made
	}
	one, two := version("1"), version("2")
	mixed := fstest.MapFS{"index.html": one["index.html"], "a.js": two["a.js"], "offline.js": two["offline.js"]}

	p := openBlank(t, windowWidth, windowHeight)
	var serves atomic.Pointer[fstest.MapFS] // nil while the host is gone
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if files := serves.Load(); files != nil {
			site.Handler(fs.FS(*files)).ServeHTTP(w, r)
		} else {
			http.Error(w, "gone", http.StatusServiceUnavailable)
		}
	}))
	defer server.Close()
	stands := func(n string) {
		t.Helper()
		p.waitFor(`document.title === ` + quoted(n) + ` && window.a === ` + n)
	}
	reload := func() { p.do("a reload", chromedp.Reload()) }

	serves.Store(&one)
	p.goTo(server.URL + "/" + withOffline)
	stands("1")
	p.until(keepsItself)
	serves.Store(nil)
	reload()
	stands("1")
	serves.Store(&mixed)
	p.until(`(await (await navigator.serviceWorker.ready).update().catch(() => null), (await caches.keys()).length === 1)`)
	reload()
	stands("1")
	serves.Store(&two)
	p.until(`(await (await navigator.serviceWorker.ready).update().catch(() => null), (await navigator.serviceWorker.ready).waiting !== null)`)
	reload()
	stands("2")
	p.until(`(await caches.keys()).length === 1`)
	serves.Store(nil)
	reload()
	stands("2")
}

// TestPartsAreMissing opens the page where the server lacks one of its files, or the browser lets no
// worker begin: the page says which file it is, or what was to be done, and that it waits for scans.
func TestPartsAreMissing(t *testing.T) {
	for _, missing := range []struct{ file, script, says string }{
		{file: "page.wasm", says: "Threeply has stopped: page.wasm cannot be had from the server (404)."},
		{file: "worker.wasm", says: "worker.wasm cannot be had from the server (404)."},
		{script: `window.Worker = class { constructor() { throw new Error("workers are refused"); } }`, says: "workers are refused"},
	} {
		p := openBlank(t, windowWidth, windowHeight)
		if missing.script != "" {
			p.before(missing.script)
		}
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if missing.file != "" && r.URL.Path == "/"+missing.file {
				http.NotFound(w, r)
				return
			}
			site.Handler(os.DirFS(siteDir)).ServeHTTP(w, r)
		}))
		p.goTo(server.URL + "/")
		p.waitFor(`[...document.querySelectorAll(".message")].some(m => m.textContent.includes(` + quoted(missing.says) + `))`)
		if missing.file != "page.wasm" {
			p.waitFor(`document.getElementById("opening").textContent === "Drop three scans of your own."`)
		}
		p.close()
		server.Close()
		p.mu.Lock()
		p.problems = nil // of what is missing
		p.mu.Unlock()
	}
}
