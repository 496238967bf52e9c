package balance

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
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
	r.Paper.R = flat(0.8)
	for _, f := range Drifts(r, [3]float64{}, lights...) {
		if !(f.DeltaE < 1e-9) {
			t.Errorf("bare flat paper drifts by %v in %s", f.DeltaE, f.Light)
		}
	}
}

// Common practice: on gloss historic sets reach not only a deeper black but a
// more neutral one. Three whole coats lean less to a colour than those of today's
// usual set, and where the blue is Prussian blue with its broad band the balanced
// black keeps its neutrality better from light to light; peacock blue has a narrow
// band as modern pigments have.
func TestHistoricBlacksAreMoreNeutral(t *testing.T) {
	var lights []spectrum.Light
	for _, id := range []string{"D50", "A", "LED-B1", "LED-B3"} {
		l, _ := spectrum.LightByID(id)
		lights = append(lights, l)
	}
	black := func(p pigment.Palette) (chroma, drift float64) {
		r := stack.DefaultRecipe(p)
		r.Surface = stack.Gloss.Surface
		whole := lights[0].Lab(r.Reflectance([3]float64{1, 1, 1}))
		for _, d := range Drifts(r, Neutral(r, lights[0], DefaultLimit).Depth.Thickness, lights...) {
			drift = max(drift, d.DeltaE)
		}
		return math.Hypot(whole[1], whole[2]), drift
	}
	modern, _ := pigment.PaletteByID("arylide")
	leans, turns := black(modern)
	t.Logf("%s: chroma %.1f, turns by ΔE00 %.1f", modern.ID, leans, turns)
	for _, p := range pigment.Palettes() {
		if p.Era != pigment.Historic {
			continue
		}
		chroma, drift := black(p)
		t.Logf("%s: chroma %.1f, turns by ΔE00 %.1f", p.ID, chroma, drift)
		broad := p.ID != "peacock"
		if !(chroma < leans && (!broad || drift < 0.5*turns)) {
			t.Errorf("%s: the black of whole coats has chroma %.1f, the balanced one turns by ΔE00 %.1f; the modern set's %.1f and %.1f", p.ID, chroma, drift, leans, turns)
		}
	}
}

// Nothing turns in the light that it was balanced for, whichever that is.
func TestDriftsFromTheChosenLight(t *testing.T) {
	for _, id := range []string{"D50", "D65", "A", "LED-B3", "3200K"} {
		light, ok := spectrum.LightByID(id)
		if !ok {
			t.Fatalf("no light %s", id)
		}
		r := recipe(t, "arylide")
		depth := Neutral(r, light, DefaultLimit).Depth
		drifts := DriftsFrom(light, r, depth.Thickness)
		if first := drifts[0]; first.Light != id || first.DeltaE != 0 || first.Lab.Distance(depth.Lab) > 1e-9 {
			t.Errorf("%s: begins with %+v, the depth is %.3f", id, first, depth.Lab)
		}
		seen := map[string]bool{}
		for _, d := range drifts {
			if seen[d.Light] {
				t.Errorf("%s: %s stands there twice", id, d.Light)
			}
			seen[d.Light] = true
			if got := spectrum.DeltaE00(depth.Lab, d.Lab); math.Abs(got-d.DeltaE) > 1e-9 {
				t.Errorf("%s to %s: %.3f, from the depth %.3f", id, d.Light, d.DeltaE, got)
			}
		}
		for _, other := range []string{"D50", "A", "LED-B1", "LED-B3"} {
			if !seen[other] {
				t.Errorf("%s: nothing of %s", id, other)
			}
		}
	}
}
