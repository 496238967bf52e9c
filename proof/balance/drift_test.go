package balance

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// line is a light of one wavelength. In it everything is a grey of CIELAB lightness
//
//	L* = 116 f(R(λ)) - 16
//
// (CIE 15:2018, section 8.2.1), whatever the observer's curves are.
func line(id string, nm float64) spectrum.Light {
	var power spectrum.Full
	power[int(nm-spectrum.First)/spectrum.Step] = 1
	return spectrum.NewLight(id, id, power)
}

// In lights of one wavelength the colours of a print and the differences between them
// are known from its reflectance alone: greys, whose CIEDE2000 difference is
//
//	|ΔL*| / S_L,  S_L = 1 + 0.015 (L̄-50)² / √(20 + (L̄-50)²)
//
// (G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30, 2005, 21, equations 15 and 22).
// All others are compared with the first, each is seen against its own white.
func TestDriftsInLightsOfOneWavelength(t *testing.T) {
	lightness := func(r float64) float64 {
		if r > 216.0/24389 {
			return 116*math.Cbrt(r) - 16
		}
		return 24389.0 / 27 * r
	}
	apart := func(a, b float64) float64 {
		mid := (a + b) / 2
		return math.Abs(a-b) / (1 + 0.015*(mid-50)*(mid-50)/math.Sqrt(20+(mid-50)*(mid-50)))
	}
	waves := []float64{550, 450, 620, 505}
	var lights []spectrum.Light
	for i, nm := range waves {
		lights = append(lights, line(string(rune('a'+i)), nm))
	}
	stepped := recipe(t, "arylide")
	stepped.Paper.R = spectrum.Sample(func(nm float64) float64 {
		if nm < 500 {
			return 0.2
		}
		return 0.8
	})
	black := recipe(t, "chrome")
	d50, _ := spectrum.LightByID("D50")
	for name, c := range map[string]struct {
		r stack.Recipe
		t [3]float64
	}{
		"a paper with a step": {stepped, [3]float64{}},
		"a balanced black":    {black, Neutral(black, d50, DefaultLimit).Depth.Thickness},
		"a coat of magenta":   {black, [3]float64{0, 1, 0}},
	} {
		r := c.r.Reflectance(c.t)
		at := func(nm float64) float64 { return lightness(r[int(nm-spectrum.First)/spectrum.Step]) }
		drifts, worst, most := Drifts(c.r, c.t, lights...), 0.0, 0.0
		if len(drifts) != len(lights) {
			t.Fatalf("%s: %d drifts in %d lights", name, len(drifts), len(lights))
		}
		for i, d := range drifts {
			l := at(waves[i])
			most = max(most, apart(at(waves[0]), l))
			worst = max(worst, d.Lab.Distance(spectrum.Lab{l, 0, 0}), math.Abs(d.DeltaE-apart(at(waves[0]), l)))
			if d.Light != lights[i].ID {
				t.Errorf("%s: light %d is called %s", name, i, d.Light)
			}
		}
		if !(worst < 1e-9) {
			t.Errorf("%s: %+v, up to %.2g off", name, drifts, worst)
		}
		if most < 1 {
			t.Errorf("%s drifts by %.2f only: it shows nothing", name, most)
		}
	}
}

// A flat spectrum has one colour in all lights.
func TestFlatPaperDoesNotDrift(t *testing.T) {
	r := recipe(t, "arylide")
	r.Paper.R = flat(0.8)
	for _, f := range Drifts(r, [3]float64{}, spectrum.Lights()...) {
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
