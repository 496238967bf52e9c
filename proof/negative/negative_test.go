package negative

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/film"
	"threeply/proof/transfer"
)

// Which way the file lies, by common practice: an ordinary process that is not turned, or
// turned twice, wants a file that is mirrored when its ink goes to the tissue; one
// transfer, or three, wants it as it is. With the base to the tissue it is the other way
// round.
func TestWhichWayTheFileLies(t *testing.T) {
	for _, c := range []struct {
		route          string
		emulsion, base bool
	}{{"direct", false, true}, {"clear-paper", true, false}, {"clear-temporary-paper", false, true}} {
		r, ok := transfer.RouteByID(c.route)
		if !ok {
			t.Fatal(c.route)
		}
		for side, want := range map[string]bool{Emulsion: c.emulsion, Base: c.base} {
			s := Usual
			s.Side = side
			if got := s.Mirrored(r); got != want {
				t.Errorf("%s, %s to the tissue: mirrored %v, want %v", c.route, side, got, want)
			}
			// The picture, put through all turns one by one, must read right: 1 2 3. The file
			// is seen from the emulsion; the lamp looks through the film, so that the tissue
			// takes what is seen from the side away from it.
			picture := []int{1, 2, 3}
			if s.Mirrored(r) {
				slices.Reverse(picture)
			}
			if side == Emulsion { // seen from the base
				slices.Reverse(picture)
			}
			for range r.Supports {
				slices.Reverse(picture)
			}
			if !slices.Equal(picture, []int{1, 2, 3}) {
				t.Errorf("%s, %s to the tissue: the print reads %v", c.route, side, picture)
			}
			said := strings.Join(s.Lies(r), " ")
			reads := "reads right."
			if want {
				reads = "reads mirrored."
			}
			if !strings.Contains(said, "As seen from the ink side, the picture in the file "+reads) || !strings.Contains(said, Kind(want)+" negative") || !strings.Contains(said, "no colour management") {
				t.Errorf("%s, %s: %s", c.route, side, said)
			}
		}
	}
}

func laid(change func(*Setup), w, h float64, mirrored bool) Layout {
	s := Usual
	if change != nil {
		change(&s)
	}
	return Of(s, w, h, mirrored)
}

// Sizes are what was asked for, to a pixel, and nothing lies over anything else.
func TestLayout(t *testing.T) {
	for _, ppi := range []float64{180, 360, 720, 1440} {
		for _, size := range [][2]float64{{300, 210}, {180, 250}, {120, 90}, {40, 40}, {10, 300}} {
			for _, mirrored := range []bool{false, true} {
				l := laid(func(s *Setup) { s.PPI = ppi }, size[0], size[1], mirrored)
				px := func(mm float64) float64 { return mm * ppi / 25.4 }
				if math.Abs(float64(l.Trim.W())-px(size[0])) > 0.5 || math.Abs(float64(l.Trim.H())-px(size[1])) > 0.5 {
					t.Errorf("%v at %g: the trim is %v", size, ppi, l.Trim)
				}
				for _, in := range [][2]Box{{l.Trim, l.Picture}, {l.Picture, l.Window}, {l.Window, l.Opaque}, {l.Opaque, {0, 0, l.W, l.H}}} {
					if a, b := in[0], in[1]; a.X0 < b.X0 || a.Y0 < b.Y0 || a.X1 > b.X1 || a.Y1 > b.Y1 {
						t.Errorf("%v at %g: %v is not within %v", size, ppi, a, b)
					}
				}
				if edge := px(Usual.SafeEdge); math.Abs(float64(l.Window.X0-l.Opaque.X0)-edge) > 1 || math.Abs(float64(l.Opaque.Y1-l.Window.Y1)-edge) > 1 {
					t.Errorf("%v at %g: the safe edge lies between %v and %v", size, ppi, l.Window, l.Opaque)
				}
				if len(l.Marks) != 8 {
					t.Fatalf("%d marks", len(l.Marks))
				}
				for _, m := range l.Marks {
					if in := l.Picture; m[0] >= in.X0 && m[0] < in.X1 && m[1] >= in.Y0 && m[1] < in.Y1 {
						t.Errorf("%v at %g: the mark %v lies in the picture", size, ppi, m)
					}
					if in := l.Window; m[0] < in.X0 || m[0] >= in.X1 || m[1] < in.Y0 || m[1] >= in.Y1 {
						t.Errorf("%v at %g: the mark %v lies out of the window", size, ppi, m)
					}
				}
				for _, b := range l.Bars {
					if got := float64(b.X1 - b.X0 + b.Y1 - b.Y0); math.Abs(got-px(b.Length)) > 1 {
						t.Errorf("%v at %g: a bar of %g mm has %g pixels, want %.2f", size, ppi, b.Length, got, px(b.Length))
					}
				}
				for _, wedge := range [][]Box{l.Wedge, l.Fine} {
					for _, b := range wedge {
						if p := l.Picture; b.X0 < p.X1 && b.X1 > p.X0 && b.Y0 < p.Y1 && b.Y1 > p.Y0 || b.W() < 1 || b.H() < 1 {
							t.Errorf("%v at %g: a step at %v, the picture at %v", size, ppi, b, p)
						}
					}
				}
			}
		}
	}
	large := laid(nil, 300, 210, false)
	if len(large.Bars) != 2 || large.Bars[0].Length != 100 || large.Bars[1].Length != 100 || len(large.Wedge) != Steps || len(large.Fine) != FineSteps || large.Letter.W() == 0 {
		t.Errorf("%+v", large)
	}
	if bare := laid(func(s *Setup) { s.Marks = false }, 300, 210, false); len(bare.Marks)+len(bare.Bars)+len(bare.Wedge) > 0 || bare.Window != bare.Picture {
		t.Errorf("%+v", bare)
	}
}

func TestSheets(t *testing.T) {
	s := Usual
	for _, c := range []struct {
		w, h float64
		id   string
		want string
		fits bool
	}{
		{190, 280, "", "A4", true}, {280, 190, "", "A4", true}, {202, 280, "", "11 × 14 in", true}, {900, 1300, "", "no named sheet", false},
		{280, 190, "a4", "A4", true}, {300, 300, "a4", "take 13 × 19 in", false}, {900, 1300, "a0", "make the print smaller", false},
	} {
		s.Sheet = c.id
		_, said, ok := s.SheetFor(c.w, c.h)
		if ok != c.fits || !strings.Contains(strings.ToLower(said), strings.ToLower(c.want)) {
			t.Errorf("%g × %g on “%s”: %v, %s", c.w, c.h, c.id, ok, said)
		}
	}
	for i, one := range Sheets() {
		if got, ok := SheetByID(one.ID); !ok || got != one {
			t.Error(one)
		}
		if i > 0 && one.W*one.H < Sheets()[i-1].W*Sheets()[i-1].H {
			t.Errorf("%s is not larger than the one before", one.Name)
		}
	}
	if film.Usual.Check() != nil {
		t.Error("the usual film is refused")
	}
}
