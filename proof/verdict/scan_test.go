package verdict

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/survey"
)

// The bench's verdict knows of the offsets alone, the scan's of none of them.
func TestTwoVerdicts(t *testing.T) {
	s := sessiontest.Opened()
	scan := OfScan(&s)
	if v := OfPrint(&s); v.Sign != "in" || v.Largest > 1e-6 {
		t.Errorf("without offsets: %+v", v)
	}
	s.Offsets[pigment.Cyan].DX = 200
	v := OfPrint(&s)
	if v.Sign != "out" || math.Abs(v.Largest-200) > 1e-6 || !strings.Contains(v.Sentence, "200 µm") || !strings.Contains(v.Sentence, "cyan") {
		t.Errorf("cyan 200 µm off: %+v", v)
	}
	if now := OfScan(&s); now.Sentence != scan.Sentence || now.P95 != scan.P95 || now.Sign != "in" {
		t.Errorf("an offset on the print changes the scan's verdict: %s", now.Sentence)
	}
	s.Offsets[pigment.Cyan] = session.Offset{Turn: 0.03} // the corner of 300 × 210 mm moves by 183 mm · 0.03°
	if v = OfPrint(&s); math.Abs(v.Largest-95.7) > 1 {
		t.Errorf("turned 0.03°: %g µm at the corner", v.Largest)
	}
	was := v.Largest
	s.Survey[0] = sessiontest.Surveyed(2)
	if v = OfPrint(&s); v.Largest != was {
		t.Error("what the scans leave changes the bench's verdict")
	}
}

// What was measured decides; what was not widens what is said, and is said.
func TestTheScansVerdict(t *testing.T) {
	// lost takes what was measured of the red plate away in a part of the picture.
	lost := func(s *session.State, is func(x, y float64) bool, within float64) {
		m := &s.Survey[0]
		cells := []byte(m.Cells)
		for i := range cells {
			if x, y := m.Centre(i); is(x/1000, y/700) {
				cells[i], m.DX[i], m.Within[i] = survey.Unmatched, 0, within
			}
		}
		m.Cells = string(cells)
	}
	moved := func(s *session.State, is func(x, y float64) bool, by float64) {
		m := &s.Survey[0]
		cells := []byte(m.Cells)
		for i := range cells {
			if x, y := m.Centre(i); is(x/1000, y/700) {
				cells[i], m.DX[i] = survey.Elsewhere, by
			}
		}
		m.Cells = string(cells)
	}
	for name, c := range map[string]struct {
		change   func(*session.State)
		sign     string
		stars    int
		coverage float64
		words    string
	}{
		"all measured": {func(*session.State) {}, "in", 4, 1, "In register: 95 % of the picture lies within 0.07 px, measured over 100 % of it."},
		"half a pixel": {func(s *session.State) { s.Survey[0] = sessiontest.Surveyed(0.45) }, "in", 3, 1, "In register"},
		"two pixels":   {func(s *session.State) { s.Survey[0] = sessiontest.Surveyed(2) }, "out", 1, 1, "Not in register"},
		"opposite ways": {func(s *session.State) {
			s.Survey[0], s.Survey[2] = sessiontest.Surveyed(0.5), sessiontest.Surveyed(-0.5)
		}, "out", 1, 1, "the red and the blue plate lie 1.00 px apart"},
		"a corner moved": {func(s *session.State) { moved(s, func(x, y float64) bool { return x > 0.7 && y > 0.7 }, 5) }, "out", 1, 1,
			"a part of the red plate lies elsewhere than the rest, by up to 5.00 px, worst at the lower right"},
		"a spot moved": {func(s *session.State) { moved(s, func(x, y float64) bool { return x > 0.9 && y > 0.85 }, 5) }, "in", 4, 1,
			"But a small part, 2 % of the picture, lies elsewhere, by up to 5.00 px, worst at the lower right."},
		"an empty sky": {func(s *session.State) { lost(s, func(_, y float64) bool { return y < 0.33 }, 0.4) }, "in", 3, 0.625,
			"Nothing was measured in the upper third."},
		"an empty sky, unsure": {func(s *session.State) { lost(s, func(_, y float64) bool { return y < 0.33 }, 2) }, "unsure", 0, 0.625,
			"by these scans up to 2.00 px is possible, and in register means 0.80 px at most. Nothing was measured in the upper third."},
		"a strip that is not found": {func(s *session.State) { lost(s, func(x, _ float64) bool { return x < 0.1 }, 0.1) }, "in", 4, 0.91,
			"measured over 91 % of it. But detail at the left side, 9 % of the picture, was not found in the red plate: look there."},
		"half a plate": {func(s *session.State) { lost(s, func(x, _ float64) bool { return x > 0.5 }, 0.2) }, "unsure", 0, 0.545,
			"only 55 % of the picture could be measured. Nothing was measured in the right third."},
		"nothing at all": {func(s *session.State) { lost(s, func(x, _ float64) bool { return true }, 300) }, "unsure", 0, 0, "whole picture"},
		"not kept where": {func(s *session.State) { s.Survey = [3]survey.Map{} }, "unsure", 0, 0, "Register again"},
	} {
		s := sessiontest.Opened()
		c.change(&s)
		v := OfScan(&s)
		if v.Sign != c.sign || v.Stars != c.stars || math.Abs(v.Coverage-c.coverage) > 0.02 || !strings.Contains(v.Sentence, c.words) {
			t.Errorf("%s: %s, %d stars, coverage %.3f: %s", name, v.Sign, v.Stars, v.Coverage, v.Sentence)
		}
	}
}

// A scan whose resolution is known is judged in µm on the plate, whatever the print.
func TestMicronsOnThePlate(t *testing.T) {
	s := sessiontest.Opened()
	s.Sources[1].PPI = 2540 // 10 µm a pixel
	s.Survey[0] = sessiontest.Surveyed(0.45)
	for _, width := range []float64{100, 400} {
		s.PrintWidth = width
		if v := OfScan(&s); !strings.Contains(v.Sentence, "0.45 px (5 µm on the plate)") {
			t.Errorf("%g mm wide: %s", width, v.Sentence)
		}
	}
}

// A shift is counted from the scan's middle, so that a plate with a margin all around
// lies where it lies without.
func TestShiftOfPlatesOfUnequalSize(t *testing.T) {
	s := sessiontest.Opened()
	x, y := Shift(&s, 2, s.Found[2].Matrix)
	s.Sources[2].W += 200
	s.Sources[2].H += 100
	s.Found[2].Matrix[2] += 100
	s.Found[2].Matrix[5] += 50
	if u, v := Shift(&s, 2, s.Found[2].Matrix); math.Abs(u-x) > 1e-9 || math.Abs(v-y) > 1e-9 {
		t.Errorf("with a margin it lies %g, %g px off, without %g, %g", u, v, x, y)
	}
}

// A resolution that programs write where nobody measured says nothing of the plate.
func TestLengthsOnThePlateAreMeasured(t *testing.T) {
	for _, c := range []struct {
		ppi, down, pixel float64
	}{{0, 0, 0}, {72, 72, 0}, {96, 96, 0}, {2835 * 0.0254, 2835 * 0.0254, 0}, {3780 * 0.0254, 3780 * 0.0254, 0}, {1200, 1200, 25400.0 / 1200}, {300, 300, 25400.0 / 300}} {
		s := sessiontest.Opened()
		s.Sources[1].PPI, s.Sources[1].Scan.PPIDown = c.ppi, c.down
		v := OfScan(&s)
		if v.Pixel != c.pixel || strings.Contains(v.Sentence, "on the plate") != (c.pixel > 0) {
			t.Errorf("%g ppi: a pixel of %g µm on the plate, “%s”", c.ppi, v.Pixel, v.Sentence)
		}
	}
}
