package browsertest

import (
	"image"
	"strconv"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// click clicks the first element that a CSS selector finds, as a pointer does.
func (p *page) click(selector string) {
	p.t.Helper()
	p.do(chromedp.Click(chromedp.CSS(selector)))
}

// press presses and releases a key.
func (p *page) press(key string, options ...chromedp.KeyOption) {
	p.t.Helper()
	p.do(chromedp.KeyEvent(key, options...))
}

// focusCanvas gives the stage's canvas the keyboard.
func (p *page) focusCanvas() {
	p.t.Helper()
	p.run(`document.querySelector("#stage canvas").focus()`)
}

// drag presses the pointer at one point of the window, moves it to another in steps
// and lets go there.
func (p *page) drag(x0, y0, x1, y1 float64) {
	p.t.Helper()
	const steps = 6
	held := func(e *input.DispatchMouseEventParams) { e.Buttons = 1 }
	p.do(chromedp.MouseEvent(chromedp.MouseMoved, x0, y0))
	p.do(chromedp.MouseEvent(chromedp.MousePressed, x0, y0, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	for i := 1; i <= steps; i++ {
		share := float64(i) / steps
		p.do(chromedp.MouseEvent(chromedp.MouseMoved, x0+(x1-x0)*share, y0+(y1-y0)*share, chromedp.ButtonLeft, held))
		time.Sleep(30 * time.Millisecond)
	}
	p.do(chromedp.MouseEvent(chromedp.MouseReleased, x1, y1, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// settled waits until the window does not change any more and gives its picture.
func (p *page) settled() image.Image {
	p.t.Helper()
	last := p.shot()
	for end := time.Now().Add(patience); time.Now().Before(end); {
		time.Sleep(400 * time.Millisecond)
		now := p.shot()
		if changed(last, now, now.Bounds(), 0) == 0 {
			return now
		}
		last = now
	}
	p.t.Fatalf("the window still changes after %v", patience)
	return nil
}

// number writes a number as JavaScript reads it.
func number(v float64) string {
	return strconv.FormatFloat(v, 'g', -1, 64)
}
