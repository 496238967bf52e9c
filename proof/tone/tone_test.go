package tone

import (
	"math"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/density"
	"threeply/proof/spectrum"
)

var films = []Film{
	{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8},
	{Negative: true, White: 1.2, Black: 0.25, Gamma: 0.5},
	{Negative: false, White: 0.02, Black: 2.1, Gamma: 1},
}

// One stop more exposure is γ·log10 2 more density: the definition of the
// straight line (ISO 6, common practice).
func TestExposureFollowsTheStraightLine(t *testing.T) {
	f := films[0]
	veil := math.Pow(10, -f.Range())
	lin := func(d float64) float64 { return f.Exposure(d)*(1-veil) + veil }
	got := lin(1.5) / lin(1.5-f.Gamma*math.Log10(2))
	if math.Abs(got-2) > 1e-9 {
		t.Errorf("one stop gives a ratio of %g, want 2", got)
	}
}

func TestExposureEndsAtBlackAndWhite(t *testing.T) {
	for _, f := range films {
		if w, b := f.Exposure(f.White), f.Exposure(f.Black); math.Abs(w-1) > 1e-12 || math.Abs(b) > 1e-12 {
			t.Errorf("%+v: white %g, black %g", f, w, b)
		}
		for d := 0.0; d <= 4; d += 0.1 {
			if h := f.Exposure(d); !(h >= 0 && h <= 1) {
				t.Errorf("%+v at %g: %g", f, d, h)
			}
		}
	}
	for _, f := range []Film{{Negative: true, White: 1, Black: 1, Gamma: 1}, {}, {Negative: true, White: 1}} {
		if h := f.Exposure(1); h != 0 {
			t.Errorf("%+v without range: %g, want 0", f, h)
		}
	}
}

// L* of Y = 18 % is 49.4961 (CIE 15, formula).
func TestDepth01IsEvenInLightness(t *testing.T) {
	if got := Depth01(0.18); math.Abs(got-(1-0.494961)) > 1e-6 {
		t.Errorf("18 %% grey lies at %g", got)
	}
	if Depth01(1) != 0 || math.Abs(Depth01(0)-1) > 1e-12 {
		t.Errorf("ends at %g and %g", Depth01(1), Depth01(0))
	}
}

func TestCurvesFollowTheirFunctions(t *testing.T) {
	worst := 0.0
	for _, f := range films {
		ref := ReferenceCurve(f)
		print := TonesOf(f).Print(func(u float64) float64 { return 0.8 * u })
		for code := 0.0; code <= 65535; code += 7 {
			h := f.Exposure(code * density.Max / 65535)
			if h > 0.01 && h < 0.99 { // away from the corners at black and white
				worst = max(worst, math.Abs(ref.At(code)-spectrum.EncodeSRGB(h)),
					math.Abs(print.At(code)-cube.Coordinate(0.8*Depth01(h))))
			}
		}
		if f.Negative != (ref.At(60000) > ref.At(0)) {
			t.Errorf("%+v runs the wrong way", f)
		}
	}
	t.Logf("largest distance %.2g", worst)
	if worst > 1e-3 {
		t.Errorf("largest distance %g, want below 1e-3 (a quarter of an 8-bit step)", worst)
	}
}

// A stop is twice the exposure.
func TestMoved(t *testing.T) {
	for _, h := range []float64{0.01, 0.18, 0.4} {
		if got, want := Moved(Depth01(h), 1), Depth01(2*h); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g and a stop: %g, want %g", h, got, want)
		}
	}
	if Moved(0, 1) != 0 || Moved(1, 1) != 1 {
		t.Error("white does not stay white, or black black")
	}
}
