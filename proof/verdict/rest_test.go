package verdict

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/warp"
)

// What was measured against one key is not said of another.
func TestAnotherKeyIsNotJudged(t *testing.T) {
	s := command.NewHistory(sessiontest.Opened())
	must(t, s, command.Key{Filter: "red"})
	if m := OfScan(&s.State); m.Sign != "unsure" || m.Stars != 0 || !strings.Contains(m.Sentence, "measured against the green one. Register again to judge them against the red one") {
		t.Errorf("%s: %s", m.Sign, m.Sentence)
	}
	must(t, s, command.Key{Filter: "green"})
	if m := OfScan(&s.State); m.Sign != "in" {
		t.Errorf("back again: %s: %s", m.Sign, m.Sentence)
	}
}

// Three marks leave nothing by themselves. Where they lie as the automatic register
// does, what it measured tells, by marks and by both alike; where they do not, nobody
// can say which is right.
func TestThreeMarksAreHeldAgainstWhatWasMeasured(t *testing.T) {
	for off, known := range map[float64]bool{0.3: true, 5: false} {
		s := sessiontest.Opened()
		s.Found[0].Median, s.Found[0].P95, s.Found[0].Max = 0.2, 0.5, 0.9
		for k, at := range [][2]float64{{100, 100}, {900, 120}, {500, 600}} {
			pin := func(m affine.Matrix, dx float64) session.Pin {
				x, y := m.Apply(at[0], at[1])
				return session.Pin{Set: true, X: x + dx, Y: y, Certainty: 1}
			}
			s.Marks = append(s.Marks, session.Pinned{N: k + 1, Weight: 1, At: [3]session.Pin{pin(s.Found[0].Matrix, off), pin(affine.Identity, 0), pin(s.Found[2].Matrix, 0)}})
		}
		s.By = session.ByMarks
		r, m := RestOf(&s, 0), OfScan(&s)
		if r.Known != known || (m.Sign == "unsure") == known {
			t.Errorf("%g px off, by marks: %+v, %s: %s", off, r, m.Sign, m.Sentence)
		}
		if want := math.Hypot(0.2, off); known && (math.Abs(r.Median-want) > 0.01 || !r.Measured || r.Marks != 3) {
			t.Errorf("%g px off, by marks: %+v, want a median of %g", off, r, want)
		}
		s.By = session.ByBoth
		if r := RestOf(&s, 0); !r.Known || r.Median < 0.2 || r.Max < off/2 {
			t.Errorf("%g px off, by both: %+v", off, r)
		}
	}
}

// A negative and two positives that are taken for three negatives are told of by their
// tones, until somebody says which is which.
func TestTonesThatRunAgainstWhatIsSaid(t *testing.T) {
	s := command.NewHistory(sessiontest.Opened())
	s.Tones = [3]float64{-0.8, 0, -0.7}
	for _, name := range []string{"red", "blue"} {
		if m := OfScan(&s.State); !strings.Contains(m.Sentence, "the tones of the "+name+" plate run against those of the green one: one is a negative, the other a positive") {
			t.Errorf("%s: %s", name, m.Sentence)
		}
	}
	must(t, s, command.Polarity{Source: 1, Polarity: "positive"})
	if m := OfScan(&s.State); strings.Contains(m.Sentence, "tones") {
		t.Errorf("once it is said: %s", m.Sentence)
	}
	s.Tones[0] = 0.9
	if m := OfScan(&s.State); !strings.Contains(m.Sentence, "the tones of the red plate run with those of the green one: both are negatives, or both positives") {
		t.Error(m.Sentence)
	}
	s.Tones[0] = 0.1
	if says := Opposed(&s.State, 0); says != "" {
		t.Errorf("of tones that hardly agree: %s", says)
	}
}

// Four marks of which one is 2 px off leave a known residual: the corrected root
// mean square of an affine fit to a square's corners, of which each keeps a
// quarter of the error, would be √(4 · 0.5² / (4-3)) = 1, and is never said to be more
// than the largest, 0.5.
func TestRestOfMarks(t *testing.T) {
	s := sessiontest.Opened()
	s.By = session.ByMarks
	for k, at := range [][2]float64{{100, 100}, {500, 100}, {500, 500}, {100, 500}} {
		key, red := session.Pin{Set: true, X: at[0], Y: at[1]}, session.Pin{Set: true, X: at[0] + 7, Y: at[1]}
		if k == 2 {
			red.X += 2
		}
		s.Marks = append(s.Marks, session.Pinned{N: k + 1, Weight: 1, At: [3]session.Pin{red, key, key}})
	}
	r := RestOf(&s, 0)
	size := math.Sqrt(place.Register(&s, 0).Det())
	if !r.Known || r.Marks != 4 || math.Abs(r.Median*size-0.5) > 1e-6 || math.Abs(r.Max*size-0.5) > 1e-6 {
		t.Errorf("%+v", r)
	}
	s.By, s.MarkShare = session.ByBoth, 0.5
	if both := RestOf(&s, 0); !both.Known || both.Median <= 0 || both.Confidence != s.Found[0].Confidence {
		t.Errorf("by both: %+v", both)
	}
}

func TestRestWithTheLocalRegister(t *testing.T) {
	s := sessiontest.Opened()
	s.Found[0].Median = 0.9
	s.Local[0] = warp.Local{W: 1000, H: 700, Before: warp.Residual{Median: 0.9, P95: 2, Max: 3}, After: warp.Residual{Median: 0.2, P95: 0.5, Max: 0.8}}
	if r := RestOf(&s, 0); r.Local || r.Median != 0.9 || !strings.Contains(LocalSays(&s, 0), "worth switching on") {
		t.Errorf("off: %+v, %s", r, LocalSays(&s, 0))
	}
	s.LocalOn = true
	if r := RestOf(&s, 0); !r.Local || r.Median != 0.2 {
		t.Errorf("on: %+v", r)
	}
	s.Local[0].CX[0], s.Local[0].CY[4] = 1.5, -1
	bent := &s.Survey[0]
	for i := range bent.Cells {
		bent.DX[i], bent.DY[i] = s.Local[0].At(bent.Centre(i))
	}
	if v := OfScan(&s); v.Sign != "in" || v.P95 > 0.1 {
		t.Errorf("with the local register: %s", v.Sentence)
	}
	s.LocalOn = false
	if v := OfScan(&s); v.Sign != "out" || v.P95 < 1 {
		t.Errorf("without the local register: %s", v.Sentence)
	}
	s.Local[0].After.Median = 0.88
	if says := LocalSays(&s, 0); !strings.Contains(says, "Leave it off") {
		t.Error(says)
	}
	lost := s
	lost.Found[0].Confidence = 0.1
	if r := RestOf(&lost, 0); r.Known {
		t.Errorf("of a plate that was not found it is known what is left: %+v", r)
	}
	for name, change := range map[string]func(*session.State){
		"placed by hand":  func(s *session.State) { s.Found[0].ByHand = true },
		"another key":     func(s *session.State) { s.Key = "blue" },
		"too few places":  func(s *session.State) { s.Local[0] = warp.Local{} },
		"by marks":        func(s *session.State) { s.By = session.ByMarks },
		"not registered ": func(s *session.State) { s.Registered = "none" },
	} {
		other := s
		other.LocalOn = true
		change(&other)
		if says := LocalSays(&other, 0); !strings.HasPrefix(says, "No local register: ") || place.Local(&other, 0) != nil {
			t.Errorf("%s: %s", name, says)
		}
	}
}

// The plate that the others were found against is named, even where another one lies
// just as the key does, for somebody laid it centre on centre.
func TestTheFoundKeyIsNamed(t *testing.T) {
	state := sessiontest.Opened()
	state.Sources[0].W = state.Sources[1].W
	s := command.NewHistory(state)
	must(t, s, command.Centre{Source: 0})
	if s.Found[0].Matrix != affine.Identity || place.FoundKey(&s.State) != "green" {
		t.Errorf("laid by %v, the found key is %s", s.Found[0].Matrix, place.FoundKey(&s.State))
	}
	must(t, s, command.Key{Filter: "blue"})
	if m := OfScan(&s.State); strings.Contains(m.Sentence, "against the red one") {
		t.Error(m.Sentence)
	}
	if place.LocalFits(&s.State) {
		t.Error("a local register fits another key")
	}
}

// A register that was carried over from scans nobody could compare is not judged until
// the plates are registered again.
func TestACarriedRegisterIsNotJudged(t *testing.T) {
	s := command.NewHistory(sessiontest.Opened())
	if m := OfScan(&s.State); m.Sign != "in" {
		t.Fatal(m.Sentence)
	}
	s.Carried = true
	if m := OfScan(&s.State); m.Sign != "unsure" || m.Stars != 0 || !strings.Contains(m.Sentence, "register again") {
		t.Errorf("%s, %d stars: %s", m.Sign, m.Stars, m.Sentence)
	}
	must(t, s, command.Registered{Found: s.Found, FoundKey: 1, Survey: s.Survey})
	if m := OfScan(&s.State); s.Carried || m.Sign != "in" {
		t.Errorf("registered again: %s: %s", m.Sign, m.Sentence)
	}
}
