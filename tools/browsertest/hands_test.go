package browsertest

import (
	"context"
	"strconv"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// click clicks the first element that a CSS selector finds, as a pointer does.
func (p *page) click(selector string) {
	p.t.Helper()
	p.do("a click on "+selector, chromedp.Click(chromedp.CSS(selector)))
}

// press presses and releases a key.
func (p *page) press(key string, options ...chromedp.KeyOption) {
	p.t.Helper()
	p.do("the key "+strconv.Quote(key), chromedp.KeyEvent(key, options...))
}

// focusCanvas gives the stage's canvas the keyboard.
func (p *page) focusCanvas() {
	p.t.Helper()
	p.run(`document.querySelector("#stage canvas").focus()`)
}

// drag presses the pointer at one point of the window, moves it to another in steps
// and lets go there. Between two steps the page draws a frame.
func (p *page) drag(x0, y0, x1, y1 float64) {
	p.t.Helper()
	const steps = 5
	held := func(e *input.DispatchMouseEventParams) { e.Buttons = 1 }
	p.point(x0, y0)
	p.do("the pointer pressed", chromedp.MouseEvent(chromedp.MousePressed, x0, y0, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	for i := 1; i <= steps; i++ {
		share := float64(i) / steps
		p.do("a drag", chromedp.MouseEvent(chromedp.MouseMoved, x0+(x1-x0)*share, y0+(y1-y0)*share, chromedp.ButtonLeft, held))
		p.frame()
	}
	p.do("the pointer let go", chromedp.MouseEvent(chromedp.MouseReleased, x1, y1, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// point moves the pointer to a point of the window.
func (p *page) point(x, y float64) {
	p.t.Helper()
	p.do("the pointer moved", chromedp.MouseEvent(chromedp.MouseMoved, x, y))
}

// clickAt clicks a point of the window.
func (p *page) clickAt(x, y float64) {
	p.t.Helper()
	p.do("a click on the pictures", chromedp.MouseClickXY(x, y))
}

// typed types words where the keyboard is, and Enter.
func (p *page) typed(words string) {
	p.t.Helper()
	p.do("typing "+words, chromedp.KeyEvent(words+kb.Enter))
}

// frame waits for the page's next frame.
func (p *page) frame() {
	p.t.Helper()
	p.run(`new Promise((done) => requestAnimationFrame(done))`)
}

// upload chooses files of this machine in the file field that a CSS selector finds.
func (p *page) upload(selector string, files ...string) {
	p.t.Helper()
	p.do("files for "+selector, chromedp.SetUploadFiles(chromedp.CSS(selector), files))
}

// number writes a number as JavaScript reads it.
func number(v float64) string {
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// paste puts words into the field that a CSS selector finds, through the browser's own clipboard, in
// place of what stands there.
func (p *page) paste(selector, words string) {
	p.t.Helper()
	p.run(`(() => {
		const source = document.createElement("textarea");
		source.id = "test-words";
		source.value = ` + quoted(words) + `;
		document.body.append(source);
		source.select();
	})()`)
	p.edit("cut")
	p.waitFor(`document.getElementById("test-words").value === ""`)
	p.run(`document.getElementById("test-words").remove(); document.querySelector(` + quoted(selector) + `).select()`)
	p.edit("paste")
	p.waitFor(`document.querySelector(` + quoted(selector) + `).value !== ""`)
}

// edit has the browser carry out one of its editing commands, as its keys for that do.
func (p *page) edit(command string) {
	p.t.Helper()
	p.do(command, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		for _, key := range []input.DispatchKeyEventParams{{Type: input.DispatchKeyEventTypeRawKeyDown, Commands: []string{command}}, {Type: input.DispatchKeyEventTypeKeyUp}} {
			if _, err := cdp.Call(ctx, target, input.DispatchKeyEvent, key); err != nil {
				return err
			}
		}
		return nil
	}))
}
