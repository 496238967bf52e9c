package stack

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// A check of hue alone against the solids of offset printing, ISO 12647-2:2013
// (C 56 -35 -53, M 48 75 -5, Y 89 -4 92, second-hand): modern tissues at 0.6 of a
// coat are of the same family.
func TestHuesOfModernSolids(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	for _, p := range pigment.Palettes()[:2] {
		r := DefaultRecipe(p)
		for printer, offset := range [3]spectrum.Lab{{89, -4, 92}, {48, 75, -5}, {56, -35, -53}} {
			var x [3]float64
			x[printer] = 0.6
			l := d50.Lab(r.Reflectance(x))
			turn := math.Remainder(math.Atan2(l[2], l[1])-math.Atan2(offset[2], offset[1]), 2*math.Pi) * 180 / math.Pi
			t.Logf("%s %s: %.1f, hue %+.0f° from the offset solid", p.ID, pigment.Printer(printer), l, turn)
			if !(math.Abs(turn) < 30) {
				t.Errorf("%s %s is of another hue", p.ID, pigment.Printer(printer))
			}
		}
	}
}

// lone is the tissue of one printer alone on the default paper, laid as thick as
// the measure asks.
func lone(t *testing.T, p pigment.Palette, printer pigment.Printer, measure func(spectrum.Curve) float64, want float64) (lab spectrum.Lab, hue float64) {
	t.Helper()
	d50, _ := spectrum.LightByID("D50")
	layers := DefaultRecipe(p).Layers()
	print := func(x float64) spectrum.Curve {
		var amounts [3]float64
		amounts[printer] = x
		return layers.Reflectance(amounts)
	}
	low, high := 0.0, 20.0
	if measure(print(high)) < want {
		t.Fatalf("%s %s never reaches a density of %g", p.ID, printer, want)
	}
	for range 50 {
		if mid := (low + high) / 2; measure(print(mid)) < want {
			low = mid
		} else {
			high = mid
		}
	}
	lab = d50.Lab(print(high))
	return lab, math.Atan2(lab[2], lab[1]) * 180 / math.Pi
}

func turn(from, to float64) float64 { return math.Remainder(to-from, 360) }

func chroma(l spectrum.Lab) float64 { return math.Hypot(l[1], l[2]) }

// Common practice: the blue-greens of the 1930s are clearly greener than today's
// cyans, for workshops greened their Prussian blue. At visual density 0.7 at least
// two historic sets lie 15° or more on the green side of every modern one.
func TestHistoricCyansAreGreener(t *testing.T) {
	greener := 0
	for _, p := range pigment.Palettes() {
		lab, hue := lone(t, p, pigment.Cyan, spectrum.VisualDensity, 0.7)
		t.Logf("%-10s %-8s %.1f, hue %.1f°, chroma %.1f", p.ID, p.Era, lab, hue+360, chroma(lab))
		all := p.Era == pigment.Historic
		for _, m := range pigment.Palettes() {
			if m.Era == pigment.Modern {
				_, modern := lone(t, m, pigment.Cyan, spectrum.VisualDensity, 0.7)
				all = all && turn(modern, hue) <= -15
			}
		}
		if all {
			greener++
		} else if p.Era == pigment.Historic && !strings.Contains(p.Note(), "bluer") {
			t.Errorf("%s is not greener, and its note does not say so", p.ID)
		}
	}
	if greener < 2 {
		t.Errorf("%d historic sets are greener", greener)
	}
}

// Common practice: against today's usual set the historic yellow is clearly darker
// and dirtier, each at a density of 1 through the blue filter.
func TestHistoricYellowsAreDarkerAndDirtier(t *testing.T) {
	blue := func(r spectrum.Curve) float64 { return spectrum.StatusA(r)[2] }
	modern, _ := lone(t, pigment.Palettes()[0], pigment.Yellow, blue, 1)
	t.Logf("modern %.1f, chroma %.1f", modern, chroma(modern))
	for _, p := range pigment.Palettes() {
		if p.Era != pigment.Historic {
			continue
		}
		lab, hue := lone(t, p, pigment.Yellow, blue, 1)
		t.Logf("%-10s %.1f, hue %.1f°, chroma %.1f", p.ID, lab, hue, chroma(lab))
		if !(lab[0] < modern[0]-3 && chroma(lab) < chroma(modern)-3) {
			t.Errorf("%s: L* %.1f, chroma %.1f against the modern %.1f and %.1f", p.ID, lab[0], chroma(lab), modern[0], chroma(modern))
		}
	}
}

// Common practice: historic reds are redder than modern magentas, each at a density
// of 1 through the green filter.
func TestHistoricRedsAreRedder(t *testing.T) {
	green := func(r spectrum.Curve) float64 { return spectrum.StatusA(r)[1] }
	for _, m := range pigment.Palettes() {
		if m.Era != pigment.Modern {
			continue
		}
		_, modern := lone(t, m, pigment.Magenta, green, 1)
		for _, p := range pigment.Palettes() {
			if p.Era != pigment.Historic {
				continue
			}
			lab, hue := lone(t, p, pigment.Magenta, green, 1)
			if by := turn(modern, hue); !(by > 10) {
				t.Errorf("%s: %.1f is %.1f° redder than that of %s", p.ID, lab, by, m.ID)
			}
		}
	}
}

// Middle chrome laid on so thick that nothing shines through has a hue of about
// Munsell 1Y to 3Y, 70° to 85° in CIELAB; light chromes are greener (from memory).
func TestChromeYellowIsAMiddleShade(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	p, _ := pigment.PigmentByCI("PY34")
	k, s := p.K(), p.S()
	var r spectrum.Curve
	for i := range r {
		r[i], _ = Film(k[i], s[i], 1e6)
		r[i] = Gloss.Surface.Outside(r[i])
	}
	lab := d50.Lab(r)
	hue := math.Atan2(lab[2], lab[1]) * 180 / math.Pi
	t.Logf("%.1f, hue %.1f°, chroma %.1f", lab, hue, chroma(lab))
	if !(hue > 70 && hue < 85 && chroma(lab) > 60) {
		t.Errorf("%.1f at %.1f° is no middle chrome", lab, hue)
	}
}
