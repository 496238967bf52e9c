package verdict

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// FADGI still-image guidelines, misregister of colour channels, as quoted
// second-hand: four stars below 0.33 px, three below 0.50, two below 0.80.
func TestStars(t *testing.T) {
	worst := 0
	for px, want := range map[float64]int{0: 4, 0.32: 4, 0.33: 3, 0.49: 3, 0.5: 2, 0.79: 2, 0.8: 1, 7: 1, math.Inf(1): 1} {
		got := Stars(px)
		if worst = max(worst, max(got-want, want-got)); got != want {
			t.Errorf("%g px: %d stars, want %d", px, got, want)
		}
	}
	t.Logf("largest error %d stars", worst)
}

// Nothing is called in register that nobody measured or that is not sure, even
// where all figures are zero.
func TestNothingUnsureIsInRegister(t *testing.T) {
	two := func(n int) func(*session.State) {
		return func(s *session.State) {
			s.By = session.ByMarks
			for k, at := range [][2]float64{{100, 100}, {900, 120}, {500, 600}, {130, 580}}[:n] {
				p := session.Pin{Set: true, X: at[0], Y: at[1]}
				s.Marks = append(s.Marks, session.Pinned{N: k + 1, Weight: 1, At: [3]session.Pin{p, p, p}})
			}
		}
	}
	for name, c := range map[string]struct {
		change func(*session.State)
		sign   string
		words  string
	}{
		"as found":             {func(*session.State) {}, "in", "In register"},
		"not registered":       {func(s *session.State) { s.Registered = "none" }, "unsure", "Not registered yet"},
		"hardly found":         {func(s *session.State) { s.Found[2].Confidence, s.Found[2].Words = 0.1, "Too small." }, "unsure", "blue plate was not found. Too small."},
		"two hardly found":     {func(s *session.State) { s.Found[2].Confidence, s.Found[0].Confidence = 0.1, 0.2 }, "unsure", "red and the blue plate were not found"},
		"not sure":             {func(s *session.State) { s.Found[2].Confidence = 0.5 }, "unsure", "not sure where the blue plate lies (confidence 50 %)"},
		"by hand":              {func(s *session.State) { s.Found[0].ByHand = true }, "unsure", "red plate was placed by hand: nothing was measured"},
		"the key by hand":      {func(s *session.State) { s.Found[0].ByHand, s.Key = true, "red" }, "unsure", "placed by hand"},
		"one scan twice":       {func(s *session.State) { s.Found[0].Twin, s.Found[2].Twin = true, true }, "unsure", "red and the blue plate are one and the same scan"},
		"the same tones":       {func(s *session.State) { s.Found[0].Alike, s.Found[1].Alike = true, true }, "in", "the red and the green plate show the very same tones"},
		"by one mark":          {two(1), "unsure", "lies by one mark: so few marks do not show how well it lies"},
		"by three marks":       {two(3), "unsure", "lies by 3 marks"},
		"by four marks":        {two(4), "unsure", "lies by 4 marks, which says nothing of what lies between them"},
		"by marks, none found": {func(s *session.State) { two(4)(s); s.Registered = "none" }, "unsure", "lies by 4 marks"},
		"by marks not there":   {func(s *session.State) { s.By = session.ByMarks }, "in", "In register"},
	} {
		s := sessiontest.Opened()
		c.change(&s)
		m := OfScan(&s)
		if m.Sign != c.sign || !strings.Contains(m.Sentence, c.words) {
			t.Errorf("%s: %q, %s", name, m.Sign, m.Sentence)
		}
		if (m.Stars > 0) != (m.Unsure == "") {
			t.Errorf("%s: %d stars, and unsure for %q", name, m.Stars, m.Unsure)
		}
	}
}

func TestVerdictCSVHoldsWhatIsSaid(t *testing.T) {
	s := sessiontest.Opened()
	s.Sources[0].File, s.Tolerance = "winter, “red”.tif", 120
	s.Found[0].Median, s.Found[0].P95, s.Found[0].Max = 0.4, 0.9, 1.5
	s.Survey[0], s.Sources[1].PPI = sessiontest.Surveyed(0.45), 2540
	s.Offsets[pigment.Cyan].Across = 0.5
	m := OfScan(&s)
	rows, err := readCSV(CSV(&s, label.Made{}))
	if err != nil {
		t.Fatal(err)
	}
	get := func(quantity, plate, unit string) string {
		t.Helper()
		for _, r := range rows {
			if r[0] == quantity && r[1] == plate && r[3] == unit {
				return r[2]
			}
		}
		t.Errorf("no row %s %s in %s", quantity, plate, unit)
		return ""
	}
	near := func(quantity, plate, unit string, want float64) {
		t.Helper()
		if got, err := strconv.ParseFloat(get(quantity, plate, unit), 64); err != nil || math.Abs(got-want) > 1e-4*math.Abs(want)+1e-9 {
			t.Errorf("%s %s: %v, want %g (%v)", quantity, plate, got, want, err)
		}
	}
	if rows[0][0] != "quantity" || get("verdict", "", "") != SignWords(m.Sign) || get("file", "red", "") != s.Sources[0].File {
		t.Errorf("%q", rows[:3])
	}
	near("typical", "", "px", m.Typical)
	near("p95", "", "µm", 10*m.P95)
	near("largest", "", "px", m.Largest)
	near("coverage", "", "", 1)
	near("offsets", "", "µm", OfPrint(&s).Largest)
	near("press", "", "µm", 80) // 0.08 mm, ISO 12647-2, from memory
	near("own_limit", "", "µm", 120)
	near("eye", "", "µm", s.EyeMicrons())
	near("stars", "", "", 3)
	near("left_middle", "red", "px", 0.4)
	near("left_largest", "red", "µm", 1.5*s.PixelMicrons())
	near("confidence", "blue", "", 0.9)
	dx, _ := Shift(&s, 0, place.Register(&s, 0))
	near("shift_right", "red", "px", dx)
	near("turn", "red", "°", 0.2)
	near("offset_across_grain", "red", "%", 0.5)

	s.Found[0].ByHand = true
	rows, _ = readCSV(CSV(&s, label.Made{}))
	if get("lies_by", "red", "") != "hand" || get("left_middle", "red", "px") != "" || get("stars", "", "") != "" {
		t.Error("figures of a plate placed by hand that nobody measured")
	}
}

// A layer 2 mm wider than the bench's, about the middle: nothing at the centre,
// half of it at each side.
func TestAgainstTheBench(t *testing.T) {
	s := command.NewHistory(sessiontest.Opened())
	w, _ := s.Frame()
	print := s.PrintWidth * float64(w-1) / float64(w) * 1000
	must(t, s, command.Nudge{Printer: "magenta", Across: f(2000 / print * 100)})
	a := AgainstBench(&s.State, pigment.Magenta)
	if math.Hypot(a.DX, a.DY) > 1e-6 || math.Abs(a.Worst-1000) > 1 {
		t.Errorf("wider by 2 mm: %+v", a)
	}
	must(t, s, command.Nudge{Printer: "cyan", DX: f(300)}, command.ResetOffset{Printer: "magenta"})
	if a := AgainstBench(&s.State, pigment.Yellow); math.Abs(a.DX+300) > 1e-6 || math.Abs(a.Worst-300) > 1e-6 {
		t.Errorf("yellow against cyan, which lies 300 µm to the right: %+v", a)
	}
	must(t, s, command.Bench{Printer: "magenta"})
	if a := AgainstBench(&s.State, pigment.Yellow); a.Worst > 1e-6 {
		t.Errorf("against magenta: %+v", a)
	}
	if err := s.Do(command.Bench{Printer: "yellow"}, ""); err == nil {
		t.Error("yellow is taken to register to")
	}
}
