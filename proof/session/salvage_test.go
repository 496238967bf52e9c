package session_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// Of a damaged session what is whole is taken, and what is not begins anew and is named.
func TestSalvage(t *testing.T) {
	kept := sessiontest.Marked()
	text, err := session.Write(kept)
	if err != nil {
		t.Fatal(err)
	}
	if s, lost, err := session.Salvage("a.json", text); err != nil || lost != nil || !s.Equal(kept) {
		t.Errorf("of a sound text %v is lost (%v)", lost, err)
	}
	for _, c := range []struct {
		lost string
		text []byte
		same func(s session.State) bool
	}{
		{"order", spoilt(t, text, `"yyy"`, "order"), func(s session.State) bool { s.Order = kept.Order; return s.Equal(kept) }},
		{"notes", spoilt(t, text, `"never"`, "notes", 0, "at"), func(s session.State) bool { s.Notes = kept.Notes; return s.Equal(kept) }},
		{"palette", spoilt(t, text, `"own-9"`, "palette"), func(s session.State) bool { s.Palette = kept.Palette; return s.Equal(kept) }},
		{"own_palettes", spoilt(t, text, `7`, "own_palettes"), func(s session.State) bool {
			return s.OwnPalettes == nil && s.Palette == session.New().Palette && s.Decision.Choice == kept.Decision.Choice
		}},
		{"found", spoilt(t, text, `[1e300,0,0,0,1e-300,0]`, "found", 2, "matrix"), func(s session.State) bool {
			return s.Registered == "none" && s.FoundKey == -1 && s.Found == session.New().Found && len(s.Marks) == 2
		}},
		{"colour", spoilt(t, text, `1`, "colour"), func(s session.State) bool { return s.Equal(kept) }},
		{"what stood at its end", text[:bytes.Index(text, []byte(`"notes"`))], func(s session.State) bool {
			return s.Identity == kept.Identity && s.Found == kept.Found && s.Notes == nil
		}},
		{"section", text[:bytes.Index(text, []byte(`"section"`))], func(s session.State) bool {
			return s.Palette == kept.Palette && s.Section == session.New().Section
		}},
	} {
		s, lost, err := session.Salvage("a.json", c.text)
		if err != nil || !slices.Contains(lost, c.lost) || !c.same(s) {
			t.Errorf("%s: %v is lost (%v)", c.lost, lost, err)
		}
	}
	for want, bad := range map[string][]byte{
		"written by a later Threeply": spoilt(t, text, fmt.Sprint(session.Version+1), "version"),
		"it is not a session":         []byte("PK"),
		"sources[0].width":            spoilt(t, text, `-5`, "sources", 0, "width"),
		"is no JSON":                  text[:40],
	} {
		if _, _, err := session.Salvage("a.json", bad); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// Wherever a text is cut off, it is read or refused, never more than that.
func TestSalvageOfAnyPiece(t *testing.T) {
	text, err := session.Write(sessiontest.Marked())
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for n := 0; n < len(text); n += 211 {
		s, _, err := session.Salvage("a.json", text[:n])
		if err != nil {
			continue
		}
		if read++; s.Check() != nil {
			t.Errorf("%d bytes give a session that is not sound", n)
		}
	}
	if read < 10 {
		t.Errorf("%d pieces were read", read)
	}
}
