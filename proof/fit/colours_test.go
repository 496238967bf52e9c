package fit

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// colours is what an instrument that gives CIELAB alone writes of the sheet.
func (tr *truth) colours(s testsheet.Sheet, noise float64, seed uint64) string {
	random := rand.New(rand.NewPCG(seed, 13))
	light, _ := spectrum.LightByID("D50")
	var out strings.Builder
	out.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	for _, p := range s.Patches {
		ground := &tr.paper
		if p.Ground == testsheet.Dark {
			ground = &tr.dark
		}
		lab := light.Lab(tr.see(ground, tr.amounts(p, 0, random)))
		fmt.Fprintf(&out, "%s %.2f %.2f %.2f\n", p.ID, lab[0]+noise*random.NormFloat64(), lab[1]+noise*random.NormFloat64(), lab[2]+noise*random.NormFloat64())
	}
	out.WriteString("END_DATA\n")
	return out.String()
}

// CIELAB alone, to hundredths, tells the curves and the load, and leaves the shape of the
// spectra as assumed.
func TestColoursAlone(t *testing.T) {
	p, s := sheetOf("lemon")
	tr := workshop(p, 31)
	out := fitTexts(t, "lemon", "", tr.colours(s, 0.2, 1))
	truth := tr.errorAgainst(s, out)
	t.Logf("against the truth %+v", truth)
	if truth.Mean > 1 || out.Way != Colours || out.HeldOut.N != 12 {
		t.Error("the overprints are off")
	}
}

// BenchmarkFit fits spectra of a whole sheet, optics chosen.
func BenchmarkFit(b *testing.B) {
	p, s := sheetOf("chrome")
	text := workshop(p, 2).sheet(s, 0.003, 0, 2, 10, true)
	for b.Loop() {
		r, err := Take(&s, "", File{"a.txt", []byte(text)})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Of(context.Background(), Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(p)}); err != nil {
			b.Fatal(err)
		}
	}
}
