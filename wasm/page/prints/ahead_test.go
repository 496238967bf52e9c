package prints

import (
	"slices"
	"testing"

	"threeply/proof/picture"
	"threeply/proof/session"
)

// What is worked out ahead, piece by piece, is what is taken when it is asked for, and as it would be
// worked out at once.
func TestAhead(t *testing.T) {
	p, s, plates := patches(t)
	if p.Ahead(s, Looked{}) {
		t.Error("the print that stands is worked out again")
	}
	as := *s
	as.Palette = "gamboge"
	held := as.Hold("Gamboge")
	s.Paper = "cream"
	looked := Looked{Other: "earth", Held: [2]*session.HeldPrint{nil, &held}}
	before, pieces := len(p.known), 0
	for p.Ahead(s, looked) {
		if pieces++; pieces > 1000 {
			t.Fatal("it does not end")
		}
	}
	ahead := slices.Clone(p.known)
	if n := len(ahead) - before; n != 3 || pieces < 3*n {
		t.Fatalf("%d prints in %d pieces, want 3 in several each", n, pieces)
	}
	update(t, p, s, plates, looked)
	for v, change := range map[picture.Variant]func(s *session.State){
		picture.VariantLikely:    func(*session.State) {},
		picture.VariantOther:     func(s *session.State) { s.Palette = "earth" },
		picture.VariantHeldRight: func(s *session.State) { *s = as },
	} {
		own := *s
		change(&own)
		fresh, err := picture.Prepare(&own)
		if err != nil {
			t.Fatal(err)
		}
		got := p.Of(s, v)
		if !slices.Contains(ahead, got.Printing) {
			t.Errorf("variant %d is not the one that was worked out ahead", v)
		}
		if got.Recipe.Palette.ID != own.Palette || !slices.Equal(got.Table, fresh.Table) {
			t.Errorf("variant %d, of %s, is not as it would be worked out", v, got.Recipe.Palette.ID)
		}
	}
}
