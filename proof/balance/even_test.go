package balance

import (
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Carbon black in a tissue leaves no neutral but the paper: the print must not
// be a blank sheet for that, and the scale must say that its greys stray.
func TestTissuesWithoutGreysAreLaidAlike(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	spoil := map[string]func(*pigment.Palette){
		"a grey magenta tissue": func(p *pigment.Palette) {
			p.Magenta = pigment.NewTissue(pigment.Share{CI: "PR122", Share: 0.001}, pigment.Share{CI: "PBk7", Share: 0.999})
		},
		"hardly any yellow": func(p *pigment.Palette) { p.Yellow.Load = 0.05 },
	}
	for name, change := range spoil {
		palette, _ := pigment.PaletteByID("arylide")
		change(&palette)
		r := stack.DefaultRecipe(palette)
		s := Neutral(r, d50, DefaultLimit)
		_, _, worst, lost := s.Strays()
		t.Logf("%s: greys to L* %.1f, full coats L* %.1f, strays by %.1f", name, s.Greyest, s.Depth.Lab[0], worst)
		if !s.Even || !lost || worst < 2 || s.Depth.Lab[0] > 60 {
			t.Errorf("%s: even %v, strays %v by %.1f, depth %v", name, s.Even, lost, worst, s.Depth.Lab)
		}
		for i := 1; i < Steps; i++ {
			if s.L[i] > s.L[i-1]+1e-6 || s.T[i][0] < s.T[i-1][0] {
				t.Fatalf("%s: the scale runs back at step %d", name, i)
			}
		}
	}
}

// No built-in palette is taken for one without greys, whatever it lies on.
func TestBuiltInPalettesHaveGreys(t *testing.T) {
	for _, id := range []string{"D50", "A", "LED-B1"} {
		light, _ := spectrum.LightByID(id)
		for _, palette := range pigment.Palettes() {
			for paper, finish := range map[string]stack.Finish{"sized": stack.Gloss, "aged": stack.Matt} { // the easiest and the hardest
				r := stack.DefaultRecipe(palette)
				r.Surface = finish.Surface
				r.Paper, _ = stack.PaperByID(paper)
				if s := Neutral(r, light, DefaultLimit); s.Even {
					t.Errorf("%s, %s, %s by %s: greys to L* %.1f only, full coats L* %.1f", palette.ID, finish.ID, paper, id, s.Greyest, s.Depth.Lab[0])
				}
			}
		}
	}
}
