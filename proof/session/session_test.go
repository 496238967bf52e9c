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
