package relief

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"

	"threeply/proof/pigment"
)

// P. F. Jacobs, Rapid Prototyping & Manufacturing, SME 1992, as quoted
// second-hand: D_p 0.175 mm, E_c 8 mJ/cm², E 30 mJ/cm² cure 0.231 mm, and each
// doubling of E adds D_p ln 2.
func TestWorkingCurveOfJacobs(t *testing.T) {
	r := Response{Depth: 175, Threshold: 8, Coat: 1e6}
	got := r.Hardened(math.Log10(30))
	t.Logf("%.2f µm; error %.2g of a figure of three digits", got, math.Abs(got-231))
	if math.Abs(got-231) > 0.5 {
		t.Errorf("%.2f µm, want 231", got)
	}
	for _, e := range []float64{9, 30, 400} {
		if by := r.Hardened(math.Log10(2*e)) - r.Hardened(math.Log10(e)); math.Abs(by-175*math.Ln2) > 1e-9 {
			t.Errorf("doubling %g adds %g µm", e, by)
		}
	}
	for _, e := range []float64{0.01, 3, 8} {
		if got := r.Hardened(math.Log10(e)); got > 1e-9 {
			t.Errorf("%g, at most the threshold, hardens %g µm", e, got)
		}
	}
	if got := (Response{Depth: 175, Threshold: 8, Coat: 100}).Hardened(9); got != 100 {
		t.Errorf("a coat of 100 µm is %g high", got)
	}
}

// The range from nothing to the whole coat is coat/(D_p ln 10).
func TestRange(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24}
	if got := r.Hardened(r.Range()); math.Abs(got-24) > 1e-9 || math.Abs(r.Range()-24/(8*math.Ln10)) > 1e-12 {
		t.Errorf("range %g hardens %g", r.Range(), got)
	}
	if got := r.PerStop() * 24; math.Abs(got-(r.Hardened(0.5+math.Log10(2))-r.Hardened(0.5))) > 1e-9 {
		t.Errorf("a stop is %g µm", got)
	}
}

var wedge = []pigment.Printed{{LogExposure: -0.2, Micron: 0.4}, {LogExposure: 0.1, Micron: 2}, {LogExposure: 0.3, Micron: 5}, {LogExposure: 0.7, Micron: 12.5}, {LogExposure: 1, Micron: 17}, {LogExposure: 1.2, Micron: 17}, {LogExposure: 1.5, Micron: 18}}

// A general-purpose library has the same cubic over unequal steps; a measured curve
// goes before the law and the law goes on from its ends.
func TestWedgeAgainstLibrary(t *testing.T) {
	var x, y []float64
	for _, s := range wedge {
		x, y = append(x, s.LogExposure), append(y, s.Micron)
	}
	var f interp.FritschButland
	if err := f.Fit(x, y); err != nil {
		t.Fatal(err)
	}
	r := Response{Depth: 8, Threshold: 1, Coat: 24, wedge: wedge}
	worst, last := 0.0, -1.0
	for v := -1.0; v < 3; v += 0.001 {
		got := r.Hardened(v)
		if got < last {
			t.Fatalf("at %g the height falls to %g", v, got)
		}
		last = got
		if v >= x[1] && v <= x[len(x)-2] { // the end pieces take other slopes
			worst = max(worst, math.Abs(got-f.Predict(v)))
		}
	}
	t.Logf("largest difference %.2g µm", worst)
	if worst > 1e-9 {
		t.Errorf("largest difference %g", worst)
	}
	for _, s := range wedge {
		if got := r.Hardened(s.LogExposure); math.Abs(got-s.Micron) > 1e-9 {
			t.Errorf("step %v: %g", s, got)
		}
	}
	end := wedge[len(wedge)-1]
	if got, want := r.Hardened(end.LogExposure+math.Log10(2)), end.Micron+8*math.Ln2; math.Abs(got-want) > 1e-9 {
		t.Errorf("a stop beyond the wedge: %g, want %g", got, want)
	}
	if r.Hardened(-5) != 0 || r.Hardened(9) != 24 {
		t.Error("the ends are not nothing and the coat")
	}
}

func TestExposureIsTheInverse(t *testing.T) {
	for _, r := range []Response{{Depth: 8, Threshold: 3, Coat: 24}, {Depth: 8, Threshold: 1, Coat: 24, wedge: wedge}} {
		for h := 0.0; h <= 24; h += 0.25 {
			if got := r.Hardened(r.Exposure(h)); math.Abs(got-h) > 1e-6 {
				t.Errorf("%g µm comes back as %g", h, got)
			}
		}
		if r.Exposure(99) != r.Exposure(24) || r.Exposure(-1) != r.Exposure(0) {
			t.Error("heights beyond the coat are not the coat")
		}
	}
}

// Exposure ranges of sensitised tissue lie between about 1.2 and 2.2 (from memory,
// 1 to 5 % of dichromate). A yellow absorbs the violet most and so prints the
// longest range; more pigment makes it longer still, a thicker coat of the same
// mixture leaves the depth of the light as it is.
func TestPriorOfTheTrade(t *testing.T) {
	for _, p := range pigment.Palettes() {
		var depth [3]float64
		for i := range depth {
			r := Of(p.Layer(pigment.Printer(i)))
			depth[i] = r.Depth
			if !(r.Range() > 1.2 && r.Range() < 2.3) {
				t.Errorf("%s %s: range %.2f", p.ID, pigment.Printer(i), r.Range())
			}
		}
		t.Logf("%-10s D_p %.1f µm", p.ID, depth)
		if !(depth[pigment.Yellow] < depth[pigment.Magenta] && depth[pigment.Yellow] < depth[pigment.Cyan]) {
			t.Errorf("%s: D_p %.1f, the yellow's is not the shortest", p.ID, depth)
		}
	}
	tissue := pigment.Palettes()[0].Yellow
	more, thicker := tissue, tissue.Recoated(2*tissue.CoatMicron)
	more.Load *= 2
	if a, b, c := Of(tissue), Of(more), Of(thicker); !(b.Depth < a.Depth && math.Abs(c.Depth-a.Depth) < 1e-9 && c.Coat == 2*a.Coat) {
		t.Errorf("D_p %.2f, with twice the pigment %.2f, twice the coat %.2f", a.Depth, b.Depth, c.Depth)
	}
}

func TestMeasuredGoesBeforeThePrior(t *testing.T) {
	tissue := pigment.Palettes()[0].Cyan
	none := 0.0
	tissue.Hardening = pigment.Hardening{DepthMicron: 11, Threshold: 40, HoldOnMicron: &none, Wedge: wedge}
	r := Of(tissue)
	if r.Depth != 11 || r.Threshold != 40 || r.HoldOn != 0 || r.Hardened(0.3) != 5 {
		t.Errorf("%+v", r)
	}
}
