package fit

import (
	"context"
	"slices"
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

// Where a layer begins somewhere between two steps, the overprints that have little of it
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
	if once.Mean > 0.7 || !strings.Contains(first.Sentence, "layer begins somewhere between two steps") {
		t.Fatalf("one sheet: %+v, %s", once, first.Sentence)
	}
	tr.secondSheet(t, p, first, 52058)
}

// Where the steps lie close and an overprint that lies between two of them is off nevertheless, the fit
// names it and asks for that sheet too.
func TestSecondSheetWhereAnOverprintIsOff(t *testing.T) {
	p, s := sheetOf("earth")
	tr := workshop(p, 70016)
	first := fitTexts(t, "earth", "", tr.sheet(s, 0.003, 0, 70016, 10, true))
	once := tr.errorAgainst(s, first)
	if once.Max < 2 {
		t.Fatalf("one sheet is enough here, %+v: take another workshop for this test", once)
	}
	worst := ""
	for _, one := range first.Patches {
		if one.Use == testsheet.HeldOut && one.DE00 == first.HeldOut.Max {
			worst = one.ID
		}
	}
	at, _ := s.Find(worst)
	steps := knots(s, 0)
	k, _ := slices.BinarySearch(steps, at.LogE[0])
	if wide := steps[k] - steps[k-1]; wide > fineStep || tr.curve[0](steps[k-1]) > 0 || tr.curve[0](steps[k]) == 0 {
		t.Fatalf("the yellow layer begins elsewhere, or %s lies elsewhere: take another workshop for this test", worst)
	}
	if !strings.Contains(first.Sentence, "the yellow layer begins somewhere between two steps") {
		t.Errorf("one sheet: %s", first.Sentence)
	}
	if want := worst + ": it is not told whether its yellow layer holds"; !strings.Contains(strings.Join(first.Notes, "\n"), want) {
		t.Errorf("no “%s” in %q", want, first.Notes)
	}
	tr.secondSheet(t, p, first, 71016)
}

// secondSheet prints and fits the sheet of the tissues that a first one showed: its overprints come out.
func (tr *truth) secondSheet(t *testing.T, p pigment.Palette, first *Result, seed uint64) {
	t.Helper()
	own := first.Palette("own", "Own", p, pigment.Measurement{Date: "2026-03-01"})
	s := testsheet.Of(own)
	r, err := Take(&s, "", File{"second.txt", []byte(tr.sheet(s, 0.003, 0, seed, 10, true))})
	if err != nil {
		t.Fatal(err)
	}
	second, err := Of(context.Background(), Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(own)})
	if err != nil {
		t.Fatal(err)
	}
	twice := tr.errorAgainst(s, second)
	t.Logf("against the truth: the second sheet %+v", twice)
	if twice.N != 12 || twice.Mean > 0.7 || twice.Max > 2 || strings.Contains(second.Sentence, "between two steps") {
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
