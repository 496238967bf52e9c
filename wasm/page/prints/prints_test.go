package prints

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spread"
)

// patches is a set of plates with its prints.
func patches(t *testing.T) (*Prints, *session.State, Plates) {
	t.Helper()
	s, planes := picturetest.Patches()
	var plates Plates
	for i, p := range planes {
		plates[i] = p.Pyramid(40)
	}
	p, err := New(&s)
	if err != nil {
		t.Fatal(err)
	}
	update(t, p, &s, plates, Looked{})
	return p, &s, plates
}

func update(t *testing.T, p *Prints, s *session.State, plates Plates, looked Looked) {
	t.Helper()
	if err := p.Update(s, plates, looked); err != nil {
		t.Fatal(err)
	}
}

// What does not stand on a change stays the very same.
func TestOnlyWhatChangedIsWorkedOutAnew(t *testing.T) {
	p, s, plates := patches(t)
	s.Masked = true
	update(t, p, s, plates, Looked{})
	type held struct {
		likely, lighter, dim Print
		masks, shell         any
	}
	now := func() held {
		return held{p.Likely(), p.Of(s, picture.VariantLighter), p.Of(s, picture.VariantDim), p.Masks(picture.MaskingChosen), p.Shell(s, picture.VariantLikely)}
	}
	for _, c := range []struct {
		what                               string
		change                             func()
		likely, lighter, dim, masks, reach bool // is worked out anew
	}{
		{"nothing", func() {}, false, false, false, false, false},
		{"an offset", func() { s.Offsets[0].DX = 300 }, false, false, false, false, false},
		{"a hidden layer, the title, the section", func() { s.Hidden[1], s.Title, s.Section.X0 = true, "x", 0.3 }, false, false, false, false, false},
		{"what is not known", func() { s.Unknowns = unsure(0.2) }, false, true, false, false, false},
		{"an exposure", func() { s.Way.Stops[1] = 0.3 }, true, true, true, false, false},
		{"a film", func() { s.Sources[0].Film.Gamma = 0.7 }, true, true, true, true, false},
		{"the place of a plate", func() { s.Found[0].Matrix[2] = 3 }, false, false, false, true, false},
		{"the paper", func() { s.Paper = "cream" }, true, true, true, true, true},
		{"the room", func() { s.Dim = true }, true, true, true, true, true},
	} {
		before := now()
		c.change()
		update(t, p, s, plates, Looked{})
		after := now()
		for _, part := range []struct {
			name      string
			anew, was bool
		}{
			{"the likely print", after.likely.Serial != before.likely.Serial, c.likely},
			{"the lighter print", after.lighter.Serial != before.lighter.Serial, c.lighter},
			{"the print in the gallery", after.dim.Serial != before.dim.Serial, c.dim},
			{"the masks", after.masks != before.masks, c.masks},
			{"the shell", after.shell != before.shell, c.reach},
		} {
			if part.anew != part.was {
				t.Errorf("%s changed: %s is worked out anew: %t, want %t", c.what, part.name, part.anew, part.was)
			}
		}
	}
}

// What is kept is what would be worked out from nothing.
func TestKeptIsAsGoodAsNew(t *testing.T) {
	p, s, plates := patches(t)
	for _, change := range []func(){
		func() { s.Unknowns = unsure(0.2) }, func() { s.Exhibition = &pigment.Exhibition{Lux: 500, Hours: 12, Years: 30} }, func() { s.Way.Straight = true }, func() { s.Way.Stops[0] = -0.5 }, func() { s.Sources[1].Film.Gamma = 0.7 }, func() { s.Palette = s.Palettes()[0].ID }, func() { s.Dim = true },
	} {
		change()
		update(t, p, s, plates, Looked{})
		fresh, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []picture.Variant{picture.VariantLikely, picture.VariantLighter, picture.VariantDim, picture.VariantFaded} {
			a, b := p.Of(s, v), fresh.Of(s, v)
			if a.Table[1234] != b.Table[1234] || *a.Curves[1].Print != *b.Curves[1].Print || *a.Curves[0].Reference != *b.Curves[0].Reference {
				t.Errorf("variant %d is not that of the session", v)
			}
		}
	}
}

// What a held print can show is what it would show alone.
func TestReachOfAHeldPrint(t *testing.T) {
	p, s, plates := patches(t)
	earth := *s
	earth.Palette, earth.Paper, earth.Dim = "earth", "rag", true
	held := earth.Hold("Earth")
	update(t, p, s, plates, Looked{Held: [2]*session.HeldPrint{&held, nil}})
	alone, err := New(&earth)
	if err != nil {
		t.Fatal(err)
	}
	likely, left, want := p.Shell(s, picture.VariantLikely), p.Shell(s, picture.VariantHeldLeft), alone.Shell(&earth, picture.VariantLikely)
	if !reflect.DeepEqual(left, want) || reflect.DeepEqual(left, likely) {
		t.Error("a held print reaches other colours than it does alone, or those of the print beside it")
	}
	s.Title = "x"
	update(t, p, s, plates, Looked{Held: [2]*session.HeldPrint{&held, nil}})
	if p.Shell(s, picture.VariantHeldLeft) != left || p.Shell(s, picture.VariantLikely) != likely {
		t.Error("it is worked out anew though nothing changed")
	}
}

func TestMasks(t *testing.T) {
	p, s, plates := patches(t)
	if p.Masks(picture.MaskingChosen) != nil || p.Masks(picture.MaskingOn) != nil {
		t.Error("an unmasked print has masks")
	}
	update(t, p, s, plates, Looked{Masks: true}) // both ways are looked at
	if p.Masks(picture.MaskingChosen) != nil || p.Masks(picture.MaskingOn) == nil || p.Masks(picture.MaskingOff) != nil {
		t.Error("looking at both ways finds no masks, or prints by them")
	}
	s.Masked = true
	update(t, p, s, plates, Looked{})
	masks := p.Masks(picture.MaskingChosen)
	if masks == nil {
		t.Fatal("a masked print has no masks")
	}
	for row := range 3 { // a mask takes no tone off a neutral
		sum := masks[3*row] + masks[3*row+1] + masks[3*row+2]
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("row %d of the masks sums to %g", row, sum)
		}
	}
	update(t, p, s, Plates{}, Looked{})
	if p.Masks(picture.MaskingChosen) != nil {
		t.Error("without plates there are masks")
	}
}

// Masks that cannot be found are said once for the state, and the print goes on
// unmasked.
func TestMasksThatCannotBeFound(t *testing.T) {
	p, s, plates := patches(t)
	for _, levels := range plates {
		for _, one := range levels {
			clear(one.Pix)
		}
	}
	s.Masked = true
	for range 2 {
		if err := p.Update(s, plates, Looked{}); err == nil {
			t.Error("the masks of an empty picture are found")
		}
	}
	if p.Masks(picture.MaskingChosen) != nil {
		t.Error("there are masks that were not found")
	}
	s.Masked = false
	if err := p.Update(s, plates, Looked{Masks: true}); err != nil {
		t.Errorf("an unmasked print complains of masks: %v", err)
	}
}

func TestDepthsAreFilledOneByOne(t *testing.T) {
	p, s, _ := patches(t)
	known := func() (n int) {
		for _, d := range p.Depths(s) {
			if d != nil {
				n++
			}
		}
		return n
	}
	all := len(s.Palettes())
	if n := known(); n != 1 { // the chosen one
		t.Errorf("%d depths are known at first", n)
	}
	steps, before := 0, known()
	for p.Fill(s) {
		if steps++; steps > 100*all {
			t.Fatal("filling does not end")
		}
		if n := known(); n > before+1 {
			t.Errorf("step %d makes %d depths known", steps, n-before)
		}
		before = known()
	}
	if known() != all || steps < 6*all {
		t.Errorf("%d of %d depths after %d steps, which are no pieces", known(), all, steps)
	}
	for i, d := range p.Depths(s) {
		if !(d.L > 0 && d.L < 60) || len(d.Hex) != 7 {
			t.Errorf("palette %d: %+v", i, *d)
		}
	}
	s.Paper = "cream"
	update(t, p, s, Plates{}, Looked{})
	if known() != 1 {
		t.Errorf("%d depths are known of another paper", known())
	}
}

// A palette whose depth is known, or that was chosen before, is there at once, as it would be worked
// out; one that was edited meanwhile is not taken for it.
func TestAPrintThatIsKnownIsThereAtOnce(t *testing.T) {
	p, s, _ := patches(t)
	for p.Fill(s) {
	}
	known := len(p.known)
	if known != len(s.Palettes()) {
		t.Errorf("%d prints of %d palettes are known", known, len(s.Palettes()))
	}
	was := p.Likely().Printing
	for _, one := range []string{"earth", "chrome", s.Palette} {
		s.Palette = one
		update(t, p, s, Plates{}, Looked{})
		fresh, err := picture.Prepare(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Likely(); got.Recipe.Palette.ID != one || !slices.Equal(got.Table, fresh.Table) {
			t.Errorf("%s is not as it would be worked out", one)
		}
	}
	if p.Likely().Printing != was || len(p.known) != known {
		t.Error("a print that is known was worked out anew")
	}

	own := s.Palettes()[0]
	own.ID, own.Name = "own-1", "Own"
	s.OwnPalettes = append(s.OwnPalettes, own)
	s.Palette = own.ID
	update(t, p, s, Plates{}, Looked{})
	first := p.Likely().Printing
	s.OwnPalettes[0].Yellow.Load *= 1.5
	update(t, p, s, Plates{}, Looked{})
	if p.Likely().Printing == first || slices.Equal(p.Likely().Table, first.Table) {
		t.Error("an edited palette prints as before")
	}
	for i := range 3 {
		s.OwnPalettes[0].Yellow.Load *= 1.01 + 0.001*float64(i)
		update(t, p, s, Plates{}, Looked{})
	}
	if len(p.known) != known+1 {
		t.Errorf("%d prints are known, want one beside the %d palettes", len(p.known), known)
	}
	for i := range mostKnown - known + 1 {
		s.Limit = 0.3 + 0.01*float64(i)
		update(t, p, s, Plates{}, Looked{})
	}
	if len(p.known) > mostKnown {
		t.Errorf("%d prints are kept", len(p.known))
	}
}

// unsure are the usual doubts but for that of the pigment.
func unsure(amount float64) *spread.Unknowns {
	u := spread.Usual
	u.Amount = amount
	return &u
}

// The print with another palette is the one that the session would have with it, its
// masks too; a session without masks has none there.
func TestTheOtherPalette(t *testing.T) {
	p, s, plates := patches(t)
	s.Masked = true
	for _, id := range []string{"earth", "gamboge"} {
		update(t, p, s, plates, Looked{Other: id})
		own := *s
		own.Palette = id
		q, err := New(&own)
		if err != nil {
			t.Fatal(err)
		}
		update(t, q, &own, plates, Looked{})
		got, want := p.Of(s, picture.VariantOther), q.Likely()
		if got.Recipe.Palette.ID != id || !slices.Equal(got.Table, want.Table) || *got.Curves[0].Print != *want.Curves[0].Print {
			t.Errorf("%s: another print than the session would have, of %s", id, got.Recipe.Palette.ID)
		}
		if a, b := p.Masks(picture.MaskingOther), q.Masks(picture.MaskingChosen); a == nil || *a != *b {
			t.Errorf("%s: the masks are %v, want %v", id, a, b)
		}
	}
	s.Masked = false
	update(t, p, s, plates, Looked{Other: "earth"})
	if p.Masks(picture.MaskingOther) != nil {
		t.Error("an unmasked session masks the other palette")
	}
}
