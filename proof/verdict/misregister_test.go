package verdict

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func TestMisregisterSpeaks(t *testing.T) {
	s := sessiontest.Opened()
	if m := Of(&s); m.Sign != "in" || m.Largest > 1e-6 {
		t.Errorf("without offsets: %+v", m)
	}
	s.Offsets[pigment.Cyan].DX = 200
	m := Of(&s)
	if m.Sign != "out" || math.Abs(m.Largest-200) > 1e-6 || !strings.Contains(m.Sentence, "200 µm") || !strings.Contains(m.Sentence, "cyan") {
		t.Errorf("cyan 200 µm off: %+v", m)
	}
	s.Offsets[pigment.Cyan] = session.Offset{Turn: 0.03} // the corner of 300 × 210 mm moves by 183 mm · 0.03°
	if m = Of(&s); math.Abs(m.Largest-95.7) > 1 {
		t.Errorf("turned 0.03°: %g µm at the corner", m.Largest)
	}
	s.Offsets[pigment.Cyan], s.Found[0].Median = session.Offset{}, 0.4 // 0.4 px of 300 µm
	if m = Of(&s); m.Sign != "near" || !strings.Contains(m.Sentence, "as these scans can tell") {
		t.Errorf("a coarse scan: %+v", m)
	}
	s.Found[0].Median = 2
	if m = Of(&s); m.Sign != "out" {
		t.Errorf("register leaves 2 px: %+v", m)
	}
	s.Found[0].Confidence = 0.2
	if m = Of(&s); m.Sign != "unsure" || !strings.Contains(m.Sentence, "not in register") {
		t.Errorf("unsure: %+v", m)
	}
}
