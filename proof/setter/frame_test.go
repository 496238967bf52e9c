package setter

import (
	"math"
	"testing"

	"threeply/proof/negative"
	"threeply/proof/pigment"
)

// frame is a frame of a small negative, drawn whole.
func frame(t *testing.T, s negative.Setup, mirrored bool) (*Frame, [][]uint16) {
	t.Helper()
	l := negative.Of(s, 150, 110, mirrored)
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
	s := negative.Usual
	s.PPI = 180
	coder := s.Film.Coder()
	for _, mirrored := range []bool{false, true} {
		f, rows := frame(t, s, mirrored)
		at := func(x, y int) float64 { return coder.Density(rows[y][x]) }
		middle := func(b negative.Box) float64 { return at((b.X0+b.X1)/2, (b.Y0+b.Y1)/2) }
		for _, m := range f.Marks {
			if at(m[0], m[1]) != 0 || at(m[0]+f.px(negative.MarkArm), m[1]) != 0 || at(m[0]+3, m[1]+3) != s.Film.Max {
				t.Errorf("the mark at %v is not drawn", m)
			}
		}
		for i, b := range f.Wedge {
			if got := middle(b); math.Abs(got-negative.Step*float64(i)) > 1e-3 {
				t.Errorf("step %d has density %.4f", i, got)
			}
		}
		for i, b := range f.Fine {
			if got, want := middle(b), 1.4+negative.FineStep*float64(i-negative.FineSteps/2); math.Abs(got-want) > 1e-3 {
				t.Errorf("fine step %d has density %.4f, want %.4f", i, got, want)
			}
		}
		for k, wedge := range [][]negative.Box{f.Wedge, f.Fine} {
			for i, b := range wedge {
				numeral := 0
				for y := b.Y1 + 1; y < b.Y1+f.px(3); y++ {
					for x := b.X0; x < b.X1; x++ {
						if at(x, y) == 0 {
							numeral++
						}
					}
				}
				if i%5 == 0 && numeral < 5 {
					t.Errorf("wedge %d has no numeral at step %d", k, i)
				}
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
	s := negative.Usual
	s.PPI = 180
	_, emulsion := frame(t, s, false)
	s.Side = negative.Base
	_, base := frame(t, s, false)
	dense := 0
	for y := range emulsion {
		if y >= negative.Of(s, 150, 110, false).Strip.Y1 {
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

func BenchmarkFrame(b *testing.B) {
	s := negative.Usual
	l := negative.Of(s, 300, 210, false)
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
