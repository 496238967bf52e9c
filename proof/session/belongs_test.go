package session_test

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// chosen is what is open where the scans of a state were chosen in another order.
func chosen(s session.State, order [3]int) (open [3]session.Source) {
	for i, k := range order {
		open[i] = s.Sources[k]
	}
	return open
}

var orders = [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}

// Whatever order the scans are chosen in, each plate lies where it lay and has the
// filter, the film and the marks that it had.
func TestScansInAnotherOrder(t *testing.T) {
	kept := sessiontest.Marked()
	kept.LocalOff[0], kept.LocalOn = true, true
	kept.Sources[2].Film.Gamma = 0.7
	for _, order := range orders {
		got, match := session.Belongs(kept, chosen(kept, order))
		if match != session.Same || got.Carried {
			t.Errorf("%v: match %d, carried %v", order, match, got.Carried)
			continue
		}
		if err := got.Check(); err != nil {
			t.Errorf("%v: %v", order, err)
		}
		for f, filter := range session.Filters {
			was, is := kept.Assign[f], got.Assign[f]
			if got.Sources[is].File != kept.Sources[was].File || got.Sources[is].Film != kept.Sources[was].Film || got.Found[is] != kept.Found[was] ||
				got.Local[is] != kept.Local[was] || got.LocalOff[is] != kept.LocalOff[was] || got.Outvoted[is] != kept.Outvoted[was] || got.Tones[is] != kept.Tones[was] {
				t.Errorf("%v: the %s plate has become another one", order, filter)
			}
			for m := range kept.Marks {
				if got.Marks[m].At[is] != kept.Marks[m].At[was] {
					t.Errorf("%v: mark %d lies elsewhere in the %s plate", order, m+1, filter)
				}
			}
		}
		if note := got.Notes[0]; got.Sources[note.Source].File != kept.Sources[kept.Notes[0].Source].File || got.PlateIdentities[note.Source].Letter != "b" {
			t.Errorf("%v: the note or the letter is another plate's", order)
		}
		if place.FoundKey(&got) != "green" {
			t.Errorf("%v: the found key is %s", order, place.FoundKey(&got))
		}
		for p := range pigment.Printer(3) {
			for _, at := range [][2]float64{{0, 0}, {500, 300}} {
				x, y := place.Layer(&kept, p).Apply(at[0], at[1])
				if gx, gy := place.Layer(&got, p).Apply(at[0], at[1]); math.Hypot(gx-x, gy-y) > 1e-9 {
					t.Errorf("%v: the %s layer lies at (%g, %g), was at (%g, %g)", order, p, gx, gy, x, y)
				}
			}
		}
	}
}

func TestBelongs(t *testing.T) {
	kept := sessiontest.Marked()
	unknown := func(s *session.State) { // as a session of before is
		for i := range s.Sources {
			s.Sources[i].SHA256 = ""
		}
	}
	other := strings.Repeat("f", 64)
	for name, c := range map[string]struct {
		kept, open func(s *session.State)
		match      session.Match
		carried    bool
	}{
		"the same":                                  {match: session.Same},
		"renamed":                                   {open: func(s *session.State) { s.Sources[0].File = "rot.tif" }, match: session.Same},
		"a new scan of one":                         {open: func(s *session.State) { s.Sources[0].SHA256 = other }, match: session.OtherContent},
		"a new scan of another size":                {open: func(s *session.State) { s.Sources[0].SHA256, s.Sources[0].W = other, 1010 }, match: session.Other},
		"another picture":                           {open: func(s *session.State) { s.Sources[0].SHA256, s.Sources[0].File = other, "rot.tif" }, match: session.Other},
		"an old session":                            {kept: unknown, match: session.Unproved, carried: true},
		"an old session, not registered":            {kept: func(s *session.State) { unknown(s); s.Registered, s.FoundKey = "none", -1 }, match: session.Unproved},
		"an old session, laid by marks":             {kept: func(s *session.State) { unknown(s); s.Registered, s.FoundKey, s.By = "none", -1, session.ByMarks }, match: session.Unproved, carried: true},
		"an old session, one plate of another size": {kept: unknown, open: func(s *session.State) { s.Sources[1].H++ }, match: session.Other},
		"an old session, other names":               {kept: unknown, open: func(s *session.State) { s.Sources[1].File = "x.tif" }, match: session.Other},
		"another part of the file":                  {open: func(s *session.State) { s.Sources[1].Part = 2 }, match: session.OtherContent},
	} {
		k, o := kept, kept
		if c.kept != nil {
			c.kept(&k)
		}
		if c.open != nil {
			c.open(&o)
		}
		for _, order := range orders {
			open := chosen(o, order)
			got, match := session.Belongs(k, open)
			if match != c.match || got.Carried != c.carried {
				t.Errorf("%s, %v: match %d, carried %v, want %d, %v", name, order, match, got.Carried, c.match, c.carried)
			}
			if match == session.Same || match == session.Unproved {
				for i := range open {
					if got.Sources[i].File != open[i].File || got.Sources[i].SHA256 != open[i].SHA256 {
						t.Errorf("%s, %v: source %d is %s, want %s", name, order, i, got.Sources[i].File, open[i].File)
					}
				}
			} else if !got.Equal(k) {
				t.Errorf("%s: the kept session was changed", name)
			}
		}
	}
}

// Of one scan that is there twice the names decide, and where they are the same too,
// the order that was chosen.
func TestTwinScans(t *testing.T) {
	kept := sessiontest.Marked()
	kept.Sources[2].SHA256, kept.Sources[2].W = kept.Sources[0].SHA256, kept.Sources[0].W
	got, match := session.Belongs(kept, chosen(kept, [3]int{2, 1, 0}))
	if match != session.Same || got.Assign != [3]int{2, 1, 0} || got.Found[0] != kept.Found[2] {
		t.Errorf("match %d, assigned %v", match, got.Assign)
	}
	kept.Sources[2].File = kept.Sources[0].File
	got, match = session.Belongs(kept, chosen(kept, [3]int{0, 1, 2}))
	if match != session.Same || !got.Equal(kept) {
		t.Errorf("match %d, assigned %v", match, got.Assign)
	}
}

// The parts of one file are told apart by their number.
func TestPartsOfOneFile(t *testing.T) {
	kept := sessiontest.Marked()
	for i := range kept.Sources {
		src := &kept.Sources[i]
		src.File, src.SHA256, src.Part, src.W = "plate.jpg", strings.Repeat("d", 64), i, 1000
	}
	for _, order := range orders {
		got, match := session.Belongs(kept, chosen(kept, order))
		if match != session.Same {
			t.Errorf("%v: match %d", order, match)
		}
		for i, k := range order {
			if got.Found[i] != kept.Found[k] {
				t.Errorf("%v: source %d lies where another one did", order, i)
			}
		}
	}
}

// Settings go along to other scans; what belongs to the scans does not.
func TestTakeSettings(t *testing.T) {
	from, fresh := sessiontest.Marked(), sessiontest.Opened()
	from.Light, from.Dim, from.Limit, from.Masked, from.Route, from.PrintWidth, from.Grain, from.Bench = "A", true, 0.8, true, "clear-paper", 240, "level", "magenta"
	for i := range fresh.Sources {
		fresh.Sources[i].File = "other.tif"
	}
	fresh.Registered, fresh.FoundKey = "none", -1
	got := fresh
	got.TakeSettings(from)
	if err := got.Check(); err != nil {
		t.Fatal(err)
	}
	if got.Palette != from.Palette || got.Offsets != from.Offsets || got.Title != from.Title || got.PrintWidth != 240 || got.Light != "A" || !got.Masked || got.Bench != "magenta" || got.Limit != 0.8 {
		t.Errorf("not taken: %+v", got)
	}
	if got.Sources[0].File != "other.tif" || got.Found != fresh.Found || got.Marks != nil || got.Registered != "none" || got.Local != fresh.Local || got.Key != fresh.Key {
		t.Errorf("taken though it belongs to the scans: %+v", got)
	}
}
