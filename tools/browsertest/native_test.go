package browsertest

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/plate"
	"threeply/proof/render"
	"threeply/proof/scan"
	"threeply/proof/session"
)

// TestScreenAgainstNative holds what a person sees to the Go renderer on this machine:
// the demo's files are opened here once more, the page's session is read, both pictures
// are rendered for the places that they have on the screen, and a screenshot must agree.
func TestScreenAgainstNative(t *testing.T) {
	p := demo(t)
	p.nudgedAgainstNative()
}

// nudgedAgainstNative lays a layer out of register and holds reference and print, at 100 %,
// to what this machine renders.
func (p *page) nudgedAgainstNative() {
	t := p.t
	t.Helper()
	p.command("nudge", map[string]any{"printer": "magenta", "dxUm": 260.0, "dyUm": -140.0, "turnDeg": 0.15, "stretchPct": 0.1})
	p.command("zoom", map[string]any{"percent": 100}) // the scan itself, no reduced copy of it
	shown := p.picturesAlone()

	state, set := p.nativeSet()
	printing, err := picture.Prepare(&state)
	if err != nil {
		t.Fatal(err)
	}
	curves := printing.Curves(&state)
	stage := p.stage()
	for id, kind := range map[string]render.Kind{"reference": render.Reference, "print": render.Print} {
		frame := p.frameRect(id)
		view := p.keyMatrix(state, frame.Min.Sub(stage.Min))
		want := plain(picture.Assemble(&state, printing, curves, set.Density, view, 0).Image(kind, frame.Dx(), frame.Dy(), nil))
		within, worst := 0, 0
		var where image.Point
		for y := range frame.Dy() {
			for x := range frame.Dx() {
				got, should := shown.RGBAAt(frame.Min.X+x, frame.Min.Y+y), want.RGBAAt(x, y)
				d := max(apart(got.R, should.R), apart(got.G, should.G), apart(got.B, should.B))
				if d <= 2 {
					within++
				}
				if d > worst {
					worst, where = d, image.Pt(x, y)
				}
			}
		}
		share := float64(within) / float64(frame.Dx()*frame.Dy())
		t.Logf("%s: %v, %.3f %% within 2/255, worst %d/255 at %v", id, frame.Size(), 100*share, worst, where)
		if share < 0.99 || worst > 6 {
			t.Errorf("%s: the screen and the Go renderer part: want 99 %% within 2/255 and none beyond 6", id)
		}
	}
}

// openedHere are the demo's files as this machine opens them, the same for all tests.
var openedHere = sync.OnceValues(func() (*plate.Set, error) {
	var files []plate.File
	for _, filter := range session.Filters {
		found, err := filepath.Glob(filepath.Join(siteDir, "demo", "*"+filter+"*.tif"))
		if err != nil || len(found) != 1 {
			return nil, fmt.Errorf("the demo's %s plate: %v, %v", filter, found, err)
		}
		data, err := os.ReadFile(found[0])
		if err != nil {
			return nil, err
		}
		files = append(files, plate.File{Name: filepath.Base(found[0]), Data: scan.Bytes(data)})
	}
	return plate.Open(files, plate.Options{}, nil)
})

// session is the session as the page holds it.
func (p *page) session() session.State {
	p.t.Helper()
	s, err := session.Read("the page's session", []byte(eval[string](p, `threeply.sessionText()`)))
	if err != nil {
		p.t.Fatal(err)
	}
	return s
}

// nativeSet reads the page's session and opens the demo's files, which it is of, here.
func (p *page) nativeSet() (session.State, *plate.Set) {
	p.t.Helper()
	state := p.session()
	set, err := openedHere()
	if err != nil {
		p.t.Fatal(err)
	}
	for i, source := range state.Sources {
		if source.File != set.Sources[i].Name {
			p.t.Fatalf("source %d of the page is %s, here %s", i, source.File, set.Sources[i].Name)
		}
	}
	return state, set
}

// keyMatrix takes the pixels of a picture whose first pixel lies at a point of the
// stage to pixels of the key plate, as the page itself says where they lie.
func (p *page) keyMatrix(state session.State, at image.Point) affine.Matrix {
	p.t.Helper()
	const step = 100
	w, h := state.Frame()
	key := func(x, y int) (float64, float64) {
		share := eval[[2]float64](p, fmt.Sprintf(`threeply.keyAt(%g, %g)`, float64(x)+0.5, float64(y)+0.5))
		return share[0] * float64(w-1), share[1] * float64(h-1)
	}
	x0, y0 := key(at.X, at.Y)
	x1, y1 := key(at.X+step, at.Y+step)
	return affine.Matrix{(x1 - x0) / step, 0, x0, 0, (y1 - y0) / step, y0}
}
