package screen

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// No dots are the paper, whole dots the layers themselves, and half a tint of one layer
// the square of the mean of the roots: with n = 2 (Yule and Nielsen) a solid of 0.05 on
// paper of 0.80 reads 0.3125, darker than the mean of both, 0.425.
func TestDotsBetweenTheirEnds(t *testing.T) {
	p, _ := pigment.PaletteByID("arylide")
	l := stack.DefaultRecipe(p).Layers()
	full := [3]float64{0.8, 0.7, 0.75}
	d := NewDots(l, full)
	for k := range 8 {
		var area, height [3]float64
		for i := range area {
			if k>>i&1 == 1 {
				area[i], height[i] = 1, full[i]
			}
		}
		got, want := d.Reflectance(area), l.Reflectance(height)
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-12 {
				t.Fatalf("areas %v at %g nm: %.6f, want %.6f", area, spectrum.Wavelength(i), got[i], want[i])
			}
		}
	}
	if got := math.Pow(0.5*math.Sqrt(0.8)+0.5*math.Sqrt(0.05), Spread); math.Abs(got-0.3125) > 1e-9 {
		t.Errorf("half a tint reads %.4f", got)
	}
	half, paper, solid := d.Reflectance([3]float64{0, 0.5, 0}), l.Reflectance([3]float64{}), l.Reflectance([3]float64{0, full[1], 0})
	for i := range half {
		if want := math.Pow((math.Sqrt(paper[i])+math.Sqrt(solid[i]))/2, 2); math.Abs(half[i]-want) > 1e-12 {
			t.Fatalf("half a tint at %g nm reads %.5f, want %.5f", spectrum.Wavelength(i), half[i], want)
		}
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
		d := NewDots(l, scale.Thickness(1))
		wanted := func(u float64) spectrum.Lab { return d50.Lab(l.Reflectance(scale.Thickness(u))) }
		s := d.Scale(d50, wanted)
		worst := 0.0
		for u := 0.0; u <= 1; u += 1.0 / 97 {
			var area [3]float64
			for i := range area {
				area[i] = s.Area(pigment.Printer(i), u)
			}
			worst = max(worst, spectrum.DeltaE00(d50.Lab(d.Reflectance(area)), wanted(u)))
		}
		t.Logf("%-10s ΔE00 %.2f at most", p.ID, worst)
		if !(worst < 1.5) {
			t.Errorf("%s: neutrals of dots are %.2f off", p.ID, worst)
		}
	}
}
