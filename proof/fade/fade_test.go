package fade

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// After the dose of its class a layer of half the standard depth has faded by grade 4 of the
// grey scale of ISO 105-A02, CIELAB 1.7 (from memory); after none by nothing; and what is
// left falls by equal shares for equal light.
func TestNoticedAtTheDoseOfTheClass(t *testing.T) {
	light, _ := spectrum.LightByID("D50")
	for _, ci := range []string{"NR4", "PR83", "PB15:3", "PY34"} {
		p, _ := pigment.PigmentByCI(ci)
		at := func(left float64) spectrum.Lab {
			one := pigment.NewTissue(pigment.Share{CI: ci, Share: left})
			return light.Lab(stack.DefaultRecipe(pigment.Palette{Yellow: one}).Reflectance([3]float64{0.5, 0, 0}))
		}
		for _, class := range []float64{1, 3.5, 8} {
			dose := pigment.FadingDose(class)
			if by := at(Left(p, class, dose)).Distance(at(1)); math.Abs(by-1.7) > 0.01 {
				t.Errorf("%s of class %g has faded by %.3f at %.3g Mlx·h", ci, class, by, dose)
			}
			if once, twice := Left(p, class, dose), Left(p, class, 2*dose); Left(p, class, 0) != 1 || math.Abs(twice-once*once) > 1e-12 {
				t.Errorf("%s: %.4f is left after one dose, %.4f after two", ci, once, twice)
			}
		}
	}
}

// The doses of the blue wool classes without UV in CIE 157:2004, in Mlx·h (from memory: 0.3,
// 1, 3, 10, 30, 100, 300, 1100), lie within a third of a class of ours.
func TestDosesOfTheClasses(t *testing.T) {
	for i, dose := range []float64{0.3, 1, 3, 10, 30, 100, 300, 1100} {
		low, high := pigment.FadingDose(float64(i+1)-1.0/3), pigment.FadingDose(float64(i+1)+1.0/3)
		if !(dose > low && dose < high) {
			t.Errorf("class %d: %g Mlx·h, ours %.3g to %.3g", i+1, dose, low, high)
		}
	}
}

// A strip that was measured goes before the classes: half of it gone after 10 Mlx·h is
// three quarters gone after 20, and what is left prints as half the load does.
func TestMeasuredStripGoesFirst(t *testing.T) {
	p, _ := pigment.PaletteByID("gamboge")
	for _, c := range []struct{ dose, left float64 }{{0, 1}, {10, 0.5}, {20, 0.25}} {
		p.Cyan.Faded = &pigment.Faded{Dose: 10, Left: 0.5}
		e := pigment.Exhibition{Lux: c.dose * 1e6 / (8 * 365), Hours: 8, Years: 1}
		faded, layers := Palette(p, e, true)
		half := p.Cyan
		half.Load *= c.left
		k, s := faded.Cyan.KS()
		wantK, wantS := half.KS()
		for i := range k {
			if math.Abs(k[i]-wantK[i]) > 1e-9 || math.Abs(s[i]-wantS[i]) > 1e-9 {
				t.Fatalf("after %g Mlx·h the cyan is not that of load × %g", c.dose, c.left)
			}
		}
		if l := layers[pigment.Cyan]; !l.Measured || math.Abs(l.Least-c.left) > 1e-12 || l.Most != l.Least || !strings.Contains(l.Words(), "measured") {
			t.Errorf("after %g Mlx·h: %+v, “%s”", c.dose, l, l.Words())
		}
		if layers[pigment.Magenta].Measured {
			t.Error("the magenta was not measured")
		}
	}
}

// A fugitive red goes first and takes the print to the hues of the others; in the dark, or in
// no time, nothing goes; pigments of which nothing is known stay, and are named.
func TestPaletteOnShow(t *testing.T) {
	p, _ := pigment.PaletteByID("gamboge")
	faded, layers := Palette(p, pigment.Exhibition{Lux: 50, Hours: 8, Years: 100}, true)
	for _, printer := range pigment.Printers() {
		t.Logf("%s: %+v", printer, layers[printer])
		if l := layers[printer]; !(l.Least >= 0 && l.Least <= l.Most && l.Most <= 1) {
			t.Errorf("%s: %+v", printer, l)
		}
	}
	if !(layers[pigment.Magenta].Least < layers[pigment.Cyan].Least) {
		t.Error("carmine does not go before Prussian blue and viridian")
	}
	k, _ := faded.Magenta.KS()
	was, _ := p.Magenta.KS()
	for i := range k {
		if math.Abs(k[i]-was[i]*layers[pigment.Magenta].Least) > 1e-9 {
			t.Fatalf("the red of one pigment absorbs %.4f of %.4f where %.4f is left", k[i], was[i], layers[pigment.Magenta].Least)
		}
	}
	if best, _ := Palette(p, pigment.Exhibition{Lux: 50, Hours: 8, Years: 100}, false); !(best.Magenta.Pigments[0].Share > faded.Magenta.Pigments[0].Share) {
		t.Error("at best as much is lost as at worst")
	}
	if _, none := Palette(p, pigment.Exhibition{}, true); none[pigment.Magenta].Least != 1 {
		t.Errorf("in the dark %.4f is left", none[pigment.Magenta].Least)
	}
}

// Every pigment of the table has a range of classes, or is said to have none.
func TestClassesOfAllPigments(t *testing.T) {
	unknown := 0
	for _, p := range pigment.Pigments() {
		b, ok := p.Classes()
		if ok && !(b.Least >= 1 && b.Least <= b.Most && b.Most <= 8) {
			t.Errorf("%s: classes %v", p.CI, b)
		}
		if !ok {
			unknown++
			t.Logf("%s: %q says no class", p.CI, p.Lightfastness)
		}
	}
	if unknown == len(pigment.Pigments()) {
		t.Error("no class is known")
	}
}
