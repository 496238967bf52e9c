package view

import (
	"math"
	"testing"

	"threeply/proof/session"
)

// Wherever the pointer is, the loupe lies on the stage and not on the pointer; what is
// under the pointer stands in the middle of each of its panes.
func TestLoupeNeverCoversThePointer(t *testing.T) {
	for _, look := range []string{"beside", "divided", "sure", "edges", "marks"} {
		seen := 0
		for _, size := range [][2]float64{{800, 500}, {1600, 900}, {360, 640}, {500, 220}} {
			v, s := looking(t, look)
			v.Resize(Stage{W: size[0], H: size[1], Ratio: 1.25})
			do(t, v, s, SetLoupe{On: true})
			for y := 0.0; y <= size[1]; y += size[1] / 23 {
				for x := 0.0; x <= size[0]; x += size[0] / 17 {
					do(t, v, s, Hover{X: x, Y: y})
					panes, box := v.LoupePanes(s)
					if len(panes) == 0 {
						continue
					}
					seen++
					if box.holds(x, y) {
						t.Fatalf("%s, stage %v: the loupe %v lies on the pointer at %g, %g", look, size, box, x, y)
					}
					if box.X < 0 || box.Y < 0 || box.X+box.W > size[0] || box.Y+box.H > size[1] {
						t.Fatalf("%s, stage %v, pointer %g, %g: the loupe %v leaves the stage", look, size, x, y, box)
					}
					under, _ := v.PaneAt(x, y)
					kx, ky := v.PixelAt(under, x, y)
					if under.OwnFrame {
						back, _ := BestPlace(s, s.SourceOf(under.Plate)).Inverse()
						kx, ky = back.Apply(kx, ky)
					}
					for _, p := range panes {
						if mx, my := v.PixelAt(p, p.X+p.W/2, p.Y+p.H/2); math.Hypot(mx-kx, my-ky) > 1e-9 {
							t.Fatalf("%s: under the pointer lies %g, %g, in the middle of the loupe %g, %g", look, kx, ky, mx, my)
						}
						if !box.holds(p.X, p.Y) || p.X+p.W > box.X+box.W || p.Y+p.H > box.Y+box.H {
							t.Fatalf("the pane %v leaves the loupe %v", p.Box, box)
						}
					}
				}
			}
		}
		if seen < 100 {
			t.Errorf("%s: the loupe was shown %d times only", look, seen)
		}
	}
}

func TestWhenTheLoupeIsShown(t *testing.T) {
	v, s := looking(t, "beside")
	shown := func() bool { panes, _ := v.LoupePanes(s); return len(panes) == 3 }
	if shown() {
		t.Error("it is shown before it is switched on")
	}
	do(t, v, s, SetLoupe{On: true, Zoom: 100})
	if !shown() || v.Loupe.Zoom != mostLoupeZoom {
		t.Errorf("before the pointer was seen it does not look at the middle, or its zoom is %g", v.Loupe.Zoom)
	}
	if x, y := v.aim(); x != 202 || y != 269 {
		t.Errorf("it looks at %g, %g, want the middle of the first pane", x, y)
	}
	do(t, v, s, Hover{X: 100, Y: 100})
	if !shown() {
		t.Error("it is not shown under the pointer")
	}
	do(t, v, s, Hover{X: 395, Y: 100}) // between the panes
	if shown() {
		t.Error("it is shown beside the pictures")
	}
	do(t, v, s, Hover{X: 100, Y: 100, Hidden: true})
	if shown() {
		t.Error("it is shown when the pointer has left")
	}
	empty := session.New()
	do(t, v, s, Hover{X: 100, Y: 100})
	if panes, _ := v.LoupePanes(&empty); len(panes) != 0 {
		t.Error("it is shown without plates")
	}
}
