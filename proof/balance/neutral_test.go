package balance

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

func d50() spectrum.Light { return spectrum.Lights()[0] }

// flat is a spectrum that is v everywhere.
func flat(v float64) spectrum.Curve { return spectrum.Sample(func(float64) float64 { return v }) }

func recipe(t testing.TB, id string) stack.Recipe {
	t.Helper()
	p, ok := pigment.PaletteByID(id)
	if !ok {
		t.Fatalf("no palette %s", id)
	}
	return stack.DefaultRecipe(p)
}

// Common practice, no published source: on gloss a balanced modern set stays at
// L* 15 to 26, historic sets go to 7 to 18, deeper than the modern ones. Whatever
// the set, its black takes 75 to 85 % of every coat alike (from memory).
func TestDepthsOfTheTrade(t *testing.T) {
	lightest, deepest := 0.0, 100.0
	for _, p := range pigment.Palettes() {
		d := Neutral(stack.DefaultRecipe(p), d50(), DefaultLimit).Depth
		t.Logf("%-10s L* %5.2f density %.2f thickness %.3f", p.ID, d.Lab[0], d.VisualDensity, d.Thickness)
		least, most := 15.0, 26.0
		if p.Era == pigment.Historic {
			least, most = 7, 18
			lightest = max(lightest, d.Lab[0])
		} else {
			deepest = min(deepest, d.Lab[0])
		}
		if !(d.Lab[0] > least && d.Lab[0] < most) {
			t.Errorf("%s: L* %.2f, want %g to %g", p.ID, d.Lab[0], least, most)
		}
		for i, x := range d.Thickness {
			if !(x >= 0.75 && x <= 0.85) {
				t.Errorf("%s: its black takes %.2f of the %s coat", p.ID, x, pigment.Printer(i))
			}
		}
	}
	if !(lightest < deepest) {
		t.Errorf("the lightest historic black has L* %.2f, the deepest modern one %.2f", lightest, deepest)
	}
}

// Three-colour blacks have a density of 1.4 to 1.7 on matt and of 1.8 to 2.2 on
// gloss (from memory, of good sets; the modern ones here, held to L* 15 to 26, end
// lower on gloss: see TestHowDeep).
func TestBlacksByFinish(t *testing.T) {
	for _, p := range pigment.Palettes() {
		black := func(f stack.Finish) Depth {
			r := stack.DefaultRecipe(p)
			r.Surface = f.Surface
			return Neutral(r, d50(), DefaultLimit).Depth
		}
		dull := black(stack.Matt)
		matt, satin, gloss := dull.VisualDensity, black(stack.Satin).VisualDensity, black(stack.Gloss).VisualDensity
		t.Logf("%-10s matt %.2f (L* %.1f) satin %.2f gloss %.2f", p.ID, matt, dull.Lab[0], satin, gloss)
		if !(matt > 1.35 && matt < 1.75) { // to the nearest tenth
			t.Errorf("%s: %.2f on matt", p.ID, matt)
		}
		if p.Era == pigment.Historic && !(gloss > 1.75 && gloss < 2.25) {
			t.Errorf("%s: %.2f on gloss", p.ID, gloss)
		}
		if !(matt < satin && satin < gloss) {
			t.Errorf("%s: matt %.2f satin %.2f gloss %.2f", p.ID, matt, satin, gloss)
		}
	}
}

// Common practice: part of what historic pigments gain is lost on a matt surface.
func TestMattHidesTheGain(t *testing.T) {
	density := func(id string, f stack.Finish) float64 {
		r := recipe(t, id)
		r.Surface = f.Surface
		return Neutral(r, d50(), DefaultLimit).Depth.VisualDensity
	}
	gloss := density("chrome", stack.Gloss) - density("arylide", stack.Gloss)
	matt := density("chrome", stack.Matt) - density("arylide", stack.Matt)
	t.Logf("gain of the historic set %.2f in density on gloss, %.2f on matt", gloss, matt)
	if !(gloss > 0.05 && matt > 0 && matt < 0.75*gloss) {
		t.Error("matt does not hide the gain")
	}
}

// Common practice: yellow on top lightens the black, its scatter lying over
// the rest.
func TestYellowOnTopLightensTheBlack(t *testing.T) {
	for _, id := range []string{"arylide", "chrome"} {
		r := recipe(t, id)
		under := Neutral(r, d50(), DefaultLimit).Depth.Lab[0]
		r.Order, _ = stack.ParseOrder("mcy")
		over := Neutral(r, d50(), DefaultLimit).Depth.Lab[0]
		t.Logf("%s: L* %.1f with yellow on the paper, %.1f on top", id, under, over)
		if !(over > under+1) {
			t.Errorf("%s: no lighter with yellow on top", id)
		}
	}
}

func TestScaleHolds(t *testing.T) {
	usual, worst := 0.0, 0.0
	for _, p := range pigment.Palettes() {
		for _, o := range stack.Orders() {
			lights := []string{"D50", "A", "LED-B3"}
			if o != stack.DefaultOrder {
				lights = lights[:1]
			}
			for _, id := range lights {
				l, _ := spectrum.LightByID(id)
				r := stack.DefaultRecipe(p)
				r.Order = o
				s := Neutral(r, l, DefaultLimit)
				if len(s.L) != Steps || len(s.T) != Steps || len(s.Residual) != Steps {
					t.Fatalf("%s: %d tones", p.ID, len(s.L))
				}
				for i, tone := range s.T {
					worst = max(worst, s.Residual[i])
					if o == stack.DefaultOrder {
						usual = max(usual, s.Residual[i])
					}
					if i == 0 {
						continue
					}
					for j, x := range tone {
						if !(x >= s.T[i-1][j] && x <= DefaultLimit) {
							t.Fatalf("%s %s %s tone %d: %v after %v", p.ID, o, l.ID, i, tone, s.T[i-1])
						}
					}
					want := s.L[0] + (s.L[Steps-1]-s.L[0])*float64(i)/(Steps-1)
					if !(math.Abs(s.L[i]-want) < 0.5) {
						t.Fatalf("%s %s %s tone %d: L* %v, want %v", p.ID, o, l.ID, i, s.L[i], want)
					}
				}
			}
		}
	}
	t.Logf("largest ΔE00 from the aim %.3f, in the usual order %.3f", worst, usual)
	// With yellow on top the deepest black can ask for less of a layer than the
	// tones before it: it is had at a price that the eye still passes over.
	if !(usual <= Held && worst <= 1) {
		t.Error("a scale strays from its aim")
	}
}

// What Thickness gives between the points must print as neutral as the points.
func TestThicknessBetweenThePoints(t *testing.T) {
	worst := 0.0
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		s := Neutral(r, d50(), DefaultLimit)
		last := [3]float64{}
		for i := range 1001 {
			u := float64(i) / 1000
			x := s.Thickness(u)
			for j := range x {
				if !(x[j] >= last[j]) {
					t.Fatalf("%s at %g: %v after %v", p.ID, u, x, last)
				}
			}
			last = x
			lab := d50().Lab(r.Reflectance(x))
			worst = max(worst, spectrum.DeltaE00(lab, fade(s.Paper, s.Depth.Lab, u)))
		}
		if s.Thickness(0) != [3]float64{} || s.Thickness(1) != s.Depth.Thickness || s.Thickness(7) != s.Depth.Thickness {
			t.Errorf("%s: ends are not paper and depth", p.ID)
		}
	}
	t.Logf("largest ΔE00 from the aim %.3f", worst)
	if !(worst <= 0.3) {
		t.Error("tones between the points stray")
	}
	if (Scale{}).Thickness(0.5) != [3]float64{} || (Scale{T: make([][3]float64, 2)}).Thickness(math.NaN()) != [3]float64{} {
		t.Error("an empty scale or NaN must give no pigment")
	}
}

func TestStrays(t *testing.T) {
	s := Scale{Residual: []float64{0, 0.1, 0.7, 0.4, 2, 0}}
	if from, to, worst, ok := s.Strays(); from != 0.4 || to != 0.8 || worst != 2 || !ok {
		t.Errorf("%v to %v, worst %v, %v", from, to, worst, ok)
	}
	s = Scale{Residual: []float64{0, 0.5}}
	if from, to, worst, ok := s.Strays(); from != 0 || to != 0 || worst != 0.5 || ok {
		t.Errorf("held, yet %v to %v, worst %v, %v", from, to, worst, ok)
	}
}

func BenchmarkNeutral(b *testing.B) {
	r, light := recipe(b, "earth"), d50()
	for b.Loop() {
		Neutral(r, light, DefaultLimit)
	}
}
