package browsertest

import (
	"fmt"
	"image"
	"image/draw"
	"testing"

	"github.com/chromedp/chromedp"
	xdraw "golang.org/x/image/draw"
)

// TestZoomedPage has the page zoomed while it is open, so that its window has fewer CSS pixels, each of
// two by two of the screen's: its pictures are those of a window of so many, in finer pixels.
func TestZoomedPage(t *testing.T) {
	p := demo(t)
	p.waitFor(`v.idle`)
	const w, h = 700, 500
	p.resize(w, h)
	p.rest()
	part := p.frameRect("print").Inset(6)
	before := p.picturesAlone()
	p.resize(windowWidth, windowHeight)
	p.rest()
	p.do("the page zoomed", chromedp.EmulateViewport(w, h, chromedp.EmulateScale(2)))
	const fine = `innerWidth === %d && (c => c.width === %d * c.clientWidth && c.height === %[2]d * c.clientHeight)(document.querySelector("#stage canvas"))`
	p.waitFor(fmt.Sprintf(fine, w, 2))
	zoomed := p.picturesAlone()
	if got, want := zoomed.Rect.Size(), before.Rect.Size().Mul(2); got != want {
		t.Fatalf("the window is %v, want %v", got, want)
	}
	half := image.NewRGBA(before.Rect)
	xdraw.BiLinear.Scale(half, half.Rect, zoomed, zoomed.Rect, draw.Src, nil)
	if off := changed(half, before, part, 40); off > 0.05 {
		t.Errorf("zoomed, %.1f %% of the print lies elsewhere", 100*off)
	}
	p.resize(windowWidth, windowHeight)
	p.waitFor(fmt.Sprintf(fine, windowWidth, 1))
}
