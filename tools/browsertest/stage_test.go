package browsertest

import (
	"math"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The stage rests on internals of the game library that makes the canvas. These tests
// hold its geometry, its pointer and its keys, so that a new version cannot break them
// unseen.

// TestStageGeometry holds the canvas to the stage, also after the window has changed.
func TestStageGeometry(t *testing.T) {
	p := demo(t)
	if style := eval[string](p, `[document.documentElement, document.body].map(e => e.getAttribute("style") ?? "").join("")`); style != "" {
		t.Errorf("the library's style stays on the page: %q", style)
	}
	for _, size := range [][2]int64{{1400, 860}, {1920, 1080}, {1100, 700}} {
		p.resize(size[0], size[1])
		p.waitFor(`(() => {
			const c = document.querySelector("#stage canvas").getBoundingClientRect();
			const s = document.getElementById("stage").getBoundingClientRect();
			return ["left", "top", "width", "height"].every(k => Math.abs(c[k] - s[k]) < 0.51);
		})()`)
		p.waitFor(`(() => {
			const canvas = document.querySelector("#stage canvas");
			const box = canvas.getBoundingClientRect();
			return Math.abs(canvas.width - box.width * devicePixelRatio) <= 1 &&
				Math.abs(canvas.height - box.height * devicePixelRatio) <= 1;
		})()`)
		stage := p.stage()
		for _, f := range p.view().Frames {
			if f.X < 0 || f.Y < 0 || f.X+f.W > float64(stage.Dx()) || f.Y+f.H > float64(stage.Dy()) {
				t.Errorf("at %d × %d the frame %v leaves the stage of %v", size[0], size[1], f, stage.Size())
			}
		}
		overflow := eval[bool](p, `document.documentElement.scrollWidth > innerWidth || document.documentElement.scrollHeight > innerHeight`)
		if overflow {
			t.Errorf("at %d × %d the page scrolls as a whole", size[0], size[1])
		}
	}
}

// TestStagePointer reads the picture under the pointer at two places of each frame:
// their distance in the scan is their distance on the screen over the zoom, and the
// same place of both frames is the same place of the scan.
func TestStagePointer(t *testing.T) {
	p := demo(t)
	// In a window this wide the words of what is read fit into one line, so that the
	// pictures stay where they are.
	p.resize(1500, 860)
	t.Cleanup(func() { p.resize(windowWidth, windowHeight) })
	p.rest()
	type spot struct{ X, Y float64 }
	read := func(x, y float64) spot {
		t.Helper()
		p.run(`window.pointed = JSON.parse(threeply.view()).sample`)
		p.point(x, y)
		p.clickAt(x, y)
		p.waitFor(`v.sample && JSON.stringify(v.sample) !== JSON.stringify(window.pointed)`)
		p.rest()
		return eval[spot](p, `(({x, y}) => ({X: x, Y: y}))(JSON.parse(threeply.view()).sample)`)
	}
	frame := p.frameRect("print") // what is read takes room on the page once something is
	read(float64(frame.Min.X+5), float64(frame.Min.Y+5))
	zoom := p.view().Zoom
	var near []spot
	for _, id := range []string{"reference", "print"} {
		frame := p.frameRect(id)
		x, y := float64(frame.Min.X+frame.Dx()/4), float64(frame.Min.Y+frame.Dy()/4)
		const right, down = 120, 70
		a, b := read(x, y), read(x+right, y+down)
		if math.Abs(b.X-a.X-right/zoom) > 1.1 || math.Abs(b.Y-a.Y-down/zoom) > 1.1 {
			t.Errorf("%s: %d, %d px on the screen are %.1f, %.1f px of the scan, want %.1f, %.1f",
				id, right, down, b.X-a.X, b.Y-a.Y, right/zoom, down/zoom)
		}
		near = append(near, a)
	}
	if math.Abs(near[0].X-near[1].X) > 1/zoom+0.1 || math.Abs(near[0].Y-near[1].Y) > 1/zoom+0.1 {
		t.Errorf("the same place of both frames reads %v and %v", near[0], near[1])
	}
}

// TestStageKeys walks through the page by Tab: the canvas comes once, in the order of
// the document, and lets go. Keys that belong to the browser are not swallowed there.
func TestStageKeys(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "sheets"}) // it has the fewest controls
	p.run(`(() => {
		window.keysSeen = [];
		// setTimeout: by then every listener has had its say.
		addEventListener("keydown", (e) => setTimeout(() => keysSeen.push({key: e.key, prevented: e.defaultPrevented})), true);
		document.activeElement.blur();
	})()`)
	var walk []string
	const most = 80
	for range most {
		p.press(kb.Tab)
		here := eval[string](p, `(() => {
			const e = document.activeElement;
			if (e === document.body) return "body";
			if (e.dataset.walked) return "again";
			e.dataset.walked = "yes";
			return e.tagName + (e.id ? "#" + e.id : "");
		})()`)
		if here == "again" {
			break
		}
		if here == "body" { // the end of the page: it goes on at its beginning
			continue
		}
		walk = append(walk, here)
	}
	isCanvas := func(name string) bool { return name == "CANVAS" || len(name) > 7 && name[:7] == "CANVAS#" }
	if !slices.ContainsFunc(walk, isCanvas) {
		t.Fatalf("Tab never comes to the canvas: %q", walk)
	}
	inOrder := eval[bool](p, `(() => {
		const walked = [...document.querySelectorAll("[data-walked]")];
		const canvas = document.querySelector("#stage canvas");
		return canvas.tabIndex === 0 && walked.every(e => e.tabIndex <= 0);
	})()`)
	if !inOrder {
		t.Error("some element asks for a place of its own in the Tab order")
	}
	if name := eval[string](p, `document.querySelector("#stage canvas").getAttribute("aria-label") ?? ""`); name == "" {
		t.Error("the canvas has no label")
	}

	p.focusCanvas()
	p.run(`keysSeen.length = 0`)
	p.press(kb.F5)
	p.press("l", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.press(kb.Tab)
	p.waitFor(`keysSeen.filter(k => ["F5", "l", "Tab"].includes(k.key)).length >= 3`)
	if kept := eval[[]string](p, `keysSeen.filter(k => k.prevented).map(k => k.key)`); len(kept) != 0 {
		t.Errorf("the canvas swallows %q", kept)
	}
	if eval[bool](p, `document.activeElement === document.querySelector("#stage canvas")`) {
		t.Error("Tab does not leave the canvas")
	}
}

// TestKeysAfterAClick presses keys where a user has them: after a click and a drag on
// the picture, which select none of the words beside.
func TestKeysAfterAClick(t *testing.T) {
	p := demo(t)
	p.run(`getSelection().removeAllRanges()`) // of whatever a test before has selected
	frame := p.frameRect("print")
	x, y := float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2)
	p.clickAt(x, y)
	p.press("l")
	p.waitFor(`v.loupe.on`)
	p.drag(x, y, x+30, float64(frame.Max.Y)+160)
	p.press("l")
	p.waitFor(`!v.loupe.on`)
	if words := eval[string](p, `getSelection().toString()`); words != "" {
		t.Errorf("a drag on the picture selects %q", words)
	}
}
