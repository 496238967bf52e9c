package prints

import (
	"reflect"
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
	ahead, curves := slices.Clone(p.known), slices.Clone(p.drawn)
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
		if !slices.ContainsFunc(curves, func(d drawn) bool { return d.printing == got.Printing && d.curves == got.Curves }) {
			t.Errorf("the curves of variant %d are not those that were worked out ahead", v)
		}
		if got.Recipe.Palette.ID != own.Palette || !slices.Equal(got.Table, fresh.Table) || !reflect.DeepEqual(got.Curves, fresh.Curves(&own)) {
			t.Errorf("variant %d, of %s, is not as it would be worked out", v, got.Recipe.Palette.ID)
		}
	}
}

// A session that is changed while its print is worked out gets another print in the end; what was
// begun is as the session was. One that cannot be worked out is not tried over and over.
func TestAheadOfAChange(t *testing.T) {
	p, s, plates := patches(t)
	s.Palette = "earth"
	for range 3 {
		if !p.Ahead(s, Looked{}) {
			t.Fatal("all is worked out in no pieces")
		}
	}
	was := *s
	s.Palette, s.Order, s.Paper = "gamboge", "ymc", "cream"
	for n := 0; p.Ahead(s, Looked{}); n++ {
		if n > 1000 {
			t.Fatal("it does not end")
		}
	}
	for _, one := range []*session.State{&was, s} {
		fresh, err := picture.Prepare(one)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(p.known, func(k *picture.Printing) bool { return k.Fits(one) })
		if i < 0 || !slices.Equal(p.known[i].Table, fresh.Table) {
			t.Errorf("the print with %s (%d) is not as it would be worked out", one.Palette, i)
		}
	}
	update(t, p, s, plates, Looked{})

	s.Palette = "no such palette"
	for n := 0; p.Ahead(s, Looked{}); n++ {
		if n > 1000 {
			t.Fatal("what cannot be worked out is tried over and over")
		}
	}
}
