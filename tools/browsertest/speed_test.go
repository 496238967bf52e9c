package browsertest

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
)

// mediumWidth makes of the demo's plates some of 24 megapixels.
const mediumWidth = 5780

// countsWork keeps what workers are asked for, and how long each frame of the pictures takes.
const countsWork = `(() => {
	window.asked = [];
	const post = Worker.prototype.postMessage;
	Worker.prototype.postMessage = function (message, ...more) {
		if (message.op) asked.push(message.op);
		return post.call(this, message, ...more);
	};
	window.frameTimes = [];
	const ask = window.plainFrame = window.requestAnimationFrame.bind(window);
	window.requestAnimationFrame = (step) => ask((time) => {
		const began = performance.now();
		step(time);
		frameTimes.push(performance.now() - began);
	});
})()`

// ordinary has a benchmark drive a browser as users have it, and skips it where there is none or
// no page.
func ordinary(b *testing.B) {
	b.Helper()
	if _, err := chromium(); err != nil {
		b.Skipf("SKIPPED: Chromium is not installed: %v", err)
	}
	if _, err := os.Stat(filepath.Join(siteDir, "page.wasm")); err != nil {
		b.Skip("SKIPPED: the page is not built, run `make build` first")
	}
	b.Setenv("THREEPLY_BROWSER", "yes")
	b.Setenv("THREEPLY_ORDINARY", "yes")
}

// BenchmarkStart opens the page as a newcomer does, loads it again, and opens it later in new tabs,
// when the browser has kept the page, and what it made of its program; then it drops the plates of
// another set and swaps all palettes and orders. It reports when what was left is in sight, when the
// controls can be used, when the program's first picture stands, and the longest task that blocks the
// page meanwhile (to reach: 1.2 s for the controls and 2 s for the picture with what was kept, 3 s at
// a first visit, 100 ms for a task).
func BenchmarkStart(b *testing.B) {
	ordinary(b)
	plates := demoPlates(b)
	for b.Loop() {
		p := openBlank(b, 1400, 860)
		p.before(keepsView)
		p.goTo(p.address + "/" + withOffline)
		p.waitReady()
		b.ReportMetric(eval[float64](p, `observed.rendered`), "ms-controls")
		b.ReportMetric(eval[float64](p, `observed.ready`), "ms-first-picture")
		p.waitFor(readRegistered)
		p.rest()
		b.ReportMetric(p.longest(0).Duration, "ms-block-start")
		p.until(keepsItself)
		p.waitFor(leftToSee)
		p.reload()
		b.ReportMetric(eval[float64](p, `observed.seen`), "ms-left-in-sight-again")
		b.ReportMetric(eval[float64](p, `observed.rendered`), "ms-controls-again")
		b.ReportMetric(eval[float64](p, `observed.ready`), "ms-first-picture-again")
		p.waitFor(readIdle)
		p.rest()
		b.ReportMetric(p.longest(0).Duration, "ms-block-again")
		for range 2 { // at the first time the browser keeps what it made of the programs
			p.waitFor(`v.saved.state !== "saving"`)
			p.waitFor(leftToSee)
			p.goTo("about:blank") // as it is closed, its window has another size for a moment
			p.close()
			p.tab = newTab(&start().rest, p.address)
			p.own(1400, 860)
			p.before(keepsView)
			p.goTo(p.address + "/" + withOffline)
			p.waitReady()
			b.ReportMetric(eval[float64](p, `observed.seen`), "ms-left-in-sight-later")
			b.ReportMetric(eval[float64](p, `observed.rendered`), "ms-controls-later")
			b.ReportMetric(eval[float64](p, `observed.ready`), "ms-first-picture-later")
			p.waitFor(readIdle)
			p.rest()
			b.Logf("first picture in a new tab after %.0f ms", eval[float64](p, `observed.ready`))
		}
		b.ReportMetric(p.longest(0).Duration, "ms-block-later")
		since := p.now()
		p.drop(another(b, plates[2], "jug_blue.tif"), another(b, plates[0], "jug_red.tif"), another(b, plates[1], "jug_green.tif"))
		p.waitFor(read + `.plates.every(q => q.file.startsWith("jug_")) && ` + readRegistered)
		p.rest()
		b.ReportMetric(p.longest(since).Duration, "ms-block-open")
		since = p.now()
		for _, palette := range p.view().Palettes {
			p.command("palette", map[string]any{"id": palette.ID})
			p.rest()
		}
		for _, order := range p.view().Orders {
			p.command("order", map[string]any{"order": order})
			p.rest()
		}
		b.ReportMetric(p.longest(since).Duration, "ms-block-swap")
	}
}

// BenchmarkMediumPlates opens three plates of 24 megapixels, registers them again, pans them and
// saves the likely print as a PNG. It reports how long each takes by the clock and of the
// processors of the page, its workers included; the longest task that blocks the page meanwhile;
// and what a frame of panning takes of the page's thread, with what it gives the graphics card
// (to reach: 2 s for register and for the PNG on two cores, 100 ms for the task, 4 ms for a frame).
func BenchmarkMediumPlates(b *testing.B) {
	ordinary(b)
	if _, err := os.Stat("/proc/self/stat"); err != nil {
		b.Skip("SKIPPED: this system does not tell a process's time under /proc")
	}
	files := enlarged(b, "medium", mediumWidth)
	for b.Loop() {
		p := openBlank(b, 1400, 860)
		p.before(countsWork)
		p.navigate()
		p.waitReady()
		p.waitRegistered()
		p.rest()
		since := p.now()
		p.timed(b, "open", func() float64 {
			p.openLarge("medium", files)
			return p.now() - since
		})
		p.waitLarge(b)
		b.ReportMetric(p.longest(since).Duration, "ms-block-open")
		p.command("station", map[string]any{"id": "register"})
		p.rest()
		p.timed(b, "register", func() float64 { return p.pushed("#panel-register", "Register") })
		p.timed(b, "look", func() float64 {
			since := p.now()
			p.waitLarge(b)
			return p.now() - since
		})
		for _, op := range []string{"openOne", "registerOne"} {
			if eval[float64](p, `navigator.hardwareConcurrency`) > 1 && !eval[bool](p, `asked.includes(`+quoted(op)+`)`) {
				b.Errorf("no second worker was asked for %s", op)
			}
		}
		p.command("zoom", map[string]any{"percent": 100})
		p.rest()
		b.ReportMetric(p.framesOfAPan(), "ms-frame")
		p.timeSaving(b)
		p.close()
	}
}

// framesOfAPan pans the pictures over some frames, and gives how many milliseconds one takes on the
// page's thread, the move itself included.
func (p *page) framesOfAPan() float64 {
	p.t.Helper()
	return eval[float64](p, `(async () => {
		const frames = 60;
		frameTimes.length = 0;
		let moving = 0;
		for (let i = 0; i < frames; i++) {
			const began = performance.now();
			threeply.panBy(i < frames / 2 ? 3 : -3, 1);
			moving += performance.now() - began;
			await new Promise((done) => plainFrame(() => setTimeout(done)));
		}
		threeply.rest();
		return (moving + frameTimes.reduce((sum, one) => sum + one, 0)) / frames;
	})()`)
}

// timeSaving saves the likely print as a PNG, and reports as timed does.
func (p *page) timeSaving(b *testing.B) {
	b.Helper()
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`[...document.querySelectorAll("#drawer button")].some(b => b.textContent === "Save the proof")`)
	p.rest()
	since := p.now()
	p.timed(b, "save", func() float64 { return p.pushed("#drawer", "Save the proof") })
	b.ReportMetric(p.longest(since).Duration, "ms-block-save")
	for _, words := range p.view().errors() {
		b.Errorf("the page says: %s", words)
	}
}

// timed reports how many seconds something takes, by its own clock of milliseconds and of the
// processors.
func (p *page) timed(b *testing.B, what string, does func() float64) {
	b.Helper()
	before := p.processors()
	b.ReportMetric(does()/1000, "s-"+what)
	spent := 0.0
	for process, seconds := range p.processors() { // what an earlier benchmark left may have ended meanwhile
		spent += seconds - before[process]
	}
	b.ReportMetric(spent, "cpu-s-"+what)
}

// pushed pushes the button in a part of the page whose words begin so, and gives how many
// milliseconds go by until the job that it begins is done.
func (p *page) pushed(part, words string) float64 {
	p.t.Helper()
	return eval[float64](p, `(async () => {
		const jobs = document.querySelector("#busy"); // which costs less than the view
		const busy = () => !jobs.hidden;
		const tick = () => new Promise((done) => setTimeout(done, 4));
		while (busy()) await tick();
		const began = performance.now();
		[...document.querySelectorAll(`+quoted(part+" button")+`)].find((b) => b.textContent.startsWith(`+quoted(words)+`)).click();
		while (!busy()) await tick();
		const job = jobs.firstElementChild;
		while (job.isConnected && busy()) await tick();
		return performance.now() - began;
	})()`)
}

// processors is how many seconds of the processors each process of the browser's pages has had so
// far, their workers included, by its folder in proc(5).
func (p *page) processors() map[string]float64 {
	p.t.Helper()
	const ticks = 100 // a second, USER_HZ
	had := map[string]float64{}
	p.renderers(func(folder string) {
		stat, err := os.ReadFile(filepath.Join(folder, "stat"))
		if err != nil {
			return // it has ended meanwhile
		}
		_, after, _ := strings.Cut(string(stat), ") ")
		fields := strings.Fields(after)
		for _, field := range fields[11:13] { // in user mode, and in the kernel
			n, _ := strconv.ParseFloat(field, 64) // digits only
			had[folder] += n / ticks
		}
	})
	return had
}

// renderers calls for each process of a page of this browser, with its folder in /proc.
func (p *page) renderers(each func(folder string)) {
	p.t.Helper()
	p.do("the processes of the browser", chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		all, err := cdp.Call(ctx, chromedp.FromContext(ctx).Browser, systeminfo.GetProcessInfo, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, process := range all.ProcessInfo {
			if process.Type == "renderer" {
				each(filepath.Join("/proc", strconv.FormatInt(process.ID, 10)))
			}
		}
		return nil
	}))
}
