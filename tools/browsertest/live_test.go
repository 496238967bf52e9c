package browsertest

import (
	"image"
	"math"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestPaletteAndOrder swaps tissues and their order and looks at the print, not at
// what the page says of it.
func TestPaletteAndOrder(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "tissues"})
	first := p.settled()
	before := p.view()

	other := ""
	for _, palette := range before.Palettes {
		if !palette.Chosen {
			other = palette.ID
		}
	}
	since := p.now()
	p.command("palette", map[string]any{"id": other})
	second := p.waitChanged(first, "print", 0.3)
	if got := changed(first, second, p.frameRect("reference"), 2); got > 0.001 {
		t.Errorf("another palette changed %.2f %% of the reference", 100*got)
	}
	if got := p.view().palette(); got != other {
		t.Errorf("the page says %q, want %q", got, other)
	}

	order := before.Orders[len(before.Orders)-1]
	if order == before.Order {
		order = before.Orders[0]
	}
	p.command("order", map[string]any{"order": order})
	third := p.waitChanged(second, "print", 0.02)
	if got := p.view().Order; got != order {
		t.Errorf("the page says %q, want %q", got, order)
	}
	longest := p.longest(since)
	t.Logf("longest task while swapping: %.0f ms (to reach: 200 ms)", longest.Duration)

	p.click("#undo")
	p.waitFor(`v.order === ` + quoted(before.Order))
	p.waitSame(second, "print", 0.001)
	p.click("#undo")
	p.waitSame(first, "print", 0.001)
	if got := p.view().palette(); got != before.palette() {
		t.Errorf("after undo the palette is %q, want %q", got, before.palette())
	}
	p.click("#redo")
	p.click("#redo")
	p.waitSame(third, "print", 0.001)
	if v := p.view(); v.palette() != other || v.Order != order {
		t.Errorf("after redo %q in order %q, want %q in %q", v.palette(), v.Order, other, order)
	}
}

// TestNudge moves a layer by field, arrow key and pointer; the readout follows, in
// pixels of the scan and µm on the print alike, and undo takes each back.
func TestNudge(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "register"})
	before := p.settled()
	v := p.view()
	if v.Register.PxUm <= 0 {
		t.Fatalf("a pixel is %v µm on the print", v.Register.PxUm)
	}

	p.command("nudge", map[string]any{"printer": "cyan", "dxUm": 900.0, "dyUm": -450.0, "turnDeg": 0.0, "stretchPct": 0.0})
	p.waitChanged(before, "print", 0.02)
	p.waitSame(before, "reference", 0.001) // what happens on the bench leaves the yardstick alone
	after := p.view()
	got := after.offset("cyan")
	if got.DxUm != 900 || got.DyUm != -450 {
		t.Errorf("offset %v, want 900 and -450 µm", got)
	}
	if want := 900 / v.Register.PxUm; math.Abs(got.DxPx-want) > 0.01 {
		t.Errorf("900 µm are said to be %.3f px, want %.3f", got.DxPx, want)
	}
	if bench := after.Register.OnBench; bench.Sign != "out" || bench.LargestUm < 900 {
		t.Errorf("1 mm off and the sign says %q, largest %.0f µm (%s)", bench.Sign, bench.LargestUm, bench.Sentence)
	}
	p.command("look", map[string]any{"id": "difference"})
	slipped := p.settled()
	p.command("undo", nil) // of the nudge
	p.waitChanged(slipped, "difference", 0.02)
	p.command("look", map[string]any{"id": "beside"})
	p.waitSame(before, "print", 0.001)

	p.command("select", map[string]any{"printer": "magenta"})
	p.command("tool", map[string]any{"id": "nudge"})
	start := p.view()
	frame := p.frameRect("print")
	x, y := float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2)
	p.drag(x, y, x-24, y+12)
	dragged := p.view()
	for _, c := range []struct {
		axis     string
		from, to float64
		css      float64
	}{
		{"x", start.offset("magenta").DxPx, dragged.offset("magenta").DxPx, -24},
		{"y", start.offset("magenta").DyPx, dragged.offset("magenta").DyPx, 12},
	} {
		if want := c.css / start.Zoom; math.Abs(c.to-c.from-want) > 1.5/start.Zoom {
			t.Errorf("a drag by %g px of the screen moved the layer by %.2f px of the scan along %s, want %.2f",
				c.css, c.to-c.from, c.axis, want)
		}
	}

	p.focusCanvas()
	p.press(kb.ArrowRight)
	fine := p.view().offset("magenta").DxPx - dragged.offset("magenta").DxPx
	if fine <= 0 {
		t.Errorf("the right arrow moves the layer by %.3f px", fine)
	}
	p.press(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift))
	coarse := p.view().offset("magenta").DxPx - dragged.offset("magenta").DxPx - fine
	if coarse < 2*fine {
		t.Errorf("with Shift the right arrow moves the layer by %.3f px, without by %.3f", coarse, fine)
	}
	p.press(kb.ArrowDown)
	if down := p.view().offset("magenta").DyPx - dragged.offset("magenta").DyPx; down <= 0 {
		t.Errorf("the down arrow moves the layer by %.3f px", down)
	}

	p.click("#undo") // the keys
	if got, want := p.view().offset("magenta"), dragged.offset("magenta"); got != want {
		t.Errorf("after undoing the keys the offset is %v, want %v", got, want)
	}
	p.click("#undo") // the drag, all of it
	if got, want := p.view().offset("magenta"), start.offset("magenta"); got != want {
		t.Errorf("after undoing the drag the offset is %v, want %v", got, want)
	}
	p.waitSame(before, "print", 0.001)

	p.focusCanvas()
	p.press(kb.ArrowRight)
	keyed := p.view().offset("magenta")
	p.drag(x, y, x+20, y)
	p.click("#undo")
	if got := p.view().offset("magenta"); got != keyed {
		t.Errorf("undoing a drag that followed a key leaves the offset at %v, want the key's %v", got, keyed)
	}
}

// TestZoom looks closer: by wheel, by key and by button; at 100 % a screen pixel is a
// scan pixel.
func TestZoom(t *testing.T) {
	p := demo(t)
	fit := p.view().Zoom
	before := p.settled()
	frame := p.frameRect("print")
	x, y := float64(frame.Min.X+frame.Dx()/3), float64(frame.Min.Y+frame.Dy()/3)
	p.do("the wheel", chromedp.MouseEvent(input.DispatchMouseEventTypeMouseWheel, x, y, func(e *input.DispatchMouseEventParams) {
		e.DeltaX, e.DeltaY = 0.001, -240 // the protocol wants both, and a zero is left out
	}))
	p.waitFor(`v.zoom > ` + number(1.05*fit))
	p.waitChanged(before, "print", 0.1)
	p.command("zoom", map[string]any{"percent": 100})
	p.waitFor(`Math.abs(v.zoom - 1) < 1e-6`)
	full := p.shot()
	for _, id := range []string{"reference", "print"} {
		if n := colours(full, p.frameRect(id)); n < 500 {
			t.Errorf("at 100 %% the frame %q shows %d colours", id, n)
		}
	}
	p.command("zoom", map[string]any{"fit": true})
	p.waitFor(`Math.abs(v.zoom - ` + number(fit) + `) < 1e-6`)
	p.waitSame(before, "print", 0.002)
}

// TestLooks goes through the ways of looking: each shows a picture in every one of its
// panes, another one than the first look, and where the picture is moved by whole pixels
// every pane moves with it. An empty pane has one colour, a dead one stays where it was.
func TestLooks(t *testing.T) {
	p := demo(t)
	const least = 60 // colours that a picture has; an empty pane, with its edge, has two
	first := p.picturesAlone()
	for _, look := range p.view().Looks[1:] {
		if look.ID == "board" { // it has no panes: see TestBoard
			continue
		}
		p.command("look", map[string]any{"id": look.ID})
		p.waitFor(`v.look === ` + quoted(look.ID))
		p.measureTable(t, "look "+look.ID, "")
		p.command("zoom", map[string]any{"percent": 100})
		if look.ID == "blink" || look.ID == "turns" { // one picture after the other, by themselves
			p.eachInTurn(least)
			continue
		}
		before := p.picturesAlone()
		if got := changed(first, before, p.stage(), 2); got < 0.1 {
			t.Errorf("%s differs from the first look in %.2f %% of the stage only", look.Name, 100*got)
		}
		const dx, dy = -37, 22
		p.command("pan", map[string]any{"dx": dx, "dy": dy})
		after := p.picturesAlone()
		for _, f := range p.view().Frames {
			part := p.frameRect(f.ID).Inset(2)
			part = part.Intersect(part.Add(image.Pt(dx, dy)))
			if part.Dx() < 100 || part.Dy() < 80 { // above three side by side, captions are tall
				t.Errorf("%s: of the pane %q only %v is seen before and after the move", look.Name, f.ID, part)
			}
			if n := colours(after, part); n < least {
				t.Errorf("%s: the pane %q shows %d colours: that is no picture", look.Name, f.ID, n)
			}
			if got := changed(shifted(before, dx, dy), after, part, 3); got > 0.02 {
				t.Errorf("%s: %.1f %% of the pane %q do not move with the picture", look.Name, 100*got, f.ID)
			}
		}
	}
}

// eachInTurn sees two pictures in the one pane, each after the other: by themselves, and, while
// they are held to be looked at, as they are asked for.
func (p *page) eachInTurn(least int) {
	p.t.Helper()
	label := func() string { return eval[string](p, `JSON.parse(threeply.view()).frames[0].label`) }
	p.waitFor(`v.frames[0].label !== ` + quoted(label()))
	p.command("pause", map[string]any{"on": true})
	var seen []*image.RGBA
	for range 2 {
		shot := p.picturesAlone() // what the label says is drawn a moment later
		was := label()
		if n := colours(shot, p.rectOf(p.view().Frames[0])); n < least {
			p.t.Errorf("%s: %d colours: that is no picture", was, n)
		}
		seen = append(seen, shot)
		p.command("blink", nil)
		p.waitFor(`v.frames[0].label !== ` + quoted(was))
	}
	p.command("pause", map[string]any{"on": false})
	if got := changed(seen[0], seen[1], p.rectOf(p.view().Frames[0]), 2); got < 0.1 {
		p.t.Errorf("the two pictures differ in %.2f %% only", 100*got)
	}
}
