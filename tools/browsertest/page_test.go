package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"image"
	"math"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// observer runs before any script of the page. It keeps every task that blocks the
// page longer than 50 ms, the time at which a glimpse of what was left was in sight and that at
// which the first picture stood, and counts
// what the page draws and what it changes of its document, so that a test can wait
// until both have come to rest.
//
// The page does not keep itself for a start without a network, which would cost every test
// something, but where it is opened withOffline.
const observer = `
if (location.search !== "?offline") Object.defineProperty(navigator, "serviceWorker", {value: undefined});
try { localStorage.setItem("visited", "yes"); } catch { /* no page yet */ } // no first visit
window.observed = {tasks: [], seen: 0, rendered: 0, ready: 0, drawn: 0, changed: 0};
new PerformanceObserver((list) => {
	for (const entry of list.getEntries()) {
		observed.tasks.push({start: entry.startTime, duration: entry.duration});
	}
}).observe({type: "longtask", buffered: true});
new MutationObserver(() => {
	observed.changed++;
	document.getElementById("glimpse")?.decode().then(() => { observed.seen ||= performance.now(); }, () => {});
	if (!observed.rendered && document.documentElement.dataset.rendered === "yes") observed.rendered = performance.now();
	if (!observed.ready && document.documentElement.dataset.ready === "yes") observed.ready = performance.now();
}).observe(document, {subtree: true, childList: true, characterData: true, attributes: true});
// While a shader is linked the page draws nothing, and asks whether the graphics card is done.
for (const name of ["drawElements", "drawArrays", "getSyncParameter", "getProgramParameter"]) {
	const draw = WebGL2RenderingContext.prototype[name];
	WebGL2RenderingContext.prototype[name] = function (...how) { observed.drawn++; return draw.apply(this, how); };
}
// rest resolves once the page has neither drawn nor changed anything for four frames.
observed.rest = () => new Promise((done) => {
	let before = "", still = 0;
	const look = () => {
		const now = observed.drawn + " " + observed.changed;
		still = now === before ? still + 1 : 0;
		before = now;
		if (still >= 4) done();
		else requestAnimationFrame(look);
	};
	requestAnimationFrame(look);
});
`

// withOffline comes after the address of a page that is to keep itself.
const withOffline = "?offline"

// tab is one tab of the browser with the built page in it.
type tab struct {
	address string // of the server that the page comes from
	ctx     context.Context
	close   func() // closes it and waits until nothing more is heard of it

	mu       sync.Mutex
	problems []string // errors on the console, until they are taken
}

// page is a tab in the hands of one test.
type page struct {
	t testing.TB
	*tab
}

// task is a stretch of time, in ms after navigation, in which the page was blocked.
type task struct {
	Start    float64 `json:"start"`
	Duration float64 `json:"duration"`
}

// open opens the page in a tab of its own, with nothing kept from other tests, in a
// window of the given size, in CSS pixels, and waits for the first picture. It is for
// tests of the start, of what is kept and of what cannot be taken back; the rest share
// a page, see demo. Errors on the console fail the test at its end.
func open(t testing.TB, width, height int64) *page {
	t.Helper()
	p := openBlank(t, width, height)
	p.navigate()
	p.waitReady()
	return p
}

// openBlank opens an empty tab that observes what the page will do, in a browser that
// has kept nothing.
func openBlank(t testing.TB, width, height int64) *page {
	t.Helper()
	shared := stand(t)
	shared.rest.take(t)
	p := &page{t: t, tab: newTab(&shared.rest, shared.origin())}
	p.own(width, height)
	return p
}

// own gives the tab its size and its observer, and closes it with the test.
func (p *page) own(width, height int64) {
	p.t.Helper()
	p.t.Cleanup(func() {
		if p.t.Failed() {
			p.leaveShot()
		}
		p.close()
		p.complain()
	})
	p.resize(width, height)
	p.before(observer)
}

// newTab is a new tab of a lane for the page at an address; its console is heard.
func newTab(l *lane, address string) *tab {
	ctx, cancel := chromedp.NewContext(l.profile)
	b := &tab{address: address, ctx: ctx}
	messages := chromedp.Console(ctx)
	done := make(chan struct{})
	b.close = sync.OnceFunc(func() { cancel(); <-done })
	go func() {
		defer close(done)
		for message, err := range messages {
			if err != nil {
				return
			}
			if message.Type == chromedp.ConsoleError || message.IsException() {
				b.mu.Lock()
				b.problems = append(b.problems, fmt.Sprintf("%v (%s:%d)", message, message.URL, message.Line+1))
				b.mu.Unlock()
			}
		}
	}()
	return b
}

// before has a script run before any of the page's own.
func (p *page) before(script string) {
	p.t.Helper()
	p.do("a script of the test", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, cdppage.AddScriptToEvaluateOnNewDocument,
			cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	}))
}

// navigate goes to the page.
func (p *page) navigate() {
	p.t.Helper()
	p.goTo(p.address + "/")
}

func (p *page) goTo(address string) {
	p.t.Helper()
	p.do("the page", chromedp.Navigate(address))
}

// complain fails the test for what stood on the console meanwhile.
func (p *page) complain() {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, problem := range p.problems {
		p.t.Errorf("console: %s", problem)
	}
	p.problems = nil
}

// reload loads the page anew, with all that the browser kept of it.
func (p *page) reload() {
	p.t.Helper()
	p.do("a reload", chromedp.Reload())
	p.waitReady()
}

// resize gives the window another size, in CSS pixels.
func (p *page) resize(width, height int64) {
	p.t.Helper()
	p.do("another size of the window", chromedp.EmulateViewport(width, height))
}

// view reads what is on the page.
func (p *page) view() view {
	p.t.Helper()
	var v view
	if err := json.Unmarshal([]byte(eval[string](p, `threeply.view()`)), &v); err != nil {
		p.t.Fatal(err)
	}
	return v
}

// desk tells the desk something, as the page's scripts do; what it refuses it says on
// the page.
func (p *page) desk(name string, fields map[string]any) {
	p.t.Helper()
	told := map[string]any{"do": name}
	for key, value := range fields {
		told[key] = value
	}
	words, err := json.Marshal(told)
	if err != nil {
		p.t.Fatal(err)
	}
	p.run(fmt.Sprintf(`threeply.desk(%s)`, quoted(string(words))))
}

// command gives the page a command, as its controls do, and wants it accepted.
func (p *page) command(name string, fields map[string]any) {
	p.t.Helper()
	request := map[string]any{"do": name}
	for key, value := range fields {
		request[key] = value
	}
	words, err := json.Marshal(request)
	if err != nil {
		p.t.Fatal(err)
	}
	// in a task of the page's own: how long a script of the test holds it up no browser counts
	answer := eval[string](p, fmt.Sprintf(`new Promise((done) => setTimeout(() => done(threeply.do(%s))))`, quoted(string(words))))
	var said struct {
		Error string `json:"error"`
	}
	if err := json.Unmarshal([]byte(answer), &said); err != nil || said.Error != "" {
		p.t.Fatalf("%s: %s (%v)", words, answer, err)
	}
	if id, _ := fields["id"].(string); name == "station" && id != "" { // made when it is first opened
		p.waitFor(`document.getElementById(` + quoted("panel-"+id) + `).checkVisibility()`)
	}
}

// longest is the longest task since the given time, in ms after navigation.
func (p *page) longest(since float64) task {
	p.t.Helper()
	tasks := eval[[]task](p, `observed.tasks`)
	var longest task
	for _, one := range tasks {
		if one.Start >= since && one.Duration > longest.Duration {
			longest = one
		}
	}
	return longest
}

// now is the page's clock, in ms after navigation.
func (p *page) now() float64 {
	p.t.Helper()
	return eval[float64](p, `performance.now()`)
}

// stage is the place of the stage in the window. Where the layout puts it between two
// pixels, the browser draws the canvas on whole ones: the nearest.
func (p *page) stage() image.Rectangle {
	p.t.Helper()
	box := eval[[]float64](p, `(() => {
		const r = document.getElementById("stage").getBoundingClientRect();
		return [r.left, r.top, r.right, r.bottom];
	})()`)
	for i := range box {
		box[i] = math.Round(box[i])
	}
	return image.Rect(int(box[0]), int(box[1]), int(box[2]), int(box[3]))
}

// frameRect is the place of one shown picture in the window, cut to the stage.
func (p *page) frameRect(id string) image.Rectangle {
	p.t.Helper()
	v := p.view()
	f, ok := v.frame(id)
	if !ok {
		p.t.Fatalf("no frame %q on the stage: %v", id, v.Frames)
	}
	return p.rectOf(f)
}

// rectOf is frameRect of a frame that the view had a moment ago.
func (p *page) rectOf(f frame) image.Rectangle {
	p.t.Helper()
	stage := p.stage()
	return image.Rect(int(f.X), int(f.Y), int(f.X+f.W), int(f.Y+f.H)).Add(stage.Min).Intersect(stage)
}

// quoted is a Go string as JavaScript reads it.
func quoted(text string) string {
	data, err := json.Marshal(text)
	if err != nil {
		panic(err) // a string always marshals
	}
	return string(data)
}

// brief shortens a script for a message.
func brief(script string) string {
	if len(script) > 120 {
		return script[:120] + "…"
	}
	return script
}
