package session

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/register"
)

// A plate of which a part lies elsewhere is not in register, however well the rest
// lies, and has no stars; the figures stay known.
func TestAPlateThatMovedInPart(t *testing.T) {
	s := opened()
	s.Found[0].Confidence, s.Found[0].Median, s.Found[0].P95, s.Found[0].Max, s.Outvoted[0] = 0.55, 0.02, 25, 25.2, 0.45
	m := s.Misregister()
	if m.Sign != "unsure" || m.Stars != 0 || m.Unsure != "" || !strings.HasPrefix(m.Sentence, "Of the red plate half of the places lie elsewhere by up to 25 px: the subject moved, or the film is torn; look at the edges. The rest lies typically within") {
		t.Errorf("%s, %d stars: %s", m.Sign, m.Stars, m.Sentence)
	}
	if um := s.PixelMicrons(); math.Abs(m.PlacesP95-25*um) > 0.01*um || math.Abs(m.PlacesLargest-25.2*um) > 0.01*um {
		t.Errorf("places within %g µm, largest %g µm", m.PlacesP95, m.PlacesLargest)
	}
	s.Offsets[pigment.Cyan].DX = 900
	if m := s.Misregister(); m.Sign != "out" || !strings.Contains(m.Sentence, "elsewhere") || !strings.Contains(m.Sentence, "by up to 900 µm") {
		t.Errorf("with an offset: %s, %s", m.Sign, m.Sentence)
	}
	people := opened()
	people.Found[0].P95, people.Found[0].Max, people.Outvoted[0] = 0.2, 6, 0.04
	if m := people.Misregister(); m.Sign != "in" || m.Stars != 4 {
		t.Errorf("people in a scene: %s, %d stars: %s", m.Sign, m.Stars, m.Sentence)
	}
	if csv := s.VerdictCSV(); !strings.Contains(csv, "elsewhere,red,0.45,") {
		t.Error("the share is not among the figures")
	}
}

// What was measured against one key is not said of another.
func TestAnotherKeyIsNotJudged(t *testing.T) {
	s := NewSession(opened())
	must(t, s, Command{Do: "key", Filter: "red"})
	if m := s.Misregister(); m.Sign != "unsure" || m.Stars != 0 || !strings.Contains(m.Sentence, "measured against the green one, the key of then: register again to judge them against the red one") {
		t.Errorf("%s: %s", m.Sign, m.Sentence)
	}
	must(t, s, Command{Do: "key", Filter: "green"})
	if m := s.Misregister(); m.Sign != "in" {
		t.Errorf("back again: %s: %s", m.Sign, m.Sentence)
	}
}

// Three marks leave nothing by themselves. Where they lie as the automatic register
// does, what it measured tells, by marks and by both alike; where they do not, nobody
// can say which is right.
func TestThreeMarksAreHeldAgainstWhatWasMeasured(t *testing.T) {
	for off, known := range map[float64]bool{0.3: true, 5: false} {
		s := opened()
		s.Found[0].Median, s.Found[0].P95, s.Found[0].Max = 0.2, 0.5, 0.9
		for k, at := range [][2]float64{{100, 100}, {900, 120}, {500, 600}} {
			pin := func(m affine.Matrix, dx float64) Pin {
				x, y := m.Apply(at[0], at[1])
				return Pin{Set: true, X: x + dx, Y: y, Certainty: 1}
			}
			s.Marks = append(s.Marks, Pinned{N: k + 1, Weight: 1, At: [3]Pin{pin(s.Found[0].Matrix, off), pin(affine.Identity, 0), pin(s.Found[2].Matrix, 0)}})
		}
		s.By = ByMarks
		r, m := s.Rest(0), s.Misregister()
		if r.Known != known || (m.Sign == "unsure") == known {
			t.Errorf("%g px off, by marks: %+v, %s: %s", off, r, m.Sign, m.Sentence)
		}
		if want := math.Hypot(0.2, off); known && (math.Abs(r.Median-want) > 0.01 || !r.Measured || r.Marks != 3) {
			t.Errorf("%g px off, by marks: %+v, want a median of %g", off, r, want)
		}
		s.By = ByBoth
		if r := s.Rest(0); !r.Known || r.Median < 0.2 || r.Max < off/2 {
			t.Errorf("%g px off, by both: %+v", off, r)
		}
	}
}

// The local register is switched for one plate or for all.
func TestLocalForOnePlate(t *testing.T) {
	s := NewSession(opened())
	for i := range 3 {
		s.Local[i] = register.Local{W: 1000, H: 700}
	}
	on := func() (out [3]bool) {
		for i := range out {
			out[i] = s.LocalOf(i) != nil
		}
		return out
	}
	for _, step := range []struct {
		c    Command
		want [3]bool
	}{
		{Command{Do: "local", On: true, Filter: "red"}, [3]bool{true, false, false}},
		{Command{Do: "local", On: true, Filter: "blue"}, [3]bool{true, false, true}},
		{Command{Do: "local", On: false, Filter: "red"}, [3]bool{false, false, true}},
		{Command{Do: "local", On: false, Filter: "blue"}, [3]bool{}},
		{Command{Do: "local", On: true}, [3]bool{true, true, true}},
		{Command{Do: "local", On: false, Filter: "red"}, [3]bool{false, true, true}},
		{Command{Do: "local", On: true}, [3]bool{true, true, true}},
		{Command{Do: "local"}, [3]bool{}},
	} {
		must(t, s, step.c)
		if on() != step.want {
			t.Errorf("%+v: %v, want %v", step.c, on(), step.want)
		}
	}
	if err := s.Do(Command{Do: "local", On: true, Filter: "violet"}); err == nil {
		t.Error("a violet plate is bent")
	}
	// What lies elsewhere does not bend with the film.
	s.Found[0].Max, s.Found[0].P95, s.Outvoted[0] = 12, 9, 0.2
	must(t, s, Command{Do: "local", On: true})
	if r := s.Rest(0); !r.Local || r.Max != 12 || r.P95 != 9 {
		t.Errorf("outvoted places are gone: %+v", r)
	}
}

// A negative and two positives that are taken for three negatives are told of by their
// tones, until somebody says which is which.
func TestTonesThatRunAgainstWhatIsSaid(t *testing.T) {
	s := NewSession(opened())
	s.Tones = [3]float64{-0.8, 0, -0.7}
	for _, name := range []string{"red", "blue"} {
		if m := s.Misregister(); !strings.Contains(m.Sentence, "the tones of the "+name+" plate run against those of the green one: one is a negative, the other a positive") {
			t.Errorf("%s: %s", name, m.Sentence)
		}
	}
	must(t, s, Command{Do: "polarity", Source: 1, Polarity: "positive"})
	if m := s.Misregister(); strings.Contains(m.Sentence, "tones") {
		t.Errorf("once it is said: %s", m.Sentence)
	}
	s.Tones[0] = 0.9
	if m := s.Misregister(); !strings.Contains(m.Sentence, "the tones of the red plate run with those of the green one: both are negatives, or both positives") {
		t.Error(m.Sentence)
	}
	s.Tones[0] = 0.1
	if says := s.Opposed(0); says != "" {
		t.Errorf("of tones that hardly agree: %s", says)
	}
}
