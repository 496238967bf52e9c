package origin

import (
	"slices"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// kindOf is the kind of the line whose subject and words hold the given texts, and
// who it names; a line that is missing, or there twice, fails.
func kindOf(t *testing.T, s session.State, about, says string) (Kind, string) {
	t.Helper()
	var found []Line
	for _, l := range Of(&s) {
		if strings.Contains(l.About, about) && strings.Contains(l.Says, says) {
			found = append(found, l)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d lines on %q that say %q", len(found), about, says)
	}
	return found[0].Kind, found[0].By
}

// measuredBy has the session print with tissues that were measured.
func measuredBy(s *session.State, way string) {
	p, _ := pigment.PaletteByID("arylide")
	p.ID, p.Name, p.Measured = "ours", "Ours", &pigment.Measurement{Date: "2026-03-01", Way: way}
	for _, printer := range pigment.Printers() {
		t := p.Layer(printer)
		t.Hardening.Wedge = []pigment.Printed{{LogExposure: -1}, {Micron: 24}}
		if way != pigment.Eye {
			k, scatter := t.KS()
			t.Measured = &pigment.Spectra{K: k, S: scatter}
		}
		p = p.WithLayer(printer, t)
	}
	s.OwnPalettes, s.Palette = []pigment.Palette{p}, p.ID
}

// What stands behind a line is told from the session alone: the same picture with its
// greys measured, its film set by hand or its plate laid by hand says so.
func TestKinds(t *testing.T) {
	for _, c := range []struct {
		about, says string
		change      func(s *session.State)
		kind        Kind
		by          string
	}{
		{"neutrals", "not known", func(*session.State) {}, Assumed, tool},
		{"neutrals", "2 greys", func(s *session.State) {
			s.Neutral = session.Neutral{By: session.ByGreys, Greys: make([]session.Spot, 2)}
		}, Measured, "greys that a person pointed at"},
		{"neutrals", "grey scale", func(s *session.State) {
			s.Neutral = session.Neutral{By: session.ByScale, Greys: make([]session.Spot, 6), Step: 0.15}
		}, Measured, "the grey scale in the scene"},
		{"film of the red", "γ 0.80", func(s *session.State) {
			s.Neutral = session.Neutral{By: session.ByScale, Greys: make([]session.Spot, 6), Step: 0.15}
		}, Measured, "the grey scale's steps"},
		{"neutrals", "by hand", func(s *session.State) { s.Neutral.By = session.ByHand }, Chosen, person},
		{"register of the red", "confidence of 0.90", func(*session.State) {}, Measured, tool},
		{"register of the red", "by hand", func(s *session.State) { s.Found[0].ByHand = true }, Chosen, person},
		{"register of the green", "key", func(*session.State) {}, Chosen, "by default, or by a person"},
		{"register of the red", "key", func(s *session.State) { s.Key, s.FoundKey = "red", 0 }, Chosen, person},
		{"blue plate", "is a negative", func(*session.State) {}, Measured, tool},
		{"blue plate", "is a negative", func(s *session.State) { s.Sources[2].Overruled = true }, Chosen, person},
		{"paper", "Old ledger", func(*session.State) {}, Measured, person},
		{"paper", "", func(s *session.State) { s.Paper = "rag" }, Assumed, "the built-in table"},
		{"cyan tissue", "Measured 2026-03-01 by spectra", func(s *session.State) { measuredBy(s, "spectra") }, Measured, "the test sheet"},
		{"cyan tissue", "Measured 2026-03-01 by a scan", func(s *session.State) { measuredBy(s, "scan") }, Measured, "the test sheet"},
		{"cyan tissue", "PB15:3", func(s *session.State) { measuredBy(s, "scan") }, Assumed, "published or remembered spectra"},
		{"cyan tissue", "judged by eye 2026-03-01", func(s *session.State) { measuredBy(s, "eye") }, Assumed, person},
		{"layers", "yellow layer is hidden", func(s *session.State) { s.Hidden[0] = true }, Chosen, person},
		{"decision", "The hull is right.", func(*session.State) {}, Chosen, "IM: 2026-03-02"},
		{"note 1", "Sails: Warmer", func(s *session.State) {
			s.Notes = slices.Clone(s.Notes)
			s.Notes[0].State = session.NoteAgreed
		}, Chosen, "IM: 2026-03-02 10:20:00 UTC"},
	} {
		s := sessiontest.Marked()
		c.change(&s)
		if kind, by := kindOf(t, s, c.about, c.says); kind != c.kind || by != c.by {
			t.Errorf("%s, %q: %s by %q, want %s by %q", c.about, c.says, kind, by, c.kind, c.by)
		}
	}
}

// A note that is still open is no part of the log, nor is a decision without a choice.
func TestWhatIsOpenIsNotSaid(t *testing.T) {
	s := sessiontest.Marked()
	s.Decision.Choice = ""
	for _, l := range Of(&s) {
		if strings.HasPrefix(l.About, "note") || l.About == "decision" {
			t.Errorf("%+v", l)
		}
	}
}
