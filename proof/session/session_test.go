package session_test

import (
	"math"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func TestWriteAndRead(t *testing.T) {
	s := sessiontest.Opened()
	s.Palette, s.Offsets[2] = "gamboge", session.Offset{DX: 12.5, Turn: 0.1}
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	back, err := session.Read("saved.json", text)
	if err != nil || !back.Equal(s) {
		t.Errorf("read back: %v, same %v", err, back.Equal(s))
	}
}

// One arc minute is 0.087 mm at 300 mm and 0.29 mm at 1 m (geometry; the
// acuity of a 20/20 eye).
func TestEyeMicrons(t *testing.T) {
	s := session.New()
	worst := 0.0
	for mm, want := range map[float64]float64{250: 73, 300: 87, 400: 116, 600: 175, 1000: 291} {
		s.ViewingDist = mm
		got := s.EyeMicrons()
		if worst = max(worst, math.Abs(got-want)); math.Abs(got-want) > 1 {
			t.Errorf("at %g mm: %g µm, want %g", mm, got, want)
		}
	}
	t.Logf("largest error %.2g µm of figures to whole ones", worst)
}

// What was noted on plates is taken to other scans of them, in whatever order these were
// chosen, and nothing that belongs to no plate.
func TestTakeRecord(t *testing.T) {
	from, s := sessiontest.Marked(), sessiontest.Opened()
	s.Sources[0], s.Sources[1] = s.Sources[1], s.Sources[0]
	s.TakeRecord(from)
	if s.Identity != from.Identity || s.Decision.Choice != from.Decision.Choice || s.PlateIdentities[0].Letter != "b" || len(s.Notes) != 1 || s.Notes[0].Source != 0 {
		t.Errorf("taken: %+v, %+v, %+v", s.Identity, s.PlateIdentities, s.Notes)
	}
	s.Sources[0].File = "other.tif"
	s.TakeRecord(from)
	if len(s.Notes) != 0 {
		t.Errorf("a note on another plate: %+v", s.Notes)
	}
}
