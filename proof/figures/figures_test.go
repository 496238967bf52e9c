package figures

import (
	"math"
	"slices"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

func TestOf(t *testing.T) {
	s := session.New()
	r, light, err := picture.Recipe(&s)
	if err != nil {
		t.Fatal(err)
	}
	f := Of(r, light, s.Limit, s.Spread)

	// A solid of colours of CIELAB holds less than the cylinder of its largest chroma.
	widest := slices.Max(f.Outline)
	if cylinder := math.Pi * widest * widest * 100; !(f.Volume > 0 && f.Volume < cylinder) {
		t.Errorf("volume %.0f, in a cylinder of %.0f", f.Volume, cylinder)
	}
	// The slices and the outline are taken off the solid by two ways of cutting it, the
	// slices in steps of hue and lightness: they agree to a tenth.
	if len(f.Outline) != len(f.Slices) {
		t.Fatalf("%d hues of the outline, %d slices", len(f.Outline), len(f.Slices))
	}
	for k, slice := range f.Slices {
		if len(slice) != 51 {
			t.Fatalf("slice %d has %d lightnesses, want those of L* 0, 2 … 100", k, len(slice))
		}
		if most := slices.Max(slice); most > 1.1*f.Outline[k] || most < 0.9*f.Outline[k] {
			t.Errorf("hue %d°: the slice reaches chroma %.1f, the outline %.1f", 360*k/len(f.Slices), most, f.Outline[k])
		}
	}

	if f.Drift[0].Light != light.ID || f.Drift[0].DeltaE != 0 || len(f.Drift) < 4 {
		t.Errorf("drifts %+v: want the chosen light first and at least three others", f.Drift)
	}
	for _, d := range f.Drift[1:] {
		if d.Light == light.ID || !(d.DeltaE > 0) || d.Name == "" {
			t.Errorf("drift %+v", d)
		}
	}

	b := f.Balance
	paper, black := b.L[0], b.L[len(b.L)-1]
	if math.Abs(paper-light.Lab(r.Reflectance([3]float64{}))[0]) > 1e-9 || !(black < paper-50) || b.Even {
		t.Errorf("the neutral scale runs from L* %.1f to %.1f", paper, black)
	}
	for printer, thickness := range b.T {
		if len(thickness) != len(b.L) || thickness[0] != 0 || !(thickness[len(thickness)-1] > 0.1) {
			t.Errorf("%s: %v for %d tones", printer, thickness, len(b.L))
		}
	}
	if len(b.T) != 3 {
		t.Errorf("thicknesses of %d printers", len(b.T))
	}

	before := math.Inf(1)
	for _, sure := range f.Sure {
		if !(sure.Lab[0] < before) {
			t.Errorf("%s is not darker than what is before it", sure.Name)
		}
		before = sure.Lab[0]
		if !(sure.Lighter[0] > sure.Lab[0] && sure.Lab[0] > sure.Heavier[0] && sure.DeltaE > 0) {
			t.Errorf("%s: L* %.1f, lighter %.1f, heavier %.1f, ± %.1f", sure.Name, sure.Lab[0], sure.Lighter[0], sure.Heavier[0], sure.DeltaE)
		}
		if len(sure.Causes) != 2 || sure.Causes[0].DeltaE < sure.Causes[1].DeltaE {
			t.Errorf("%s: causes %+v, want the strongest two in order", sure.Name, sure.Causes)
		}
	}
	if black-before > 0.5 || before-black > 0.5 {
		t.Errorf("the last of the scale has L* %.1f, the black %.1f", before, black)
	}
}

// A scale made by hand, whose residual crosses what counts as held half way between two
// tones.
func TestBalanceOfALostStretch(t *testing.T) {
	s := balance.Scale{
		L:        []float64{90, 70, 50, 30, 10},
		T:        make([][3]float64, 5),
		Residual: []float64{0, 0.25, 0.75, 1.5, 0},
	}
	b := balanceOf(s)
	if b.Lost == nil {
		t.Fatal("nothing is lost")
	}
	want := [2]float64{60, 30 - 20*(1.0/1.5)}
	for i := range want {
		if math.Abs(b.Lost[i]-want[i]) > 1e-9 {
			t.Errorf("lost between %v, want %v", *b.Lost, want)
		}
	}
	if b.Worst != 1.5 {
		t.Errorf("worst %v", b.Worst)
	}
	if held := balanceOf(balance.Scale{L: s.L, T: s.T, Residual: make([]float64, 5)}); held.Lost != nil {
		t.Errorf("a scale that is held is lost between %v", *held.Lost)
	}
}

// Where nothing varies, every colour is sure and nothing is a cause.
func TestSureOfNothing(t *testing.T) {
	s := session.New()
	r, light, err := picture.Recipe(&s)
	if err != nil {
		t.Fatal(err)
	}
	s.Spread.Load, s.Spread.Thickness, s.Spread.Haze, s.Spread.Finish = 0, 0, 0, false
	sure := SureOf("grey", s.Spread, r, light, [3]float64{0.5, 0.5, 0.5})
	if sure.DeltaE != 0 || len(sure.Causes) != 0 || spectrum.DeltaE00(sure.Lab, sure.Lighter) > 1e-9 {
		t.Errorf("%+v", sure)
	}
}
