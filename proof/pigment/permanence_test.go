package pigment

import (
	"strings"
	"testing"
)

// Of the table's own words on lightfastness: gamboge is the fugitive one of the palette
// named after it, and Prussian blue, phthalocyanine and quinacridone are not.
func TestPermanence(t *testing.T) {
	for says, want := range map[string]int{
		"ASTM I": 1, "ASTM II (from memory); blue wool 6–7": 2, "ASTM IV–V (from memory), fugitive": 5, "ASTM II–III (from memory)": 3, "no class": 0,
	} {
		if got := (Pigment{Lightfastness: says}).Class(); got != want {
			t.Errorf("%s is class %d, want %d", says, got, want)
		}
	}
	for least, want := range map[float64]int{8: 1, 7: 1, 6: 2, 5: 3, 3: 4, 1: 4, 0: 0} {
		if got := (Pigment{BlueWool: BlueWool{least, 8}}).Class(); got != want {
			t.Errorf("blue wool %g is class %d, want %d", least, got, want)
		}
	}
	for _, p := range Palettes() {
		got := p.Permanence()
		worst := 0
		for _, which := range Printers() {
			for _, s := range p.Layer(which).Pigments {
				facts, _ := PigmentByCI(s.CI)
				worst = max(worst, facts.Class())
			}
		}
		if worst >= 3 && got.Class != worst || got.Pigment == "" || got.Says == "" {
			t.Errorf("%s: %+v, its worst class is %d", p.ID, got, worst)
		}
	}
	for _, p := range Palettes() {
		got := p.Permanence()
		named := strings.Contains(got.Says, "ASTM")
		least, most, ok := got.Years(50, 8)
		if !ok || !(least > 0 && most > least) || Category(got.Class) == "" {
			t.Errorf("%s: %+v lasts %g to %g years", p.ID, got, least, most)
		}
		want := BothNamed
		switch {
		case !named:
			want = StandsASTM
		case !strings.Contains(got.Says, "blue wool"):
			want = StandsBlueWool
		}
		if got.Stands != want {
			t.Errorf("%s: %q is of correspondence %d, want %d", p.ID, got.Says, got.Stands, want)
		}
	}
	for id, want := range map[string]Permanence{
		"gamboge": {Class: 5, BlueWool: BlueWool{1, 3}, Stands: StandsBlueWool},
		"peacock": {Class: 4, BlueWool: BlueWool{2, 3}, Stands: StandsASTM},
	} {
		p, _ := PaletteByID(id)
		got := p.Permanence()
		if got.Class != want.Class || got.BlueWool != want.BlueWool || got.Stands != want.Stands {
			t.Errorf("%s: %+v, want %+v", id, got, want)
		}
	}
	if got := Category(4); got != "IV" {
		t.Errorf("class 4 is written %q", got)
	}
	p, _ := PaletteByID("gamboge")
	if got := p.Permanence(); got.Word() != "fugitive" {
		t.Errorf("gamboge: %+v, %s", got, got.Word())
	}
}
