package screen

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// No dots are the paper, whole dots the layers themselves, and what lies between is
// averaged as Yule and Nielsen say, done here spectrum by spectrum: with n = 2 half a tint
// of a solid of 0.05 on paper of 0.80 reads 0.3125, darker than the mean of both, 0.425.
func TestDotsAgainstSpectra(t *testing.T) {
	if got := math.Pow(0.5*math.Sqrt(0.8)+0.5*math.Sqrt(0.05), Spread); math.Abs(got-0.3125) > 1e-9 {
		t.Errorf("half a tint reads %.4f", got)
	}
	p, _ := pigment.PaletteByID("arylide")
	l := stack.DefaultRecipe(p).Layers()
	full := [3]float64{0.8, 0.7, 0.75}
	d50 := spectrum.Lights()[0]
	d := NewDots(l, d50, full)
	spectral := func(area [3]float64) spectrum.Lab {
		var out spectrum.Curve
		for k := range 8 {
			weight, height := 1.0, [3]float64{}
			for i, a := range area {
				if k>>i&1 == 1 {
					weight *= a
					height[i] = full[i]
				} else {
					weight *= 1 - a
				}
			}
			for i, r := range l.Reflectance(height) {
				out[i] += weight * math.Pow(r, 1.0/Spread)
			}
		}
		for i := range out {
			out[i] = math.Pow(out[i], Spread)
		}
		return d50.Lab(out)
	}
	places := []float64{0, 0.03, 0.5, 1}
	for _, y := range places {
		for _, m := range places {
			for _, c := range places {
				area := [3]float64{y, m, c}
				got, want := d.Lab(area), spectral(area)
				for i := range got {
					if math.Abs(got[i]-want[i]) > 1e-9 {
						t.Fatalf("areas %v: Lab %v, want %v", area, got, want)
					}
				}
			}
		}
	}
	if got, want := d.Lab([3]float64{1, 1, 1}), d50.Lab(l.Reflectance(full)); spectrum.DeltaE00(got, want) > 1e-6 {
		t.Errorf("whole dots are %v, and the layers %v", got, want)
	}
}

// The areas of the scale print the same neutrals as the heights of the continuous print,
// for every palette.
func TestScalePrintsTheNeutrals(t *testing.T) {
	d50 := spectrum.Lights()[0]
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		l := r.Layers()
		scale := balance.Neutral(r, d50, balance.DefaultLimit)
		d := NewDots(l, d50, scale.Thickness(1))
		wanted := func(u float64) spectrum.Lab { return d50.Lab(l.Reflectance(scale.Thickness(u))) }
		s := d.Scale(wanted)
		worst := 0.0
		for u := 0.0; u <= 1; u += 1.0 / 97 {
			var area [3]float64
			for i := range area {
				area[i] = s.Area(pigment.Printer(i), u)
			}
			worst = max(worst, spectrum.DeltaE00(d.Lab(area), wanted(u)))
		}
		t.Logf("%-10s ΔE00 %.2f at most", p.ID, worst)
		if !(worst < 1.5) {
			t.Errorf("%s: neutrals of dots are %.2f off", p.ID, worst)
		}
	}
}
