package fit

import (
	"context"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Tissues so far from the palette that what it is taken to print does not show that rows G and H
// were swapped: the fit itself shows it, and once mended it leaves out less than half as many patches. K and S are those of published swatches: see
// TestTissuesOfPublishedSwatches.
func TestSwappedRowsByTheFit(t *testing.T) {
	p, s := sheetOf("arylide")
	tr := workshop(p, 45)
	for l, ci := range []string{"PY37", "NR9", "PG18"} {
		g, _ := pigment.PigmentByCI(ci)
		tr.k[l], tr.s[l] = g.K(), g.S()
	}
	for way, text := range map[string]string{Spectra: tr.sheet(s, 0.003, 0.03, 45, 20, true), Densitometer: tr.densities(s, 0.01, 45, true)} {
		fitted := func(text string) (*Readings, *Result) {
			r, err := Take(&s, "A", File{"a.txt", []byte(text)})
			if err != nil {
				t.Fatal(err)
			}
			if m := r.Misread(&s, stack.DefaultRecipe(p)); m != nil {
				t.Fatalf("%s: by the palette it is read %s: choose a case that this does not show", way, m.Words)
			}
			out, err := Of(context.Background(), Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(p)})
			if err != nil {
				t.Fatal(err)
			}
			return r, out
		}
		var lines []string
		for _, line := range strings.Split(text, "\n") {
			at := strings.IndexAny(line, " ,")
			if at > 0 {
				if patch, ok := s.Find(line[:at]); ok && (patch.Row == 6 || patch.Row == 7) {
					line = testsheet.ID(13-patch.Row, patch.Col) + line[at:]
				}
			}
			lines = append(lines, line)
		}
		r, out := fitted(strings.Join(lines, "\n"))
		m := out.Misread()
		if m == nil || m.Words != "with rows G and H swapped" {
			t.Errorf("%s: said to be %+v; left out %v", way, m, out.LeftOut)
			continue
		}
		r.Mend(m)
		const apart = "Readings and sheet do not go together"
		if !strings.HasPrefix(out.Sentence, apart) {
			t.Errorf("%s: of rows swapped it is said: %s", way, out.Sentence)
		}
		mended, err := Of(context.Background(), Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(p)})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: overprints ΔE00 %.2f swapped, %.2f mended", way, out.HeldOut.Mean, mended.HeldOut.Mean)
		if mended.HeldOut.Mean > 1.5 || len(mended.LeftOut) > len(out.LeftOut)/2 || mended.Misread() != nil || strings.Contains(mended.Sentence, apart) {
			t.Errorf("%s: mended %+v, left out %v", way, mended.HeldOut, mended.LeftOut)
		}
	}
}
