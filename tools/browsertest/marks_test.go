package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/session"
)

// truth is where the demo's plates lie by the program that made them, by source
// of the session.
func truth(t *testing.T, s session.State) [3]affine.Matrix {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(siteDir, "demo", "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Plates map[string]struct{ Matrix affine.Matrix }
	}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	var out [3]affine.Matrix
	for _, f := range filter.All {
		name := f.String()
		out[s.Assign[f]] = all.Plates[name].Matrix
	}
	return out
}

// lookAt brings a pixel of the key into the middle of the frames, and shows the
// three plates about it.
func (p *page) lookAt(x, y float64) {
	p.t.Helper()
	p.command("look", map[string]any{"id": "beside"})
	p.command("zoom", map[string]any{"percent": 100})
	p.rest()
	s := p.session()
	w, h := s.Frame()
	f := p.view().Frames[0]
	at := eval[[]float64](p, fmt.Sprintf(`threeply.keyAt(%v, %v)`, f.X+f.W/2, f.Y+f.H/2))
	p.command("pan", map[string]any{"dx": at[0]*float64(w-1) - x, "dy": at[1]*float64(h-1) - y})
	p.command("markChoose", nil)
	p.rest()
	p.command("look", map[string]any{"id": "marks"})
	p.rest()
}

// features are places of the demo's still life, in pixels of its key, where all
// three plates have detail.
var features = [][2]float64{{330, 917}, {1180, 980}, {457, 450}, {1330, 560}}

// pinFeature brings a place of the key to about the middle of the green plate's pane,
// clicks there and waits for the other plates. It returns the mark and the pixel of the
// key that was clicked on.
func (p *page) pinFeature(x, y float64) (session.Pinned, [2]float64) {
	p.t.Helper()
	n := len(p.session().Marks)
	p.lookAt(x, y)
	pane := p.frameRect("plate-green")
	at := image.Pt(pane.Min.X+pane.Dx()/2, pane.Min.Y+pane.Dy()/2)
	s := p.session()
	w, h := s.Frame()
	inStage := at.Sub(p.stage().Min)
	share := eval[[2]float64](p, fmt.Sprintf(`threeply.keyAt(%d, %d)`, inStage.X, inStage.Y))
	key := [2]float64{share[0] * float64(w-1), share[1] * float64(h-1)}
	if math.Hypot(key[0]-x, key[1]-y) > 20 {
		p.t.Fatalf("brought %.1f, %.1f of the key to the middle, not %g, %g", key[0], key[1], x, y)
	}
	p.clickAt(float64(at.X), float64(at.Y))
	p.waitFor(fmt.Sprintf(`v.marks.length === %d && v.marks[%d].plates.every(q => q.set)`, n+1, n))
	return p.session().Marks[n], key
}

// TestMarks registers the demo by marks: pinned by the pointer in one plate,
// proposed in the others, corrected, undone.
func TestMarks(t *testing.T) {
	p := demo(t)
	p.resize(1400, 860)
	p.command("station", map[string]any{"id": "register"})
	lies := truth(t, p.session())
	for _, feature := range features {
		m, at := p.pinFeature(feature[0], feature[1])
		s := p.session()
		key := m.At[s.KeySource()]
		if math.Hypot(key.X-at[0], key.Y-at[1]) > 1.5 || key.Proposed {
			t.Errorf("pinned at %.2f, %.2f of the key instead of %v", key.X, key.Y, at)
		}
		for _, f := range filter.All {
			name := f.String()
			i := s.Assign[f]
			if i == s.KeySource() {
				continue
			}
			x, y := lies[i].Apply(key.X, key.Y)
			off := math.Hypot(m.At[i].X-x, m.At[i].Y-y)
			t.Logf("mark %d: the %s plate's place is proposed %.3f px from the truth, certain to %.2f", m.N, name, off, m.At[i].Certainty)
			if off > 0.5 || !m.At[i].Proposed {
				t.Errorf("mark %d: the %s plate's place is %.3f px from the truth: %+v", m.N, name, off, m.At[i])
			}
		}
	}

	s := p.session()
	found := place.Register(&s, s.Assign[0])
	p.run(`[...document.querySelectorAll("#panel-register label")].find(l => l.textContent === "the marks").click()`)
	p.waitFor(`v.registerBy === "marks"`)
	s = p.session()
	w, h := s.Frame()
	for _, f := range filter.All {
		name := f.String()
		m := place.Register(&s, s.Assign[f])
		x, y := m.Apply(float64(w)/2, float64(h)/2)
		tx, ty := lies[s.Assign[f]].Apply(float64(w)/2, float64(h)/2)
		if off := math.Hypot(x-tx, y-ty); off > 0.5 {
			t.Errorf("by marks the %s plate's centre lies %.3f px from the truth", name, off)
		}
	}
	if place.Register(&s, s.Assign[0]) == found {
		t.Error("the marks change nothing")
	}
	if words := eval[string](p, `document.querySelector(".marks-list .gives").textContent`); words == "" {
		t.Error("nothing says what the marks give")
	}
	p.command("undo", nil)
	s = p.session()
	if s.By != session.ByRegister || place.Register(&s, s.Assign[0]) != found {
		t.Error("registering by marks is not undone")
	}
	p.command("redo", nil)

	p.correctByKeys()
}

// correctByKeys moves the last mark's pin of the green plate by a tenth of a
// pixel and a whole one, confirms it, and takes another one away.
func (p *page) correctByKeys() {
	p.t.Helper()
	was := p.session().Marks
	last := was[len(was)-1]
	p.rest() // the keys go by what the page shows
	p.focusCanvas()
	p.press(kb.ArrowRight)
	p.press(kb.ArrowDown, chromedp.KeyModifiers(chromedp.ModifierShift))
	s := p.session()
	key := s.KeySource()
	p.waitFor(fmt.Sprintf(`JSON.parse(threeply.sessionText()).marks[%d].at[%d].y > %v`, len(was)-1, key, last.At[key].Y+0.9))
	s = p.session()
	now, before := s.Marks[len(was)-1].At[key], last.At[key]
	if math.Abs(now.X-before.X-0.1) > 1e-6 || math.Abs(now.Y-before.Y-1) > 1e-6 {
		p.t.Errorf("keys moved the pin from %.3f, %.3f to %.3f, %.3f", before.X, before.Y, now.X, now.Y)
	}
	p.press(kb.Enter)
	p.waitFor(fmt.Sprintf(`!v.marks[%d].open`, len(was)-1))
	p.press("n")
	p.waitFor(`v.chosenMark === 1`)
	p.rest()
	p.press(kb.Delete)
	p.waitFor(fmt.Sprintf(`v.marks.length === %d && v.marks[0].n === 2`, len(was)-1))
}

// TestPlatesByThemselves pans one plate alone, all three with Shift, and drags a
// pin: the others stay.
func TestPlatesByThemselves(t *testing.T) {
	p := demo(t)
	m, _ := p.pinFeature(features[0][0], features[0][1])
	dots := func() [3][2]float64 {
		p.rest()
		pins := eval[[][]struct{ X, Y float64 }](p, `JSON.parse(threeply.view()).pins.map(l => l.map(q => ({X: q.x, Y: q.y})))`)
		var out [3][2]float64
		for i, l := range pins {
			if len(l) != 1 {
				t.Fatalf("pane %d shows %d pins", i, len(l))
			}
			out[i] = [2]float64{l[0].X, l[0].Y}
		}
		return out
	}
	was := dots()
	blue := p.frameRect("plate-blue")
	x, y := float64(blue.Min.X+40), float64(blue.Min.Y+60)
	p.drag(x, y, x+30, y+20)
	is := dots()
	if moved := is[2][0] - was[2][0]; math.Abs(moved-30) > 0.5 || is[0] != was[0] || is[1] != was[1] {
		t.Errorf("a drag in the blue plate moves the pins from %v to %v", was, is)
	}
	if got := p.session().Marks; len(got) != 1 || got[0] != m {
		t.Errorf("a drag of the plate changes the mark: %+v", got)
	}

	// the pin of the red plate, by 8 pixels of the screen, is 2 of the scan at 400 %
	stage := p.stage()
	px, py := float64(stage.Min.X)+is[0][0], float64(stage.Min.Y)+is[0][1]
	p.drag(px, py, px+8, py)
	s := p.session()
	red := s.Assign[0]
	pin := s.Marks[0].At[red]
	if d := math.Hypot(pin.X-m.At[red].X, pin.Y-m.At[red].Y); math.Abs(d-2) > 0.1 || pin.Proposed {
		t.Errorf("the dragged pin moved by %.2f px and is %+v", d, pin)
	}
	if s.Marks[0].At[s.KeySource()] != m.At[s.KeySource()] {
		t.Error("the key's pin moved with it")
	}
}

// TestLoupe switches the loupe by its key, and finds it beside the pointer,
// never over it, and its picture drawn.
func TestLoupe(t *testing.T) {
	p := demo(t)
	p.focusCanvas()
	p.press("l")
	p.waitFor(`v.loupe.on`)
	p.rest()
	stage := p.stage()
	frame := p.frameRect("reference")
	for _, share := range [][2]float64{{0.5, 0.2}, {0.02, 0.5}, {0.97, 0.95}} {
		x := float64(frame.Min.X) + share[0]*float64(frame.Dx())
		y := float64(frame.Min.Y) + share[1]*float64(frame.Dy())
		p.point(x-3, y)
		p.point(x, y)
		ly := y - float64(stage.Min.Y)
		p.waitFor(fmt.Sprintf(`v.loupe.panes.length === 3 && v.loupe.x >= 0 && v.loupe.y >= 0 &&
			v.loupe.x + v.loupe.w <= %d && v.loupe.y + v.loupe.h <= %d && (%v < v.loupe.y || %v > v.loupe.y + v.loupe.h)`,
			stage.Dx(), stage.Dy(), ly, ly))
	}
	labels := eval[[]string](p, `[...document.querySelectorAll("#lines .loupe text")].map(e => e.textContent)`)
	if fmt.Sprint(labels) != "[red plate green plate blue plate]" {
		t.Errorf("the loupe's panes are labelled %q", labels)
	}
	with := p.settled()
	p.press("l")
	p.waitFor(`!v.loupe.on && v.loupe.panes.length === 0`)
	if without := p.settled(); changed(with, without, stage, 0) < 0.05 {
		t.Error("the loupe is not drawn")
	}
}

// TestFullContrast spreads the tones of a dark corner of the plates, and gives them
// back.
func TestFullContrast(t *testing.T) {
	p := demo(t)
	p.command("look", map[string]any{"id": "marks"})
	p.command("zoom", map[string]any{"percent": 600})
	p.waitFor(`v.look === "marks" && v.zoom === 6`)
	spread := func(shot image.Image) int {
		low, high := 255, 0
		r := p.frameRect("plate-red").Inset(8)
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				g := int(color.GrayModel.Convert(shot.At(x, y)).(color.Gray).Y)
				low, high = min(low, g), max(high, g)
			}
		}
		return high - low
	}
	plain := p.settled()
	p.run(`[...document.querySelectorAll("#rail label")].find(l => l.textContent === "full contrast").click()`)
	p.waitFor(`v.contrast`)
	full := p.waitChanged(plain, "plate-red", 0.1)
	if was, is := spread(plain), spread(full); is < 230 || is < was+20 {
		t.Errorf("the red plate spans %d greys, in full contrast %d", was, is)
	}
	p.run(`[...document.querySelectorAll("#rail label")].find(l => l.textContent === "full contrast").click()`)
	p.waitFor(`!v.contrast`)
	p.waitSame(plain, "plate-red", 0.001)
}

// TestPlatesByTurns shows two plates by turns, by themselves.
func TestPlatesByTurns(t *testing.T) {
	p := demo(t)
	p.command("look", map[string]any{"id": "turns"})
	p.command("plates", map[string]any{"first": 0, "second": 2})
	p.waitFor(`v.look === "turns" && v.frames[0].label.includes("red")`)
	p.waitFor(`v.frames[0].label.includes("blue")`)
	p.command("look", map[string]any{"id": "plate"})
	p.waitFor(`v.frames[0].label.includes("blue") && v.frames[0].note.endsWith("_blue.tif")`)
}

// TestPinch enlarges the picture by two fingers.
func TestPinch(t *testing.T) {
	p := demo(t)
	before := p.view().Zoom
	frame := p.frameRect("reference")
	x, y := float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2)
	touch := func(kind input.DispatchTouchEventType, apart ...float64) {
		t.Helper()
		event := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
		for i, d := range apart {
			id := float64(i)
			event.TouchPoints = append(event.TouchPoints, &input.TouchPoint{X: x + d, Y: y, ID: &id})
		}
		p.do("a touch", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, input.DispatchTouchEvent, event)
			return err
		}))
	}
	touch(input.DispatchTouchEventTypeTouchStart, -30)
	touch(input.DispatchTouchEventTypeTouchStart, -30, 30)
	for _, d := range []float64{40, 50, 60} {
		touch(input.DispatchTouchEventTypeTouchMove, -d, d)
	}
	touch(input.DispatchTouchEventTypeTouchEnd)
	p.waitFor(`v.zoom > ` + number(1.8*before))
	if zoom := p.view().Zoom; zoom > 2.2*before {
		t.Errorf("fingers twice as far apart enlarge from %.3f to %.3f", before, zoom)
	}
}
