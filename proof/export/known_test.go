package export

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"

	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

func savedPNG(t *testing.T, s *session.State, planes [3]*plane.Plane, kind render.Kind) image.Image {
	t.Helper()
	p, err := NewProof(s, planes, kind, spectrum.SRGB, label.Made{})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := p.WritePNG(&b); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// TestSavedGreysLieOnTheScale saves the proof of a grey scale in a modern and in a
// historic palette, on two papers, and reads the file: every step has the colour that
// the scale gives it.
func TestSavedGreysLieOnTheScale(t *testing.T) {
	const side, step = 96, 8
	for _, c := range []struct{ palette, paper string }{{"arylide", "sized"}, {"earth", "cream"}} {
		s, planes := picturetest.Scene(side, func(_, _, y int) float64 { return float64(y/step) / (side/step - 1) })
		s.Palette, s.Paper = c.palette, c.paper
		picturetest.Hold(&s, 0) // the wash is another matter
		p, err := picture.Prepare(&s)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, worst, strays := p.Scale.Strays(); strays {
			t.Fatalf("%s: the grey scale strays by ΔE00 %.2f: nothing is known of its prints", c.palette, worst)
		}
		img := savedPNG(t, &s, planes, render.Print)
		worst := 0.0
		for y := step / 2; y < side; y += step {
			want := picturetest.OnDisplay(picturetest.OnPrint(float64(y/step)/(side/step-1), p.Scale.Paper, p.Scale.Depth.Lab))
			r, g, b, _ := img.At(side/2, y).RGBA()
			for ch, got := range [3]uint32{r, g, b} {
				off := math.Abs(float64(got)/257 - want[ch])
				worst = max(worst, off)
				if off > 1.5 {
					t.Errorf("%s on %s: step %d, channel %d is %.1f of 255, want %.1f", c.palette, c.paper, y/step, ch, float64(got)/257, want[ch])
				}
			}
		}
		t.Logf("%s on %s: within %.2f of 255", c.palette, c.paper, worst)
	}
}

// edges are where a square of one layer ends in a picture: where its channel, read
// against the way from bare paper, crosses the middle between both, in a row and in a
// column through the square.
func edges(img image.Image, channel int) (across, down float64) {
	side := img.Bounds().Dx()
	at := func(x, y int) float64 {
		r, g, b, _ := img.At(x, y).RGBA()
		return float64([3]uint32{r, g, b}[channel])
	}
	find := func(v func(i int) float64) float64 {
		half := (v(side/3) + v(side-1)) / 2
		for i := side - 1; i > 0; i-- {
			if v(i-1) < half {
				return float64(i-1) + (half-v(i-1))/(v(i)-v(i-1))
			}
		}
		return math.NaN()
	}
	return find(func(i int) float64 { return at(i, side/3) }), find(func(i int) float64 { return at(side/3, i) })
}

// TestSavedOffsetsMoveTheirLayer saves proofs of one layer's square on bare paper and
// moves the layer: to the right and up, as many pixels as the print's width makes of the
// micrometres. The reference stays where it was.
func TestSavedOffsetsMoveTheirLayer(t *testing.T) {
	const side, edge = 120, 60
	for printer, channel := range map[pigment.Printer]int{pigment.Yellow: 2, pigment.Magenta: 1, pigment.Cyan: 0} {
		s, planes := picturetest.Scene(side, func(filter, x, y int) float64 {
			if filter == channel && x < edge && y < edge { // dark to this plate alone: its layer prints
				return 0
			}
			return 1
		})
		s.PrintWidth = 240 // mm: 2000 µm a pixel
		for _, move := range [][2]int{{0, 0}, {10, -6}, {-7, 12}} {
			s.Offsets[printer] = session.Offset{DX: 2000 * float64(move[0]), DY: 2000 * float64(move[1])}
			x, y := edges(savedPNG(t, &s, planes, render.Print), channel)
			wantX, wantY := edge-0.5+float64(move[0]), edge-0.5+float64(move[1])
			if !(math.Abs(x-wantX) < 0.5 && math.Abs(y-wantY) < 0.5) {
				t.Errorf("%s moved by %v pixels ends at %.2f, %.2f, want %.1f, %.1f", printer, move, x, y, wantX, wantY)
			}
			x, y = edges(savedPNG(t, &s, planes, render.Reference), channel)
			if !(math.Abs(x-edge+0.5) < 0.5 && math.Abs(y-edge+0.5) < 0.5) {
				t.Errorf("%s moved by %v pixels: the reference ends at %.2f, %.2f", printer, move, x, y)
			}
		}
	}
}
