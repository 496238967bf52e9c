package balance

import (
	"testing"

	"threeply/proof/spectrum"
)

func TestBlackDrifts(t *testing.T) {
	lights := spectrum.Lights()
	for _, id := range []string{"arylide", "chrome"} {
		r := recipe(t, id)
		d := Neutral(r, lights[0], DefaultLimit).Depth
		drifts := Drifts(r, d.Thickness, lights...)
		if len(drifts) != len(lights) || drifts[0].DeltaE != 0 || drifts[0].Lab != d.Lab {
			t.Fatalf("%+v", drifts)
		}
		for _, f := range drifts[1:] {
			t.Logf("%s in %s: %.2f, ΔE00 %.2f", id, f.Light, f.Lab, f.DeltaE)
			if !(f.DeltaE > 0.05 && f.DeltaE < 15) {
				t.Errorf("%s in %s drifts by %v", id, f.Light, f.DeltaE)
			}
		}
	}
	// A flat spectrum has one colour in all lights.
	r := recipe(t, "arylide")
	r.Paper.R = spectrum.Flat(0.8)
	for _, f := range Drifts(r, [3]float64{}, lights...) {
		if !(f.DeltaE < 1e-9) {
			t.Errorf("bare flat paper drifts by %v in %s", f.DeltaE, f.Light)
		}
	}
}
