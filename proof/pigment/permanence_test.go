package pigment

import "testing"

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
	p, _ := PaletteByID("gamboge")
	if got := p.Permanence(); got.Word() != "fugitive" {
		t.Errorf("gamboge: %+v, %s", got, got.Word())
	}
}
