package browsertest

import (
	"context"
	"fmt"
	"regexp"
	"time"

	"github.com/chromedp/chromedp"
)

// patience is how long a test waits for the page to get somewhere: the longest such way
// takes some twenty seconds where nothing else runs. What is waited for is always a
// state of the page, never a time, so that patience costs nothing where all goes well.
const patience = 2 * time.Minute

// do runs steps, and fails the test where one fails or hangs; what says what is
// waited for.
func (p *page) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := p.limit()
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatalf("%s: %v", what, err)
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

// asksView finds the page's view in a condition: where it is not asked for, it is not
// made.
var asksView = regexp.MustCompile(`\bv\b`)

// keepsView has the page leave each view that it reads at observed.view. Asking for one holds the
// page up, with work that it would else do in pieces, so where that is measured one waits for what
// it has read.
const keepsView = `{
	let page;
	Object.defineProperty(window, "threeplyPage", {get: () => page, set(made) {
		page = made;
		const started = made.started;
		made.started = () => {
			const view = threeply.view;
			threeply.view = () => observed.view = view();
			return started();
		};
	}});
}`

// read is the view that the page has read last, for a condition. It needs keepsView.
const read = `JSON.parse(observed.view ?? "{}")`

// Hold once the page shows that nothing is being opened, computed or kept, and that the plates
// that are open are registered.
const (
	readIdle       = read + `.idle`
	readRegistered = read + `.registered === "auto" && ` + readIdle
)

// waitReady waits for the first picture.
func (p *page) waitReady() {
	p.t.Helper()
	p.waitFor(`document.documentElement.dataset.ready === "yes"`)
}

// waitRegistered waits until the plates that are open are registered.
func (p *page) waitRegistered() {
	p.t.Helper()
	p.waitFor(`v.registered === "auto" && v.idle`)
}

// waitFor waits until a JavaScript expression holds. In it, v is the page's view. The
// page itself looks again whenever its document changed, which takes it a tenth of its time
// at most, and four times a second besides; where it is navigated meanwhile, it is asked anew.
func (p *page) waitFor(condition string) {
	p.t.Helper()
	script := fmt.Sprintf(`new Promise((done) => {
		const end = performance.now() + 2000;
		const holds = () => {
			const v = %t && window.threeply?.view ? JSON.parse(window.threeply.view()) : null;
			return Boolean(%s);
		};
		let changed = -1, due = 0;
		const look = () => {
			let why = "";
			const begun = performance.now();
			if (window.observed?.changed !== changed || begun > due) {
				changed = window.observed?.changed;
				due = begun + 250;
				try {
					if (holds()) return done("");
				} catch (error) {
					why = ", " + error;
				}
			}
			const now = performance.now();
			if (now > end) return done("not yet" + why);
			setTimeout(look, Math.max(20, 9 * (now - begun)));
		};
		look();
	})`, asksView.MatchString(condition), condition)
	for end := time.Now().Add(patience); ; {
		ctx, cancel := p.limit()
		why, err := chromedp.Run(ctx, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
		cancel()
		if err == nil && why == "" {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("after %v still not: %s (%s%v); the page %s", patience, condition, why, err, p.how())
		}
		if err != nil {
			time.Sleep(50 * time.Millisecond) // it is being navigated
		}
	}
}

// howPage says how the page stands.
const howPage = `(() => {
	const v = JSON.parse(threeply.view());
	return "is at " + v.station + ", looks at " + v.look + ", is busy with " + JSON.stringify(v.jobs) + ", says " + JSON.stringify(v.messages.map((m) => m.text));
})()`

// how says how the page stands, for the message of a test that waited in vain.
func (p *page) how() string {
	ctx, cancel := p.limit()
	defer cancel()
	words, err := chromedp.Run(ctx, chromedp.Evaluate[string](howPage))
	if err != nil {
		return fmt.Sprintf("does not answer (%v)", err)
	}
	return words
}

// rest waits until the page neither draws nor changes anything any more.
func (p *page) rest() {
	p.t.Helper()
	p.run(`observed.rest()`)
}
