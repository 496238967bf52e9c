package browsertest

import (
	"context"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestWorkerDies ends a worker from outside while it works: the page says so, keeps
// all that is open, and the next piece of work runs. First one that opens another set has no
// memory left when it has handed a part of it over; then one registers.
func TestWorkerDies(t *testing.T) {
	p := pier(t)
	text := p.sessionText()
	p.run(`(() => {
		const post = Worker.prototype.postMessage, died = new Set();
		Worker.prototype.postMessage = function (message, ...more) {
			post.call(this, message, ...more);
			if (died.has(message.op) || !["open", "register"].includes(message.op)) return;
			died.add(message.op);
			if (message.op === "register") {
				this.terminate();
				this.dispatchEvent(new ErrorEvent("error", {message: "out of memory", cancelable: true}));
			} else {
				const end = ({ data }) => {
					if (!data.take) return;
					this.removeEventListener("message", end);
					this.dispatchEvent(new MessageEvent("message", {data: {died: true, error: "memory was refused"}}));
				};
				this.addEventListener("message", end);
			}
		};
	})()`)
	plates := demoPlates(t)
	p.drop(plates[:]...)
	p.waitFor(idle + ` && v.messages.some(m => m.kind === "error" && m.text.includes("memory was refused"))`)
	if got := p.sessionText(); got != text {
		t.Errorf("a second set that did not open made the session\n%s", got)
	}
	p.dismissAll()
	p.tell("register", nil)
	p.waitFor(`v.messages.some(m => m.kind === "error" && m.text.includes(": out of memory. Do it again"))`)
	if got := p.sessionText(); got != text {
		t.Errorf("the session has become\n%s", got)
	}
	p.tell("register", nil)
	p.waitFor(idle + ` && v.messages.length === 0`)
}

// TestGraphicsCardLost takes the graphics context away: the page comes back by itself,
// with all as it was, and with what was under way.
func TestGraphicsCardLost(t *testing.T) {
	p := pier(t)
	p.reorder()
	p.waitFor(idle)
	text := p.sessionText()
	p.tell("register", nil)
	p.run(`window.before = true;
		if (JSON.parse(threeply.view()).jobs.length === 0) throw new Error("nothing is under way");
		addEventListener("pagehide", () => sessionStorage.setItem("left", JSON.parse(threeply.view()).jobs.length));
		document.querySelector("#stage canvas").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext();`)
	p.waitFor(`!window.before && v && v.plates.length === 3 && v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if got := p.sessionText(); got != text {
		t.Errorf("it came back with\n%s, not\n%s", got, text)
	}
	if left := eval[string](p, `sessionStorage.getItem("left")`); left != "0" {
		t.Errorf("%s jobs were under way when the page was left", left)
	}
}

// TestGraphicsCardLostAgain takes the graphics context away where a reload would not bring the work
// back, for the browser keeps nothing: the program draws on without the card, at any size of
// the window, and says so. When it ends, the work can be saved all the same.
func TestGraphicsCardLostAgain(t *testing.T) {
	p := openBlank(t, windowWidth, windowHeight)
	p.before(`for (const name of ["localStorage", "sessionStorage", "indexedDB"]) {
		Object.defineProperty(window, name, {get() { throw new DOMException("The operation is insecure.", "SecurityError"); }});
	}`)
	p.openPier()
	p.waitFor(`v.saved.state === "refused" && v.messages.some(m => m.text.includes("does not keep your work: its storage is closed to this page."))`)
	p.reorder()
	p.waitFor(idle)
	text := p.sessionText()
	p.run(`window.before = true;
		document.querySelector("#stage canvas").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext();`)
	p.waitFor(`window.before && document.querySelector("#stage canvas").getContext("2d") && v.messages.some(m => m.text.includes("graphics card was lost"))`)
	p.resize(windowWidth+500, windowHeight+300)
	p.waitFor(idle)
	p.rest()
	p.resize(windowWidth-200, windowHeight-100)
	p.command("look", map[string]any{"id": "beside"})
	p.waitFor(idle)
	p.rest()
	if n := colours(p.settled(), p.frameRect("print")); n < 500 {
		t.Errorf("the print shows %d colours", n)
	}
	if got := p.sessionText(); got != text {
		t.Errorf("the session has become\n%s, not\n%s", got, text)
	}
	folder := p.downloads()
	p.run(`try { threeply.do(); } catch { /* a command is missing */ }`)
	p.pressMessage("Save the session")
	saved, err := os.ReadFile(waitFile(t, folder, "session.json"))
	if err != nil {
		t.Fatal(err)
	}
	if got := string(saved); got != text {
		t.Errorf("saved is\n%s, not\n%s", got, text)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.problems = slices.DeleteFunc(p.problems, func(problem string) bool { return strings.Contains(problem, "Go program has already exited") })
}

// TestStopOneOfTwo stops one of two exports: the other's file comes.
func TestStopOneOfTwo(t *testing.T) {
	p := pier(t)
	folder := p.downloads()
	p.run(`window.held = []`) // both exports take as long as the test wants
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`document.querySelector("#panel-sheets button")`)
	p.run(`for (const label of ["Save the reference as TIFF", "Save the proof"]) [...document.querySelectorAll("#panel-sheets button")].find(b => b.textContent === label).click()`)
	p.waitFor(`v.jobs.length === 2 && held.length >= 2 && document.querySelectorAll("#busy .job button").length === 2`)
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

// TestKilled kills the tab at a random moment of work: nothing older is lost. Package desk
// does so after each of 120 acts, in a browser that is played.
func TestKilled(t *testing.T) {
	p := pier(t)
	shared.pier = nil // it is not handed on
	random := rand.New(rand.NewPCG(10, 7))
	const lost = 2 * time.Second // a second is what may be lost; twice that where other work takes the machine
	type moment struct {
		at   time.Time
		text string
	}
	orders := []string{"ymc", "ycm", "mcy", "cym", "cmy", "myc"}
	past := []moment{{time.Now(), p.sessionText()}}
	for range 3 + random.IntN(12) {
		switch random.IntN(5) {
		case 0:
			p.command("undo", nil)
		case 1:
			p.command("nudge", map[string]any{"printer": "cyan", "dxUm": float64(random.IntN(900))})
		case 2:
			p.command("palette", map[string]any{"id": []string{"earth", "arylide", "gamboge"}[random.IntN(3)]})
		default:
			p.command("order", map[string]any{"order": orders[random.IntN(6)]})
		}
		past = append(past, moment{time.Now(), p.sessionText()})
	}
	time.Sleep(time.Duration(random.IntN(400)) * time.Millisecond) // the moment is random, nothing is waited for
	killed := time.Now()
	next := p.sibling()
	p.kill()
	next.load()
	next.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	got := next.sessionText()
	newest := slices.IndexFunc(past, func(m moment) bool { return killed.Sub(m.at) <= lost })
	if newest < 0 {
		newest = len(past)
	}
	allowed := past[max(newest-1, 0):] // the last that is older, and all later ones
	if !slices.ContainsFunc(allowed, func(m moment) bool { return m.text == got }) {
		t.Fatalf("the session that came back is older than %v", lost)
	}
}

// kill ends the process of a tab: none of its code runs any more.
func (p *page) kill() {
	p.t.Helper()
	p.do("the end of the tab", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		ctx, cancel := context.WithTimeout(ctx, time.Second/5) // the dead give no answer
		defer cancel()
		cdp.Call(ctx, target, cdppage.Crash, cdp.Empty{})
		return nil
	}))
	p.close()
}
