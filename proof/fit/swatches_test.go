package fit

import (
	"context"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Tissues of which nothing is known are found from their sheet alone: aureolin, carmine and cobalt
// turquoise, with the absorption and the scattering that were fitted to measured swatches (NTNU
// Hyperspectral Pigment Dataset, H. Deborah, WHISPERS 2022, data doi:10.5281/zenodo.5592485, CC BY
// 4.0), printed by the sheet of a palette of three other pigments. They scatter up to forty times
// as much as those, aureolin and carmine more in the red than in the blue.
func TestTissuesOfPublishedSwatches(t *testing.T) {
	p, s := sheetOf("arylide")
	tr := swatches(t, p, 5)
	var assumed []float64
	light, _ := spectrum.LightByID("D50")
	for _, patch := range s.Patches {
		if patch.Use == testsheet.HeldOut {
			is := light.Lab(tr.see(&tr.paper, tr.amounts(patch, 0, nil)))
			assumed = append(assumed, spectrum.DeltaE00(is, light.Lab(stack.DefaultRecipe(p).Reflectance(sharesOf(p, patch)))))
		}
	}
	truth := tr.errorAgainst(s, fitTexts(t, "arylide", "", tr.sheet(s, 0.003, 0, 5, 10, true)))
	t.Logf("against the truth %+v; as assumed %+v", truth, errorsOf(assumed))
	if truth.N != 12 || truth.Mean > 0.7 || truth.Max > 2 || errorsOf(assumed).Mean < 5 {
		t.Error("the overprints are off")
	}
}

// Where a layer begins between two steps that lie far apart, the overprints that have little of it
// may be off by more. The fit then asks for the sheet of the tissues as found, which has fine steps
// there, and by that sheet they come out.
func TestSecondSheetWhereALayerBegins(t *testing.T) {
	p, s := sheetOf("chrome")
	tr := swatches(t, p, 51058)
	first := fitTexts(t, "chrome", "", tr.sheet(s, 0.003, 0, 51058, 10, true))
	once := tr.errorAgainst(s, first)
	if once.Max < 2 {
		t.Fatalf("one sheet is enough here, %+v: take another workshop for this test", once)
	}
	if once.Mean > 0.7 || !strings.Contains(first.Sentence, "layer begins between two steps that lie far apart") {
		t.Fatalf("one sheet: %+v, %s", once, first.Sentence)
	}
	own := first.Palette("own", "Own", p, pigment.Measurement{Date: "2026-03-01"})
	s = testsheet.Of(own)
	r, err := Take(&s, "", File{"second.txt", []byte(tr.sheet(s, 0.003, 0, 52058, 10, true))})
	if err != nil {
		t.Fatal(err)
	}
	second, err := Of(context.Background(), Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(own)})
	if err != nil {
		t.Fatal(err)
	}
	twice := tr.errorAgainst(s, second)
	t.Logf("against the truth: one sheet %+v, the second %+v", once, twice)
	if twice.N != 12 || twice.Mean > 0.7 || twice.Max > 2 || strings.Contains(second.Sentence, "far apart") {
		t.Errorf("the second sheet: %+v, %s", twice, second.Sentence)
	}
}

// swatches is a workshop that prints with the three pigments of the swatches.
func swatches(t *testing.T, p pigment.Palette, seed uint64) *truth {
	t.Helper()
	tr := workshop(p, seed)
	for l, ci := range []string{"PY40", "NR4", "PG50"} {
		g, ok := pigment.PigmentByCI(ci)
		if !ok || g.Status != pigment.StatusSwatches {
			t.Fatalf("%s is not of the swatches: %s", ci, g.Status)
		}
		tr.k[l], tr.s[l] = g.K(), g.S()
	}
	return tr
}
