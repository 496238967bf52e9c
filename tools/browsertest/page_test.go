package browsertest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// observer runs before any script of the page. It keeps every task that blocks the
// page longer than 50 ms, and the time at which the first picture stood.
const observer = `
window.observed = {tasks: [], ready: 0};
new PerformanceObserver((list) => {
	for (const entry of list.getEntries()) {
		observed.tasks.push({start: entry.startTime, duration: entry.duration});
	}
}).observe({type: "longtask", buffered: true});
new MutationObserver(() => {
	if (!observed.ready && document.documentElement.dataset.ready === "yes") observed.ready = performance.now();
}).observe(document, {attributes: true, subtree: true, attributeFilter: ["data-ready"]});
`

// page is one tab with the built page in it, with nothing kept from other tests.
type page struct {
	t   testing.TB
	ctx context.Context

	close    func() // closes the tab
	mu       sync.Mutex
	problems []string
}

// task is a stretch of time, in ms after navigation, in which the page was blocked.
type task struct {
	Start    float64 `json:"start"`
	Duration float64 `json:"duration"`
}

// open opens the page in a window of the given size, in CSS pixels, and waits for the
// first picture. Errors on the console fail the test at its end.
func open(t testing.TB, width, height int64) *page {
	t.Helper()
	p := openBlank(t, width, height)
	p.do(chromedp.Navigate(start().address + "/"))
	p.waitReady()
	return p
}

// openBlank opens an empty tab that observes what the page will do.
func openBlank(t testing.TB, width, height int64) *page {
	t.Helper()
	shared := stand(t)
	ctx, cancel := chromedp.NewContext(shared.browser, chromedp.WithNewBrowserContext())
	p := &page{t: t, ctx: ctx}
	p.watch(cancel, width, height)
	return p
}

// watch keeps the errors on the page's console, which fail the test at its end, and
// gives the tab its size and its observer.
func (p *page) watch(cancel context.CancelFunc, width, height int64) {
	p.t.Helper()
	messages := chromedp.Console(p.ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for message, err := range messages {
			if err != nil {
				return
			}
			if message.Type == chromedp.ConsoleError || message.IsException() {
				p.mu.Lock()
				p.problems = append(p.problems, fmt.Sprintf("%v (%s:%d)", message, message.URL, message.Line+1))
				p.mu.Unlock()
			}
		}
	}()
	p.close = sync.OnceFunc(func() {
		cancel()
		<-done
		for _, problem := range p.problems {
			p.t.Errorf("console: %s", problem)
		}
	})
	p.t.Cleanup(func() {
		if p.t.Failed() {
			p.leaveShot()
		}
		p.close()
	})
	p.do(chromedp.EmulateViewport(width, height))
	p.before(observer)
}

// before has a script run before any of the page's own.
func (p *page) before(script string) {
	p.t.Helper()
	p.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, cdppage.AddScriptToEvaluateOnNewDocument,
			cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	}))
}

// do runs steps and fails the test where one fails or hangs.
func (p *page) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := p.limit()
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatal(err)
	}
}

// limit bounds the time of an action. The very first action opens the tab, which would
// be closed with the limit, so it goes without.
func (p *page) limit() (context.Context, context.CancelFunc) {
	if chromedp.FromContext(p.ctx).Target == nil {
		return p.ctx, func() {}
	}
	return context.WithTimeout(p.ctx, patience)
}

// eval evaluates JavaScript; a promise is awaited.
func eval[T any](p *page, script string) T {
	p.t.Helper()
	ctx, cancel := p.limit()
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", brief(script), err)
	}
	return value
}

// run evaluates JavaScript for what it does.
func (p *page) run(script string) {
	p.t.Helper()
	eval[chromedp.Void](p, script)
}

// waitReady waits for the first picture.
func (p *page) waitReady() {
	p.t.Helper()
	p.waitFor(`document.documentElement.dataset.ready === "yes"`)
}

// waitFor waits until a JavaScript expression holds. In it, v is the page's view.
func (p *page) waitFor(condition string) {
	p.t.Helper()
	script := fmt.Sprintf(`(() => {
		const v = window.threeply?.view ? JSON.parse(window.threeply.view()) : null;
		return Boolean(%s);
	})()`, condition)
	for end := time.Now().Add(patience); ; {
		ctx, cancel := p.limit()
		holds, err := chromedp.Run(ctx, chromedp.Evaluate[bool](script))
		cancel()
		if err == nil && holds {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("after %v still not: %s (%v)", patience, condition, err)
		}
		time.Sleep(50 * time.Millisecond)
	}
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
	answer := eval[string](p, fmt.Sprintf(`threeply.do(%s)`, quoted(string(words))))
	var said struct {
		Error string `json:"error"`
	}
	if err := json.Unmarshal([]byte(answer), &said); err != nil || said.Error != "" {
		p.t.Fatalf("%s: %s (%v)", words, answer, err)
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

// shot is a picture of the window.
func (p *page) shot() image.Image {
	p.t.Helper()
	picture, err := png.Decode(bytes.NewReader(p.shotPNG()))
	if err != nil {
		p.t.Fatal(err)
	}
	return picture
}

func (p *page) shotPNG() []byte {
	p.t.Helper()
	ctx, cancel := p.limit()
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	return data
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
	f, ok := p.view().frame(id)
	if !ok {
		p.t.Fatalf("no frame %q on the stage: %v", id, p.view().Frames)
	}
	stage := p.stage()
	return image.Rect(int(f.X), int(f.Y), int(f.X+f.W), int(f.Y+f.H)).Add(stage.Min).Intersect(stage)
}

// leaveShot leaves a picture of the window as it was when the test failed.
func (p *page) leaveShot() {
	ctx, cancel := p.limit()
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Logf("no picture of the failure: %v", err)
		return
	}
	name := filepath.Join("../../.build/failed", strings.ReplaceAll(p.t.Name(), "/", "-")+".png")
	if err := writeFile(name, data); err != nil {
		p.t.Log(err)
		return
	}
	p.t.Logf("a picture of the failure lies in %s", name)
}

// writeFile writes a file and the folder it lies in.
func writeFile(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, data, 0o644)
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
