package negative

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/film"
	"threeply/proof/pigment"
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

// frame is a frame of a small negative, drawn whole.
func frame(t *testing.T, s Setup, mirrored bool) (*Frame, [][]uint16) {
	t.Helper()
	l := Of(s, 150, 110, mirrored)
	f, err := NewFrame(l, s, s.Film.Coder(), 1.4, Label{Layer: pigment.Cyan, Lines: []string{"Boats at the quay · red plate", "lay it so that this reads right"}})
	if err != nil {
		t.Fatal(err)
	}
	rows := make([][]uint16, l.H)
	for y := range rows {
		rows[y] = make([]uint16, l.W)
		f.Row(y, rows[y])
	}
	return f, rows
}

// What is drawn is where the layout says, at the densities that it says.
func TestFrame(t *testing.T) {
	s := Usual
	s.PPI = 180
	coder := s.Film.Coder()
	for _, mirrored := range []bool{false, true} {
		f, rows := frame(t, s, mirrored)
		at := func(x, y int) float64 { return coder.Density(rows[y][x]) }
		middle := func(b Box) float64 { return at((b.X0+b.X1)/2, (b.Y0+b.Y1)/2) }
		for _, m := range f.Marks {
			if at(m[0], m[1]) != 0 || at(m[0]+f.px(markArm), m[1]) != 0 || at(m[0]+3, m[1]+3) != s.Film.Max {
				t.Errorf("the mark at %v is not drawn", m)
			}
		}
		for i, b := range f.Wedge {
			if got := middle(b); math.Abs(got-Step*float64(i)) > 1e-3 {
				t.Errorf("step %d has density %.4f", i, got)
			}
		}
		for i, b := range f.Fine {
			if got, want := middle(b), 1.4+FineStep*float64(i-FineSteps/2); math.Abs(got-want) > 1e-3 {
				t.Errorf("fine step %d has density %.4f, want %.4f", i, got, want)
			}
		}
		for _, b := range f.Bars {
			if at(b.X0, b.Y0) != 0 || at(b.X1, b.Y1) != 0 {
				t.Errorf("the bar %+v is not drawn", b)
			}
		}
		// The safe edge is dense but for the notch, at the upper right as the file is seen.
		o, clear := f.Opaque, 0
		for y := o.Y0; y < o.Y1; y++ {
			for x := o.X0; x < o.X1; x++ {
				if in := f.Window; (x < in.X0 || x >= in.X1 || y < in.Y0 || y >= in.Y1) && at(x, y) != s.Film.Max {
					clear++
					if x < o.X1-f.px(notchLeg) || y >= o.Y0+f.px(notchLeg) {
						t.Fatalf("the safe edge is open at %d, %d", x, y)
					}
				}
			}
		}
		if clear == 0 {
			t.Error("there is no notch")
		}
		// The letter is clear, and has more on its stem's side, which is the left of the print.
		left, right := 0, 0
		for y := f.Letter.Y0; y < f.Letter.Y1; y++ {
			for x := f.Letter.X0; x < f.Letter.X1; x++ {
				if at(x, y) == 0 {
					if x < (f.Letter.X0+f.Letter.X1)/2 {
						left++
					} else {
						right++
					}
				}
			}
		}
		if (left > right) == mirrored || left+right == 0 {
			t.Errorf("mirrored %v: the letter has %d pixels at its left and %d at its right", mirrored, left, right)
		}
	}
}

// Frames of the same setup have the same bytes, whichever layer they are of, but for the
// label and the fine wedge; and the label is mirrored where the emulsion is to lie down.
func TestLabelReadsFromTheLamp(t *testing.T) {
	s := Usual
	s.PPI = 180
	_, emulsion := frame(t, s, false)
	s.Side = Base
	_, base := frame(t, s, false)
	dense := 0
	for y := range emulsion {
		if y >= Of(s, 150, 110, false).Strip.Y1 {
			break
		}
		for x, v := range emulsion[y] {
			if v != base[y][len(base[y])-1-x] {
				t.Fatalf("the label of a film with its base on the tissue is not that with its emulsion there, mirrored, at %d, %d", x, y)
			}
			if v == 0 {
				dense++
			}
		}
	}
	if dense < 1000 {
		t.Errorf("only %d pixels of label", dense)
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

func BenchmarkFrame(b *testing.B) {
	s := Usual
	l := Of(s, 300, 210, false)
	f, err := NewFrame(l, s, s.Film.Coder(), 1.4, Label{Layer: pigment.Cyan, Lines: []string{"a", "b"}})
	if err != nil {
		b.Fatal(err)
	}
	row := make([]uint16, l.W)
	for b.Loop() {
		for y := range l.H {
			f.Row(y, row)
		}
	}
}
