package session

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/register"
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
	two := func(n int) func(*State) {
		return func(s *State) {
			s.By = ByMarks
			for k, at := range [][2]float64{{100, 100}, {900, 120}, {500, 600}, {130, 580}}[:n] {
				p := Pin{Set: true, X: at[0], Y: at[1]}
				s.Marks = append(s.Marks, Pinned{N: k + 1, Weight: 1, At: [3]Pin{p, p, p}})
			}
		}
	}
	for name, c := range map[string]struct {
		change func(*State)
		sign   string
		words  string
	}{
		"as found":             {func(*State) {}, "in", "In register"},
		"places further off":   {func(s *State) { s.Found[0].P95 = 3 }, "near", "but 95 % of the single places only within"},
		"not registered":       {func(s *State) { s.Registered = "none" }, "unsure", "Not registered yet"},
		"hardly found":         {func(s *State) { s.Found[2].Confidence, s.Found[2].Words = 0.1, "Too small." }, "unsure", "blue plate is not in register. Too small."},
		"not sure":             {func(s *State) { s.Found[2].Confidence = 0.5 }, "unsure", "not sure of the blue plate (confidence 50 %)"},
		"by hand":              {func(s *State) { s.Found[0].ByHand = true }, "unsure", "red plate was placed by hand: nothing was measured"},
		"the key by hand":      {func(s *State) { s.Found[0].ByHand, s.Key = true, "red" }, "unsure", "placed by hand"},
		"one scan twice":       {func(s *State) { s.Found[0].Twin, s.Found[2].Twin = true, true }, "unsure", "red and the blue plate are one and the same scan"},
		"the same tones":       {func(s *State) { s.Found[0].Alike, s.Found[1].Alike = true, true }, "in", "the red and the green plate show the very same tones"},
		"by one mark":          {two(1), "unsure", "lies by one mark: one to three marks leave no residual"},
		"by three marks":       {two(3), "unsure", "lies by 3 marks"},
		"by four marks":        {two(4), "in", "In register"},
		"by marks, none found": {func(s *State) { two(4)(s); s.Registered = "none" }, "in", "In register"},
		"by marks not there":   {func(s *State) { s.By = ByMarks }, "in", "In register"},
		"offsets too": {func(s *State) { s.Found[0].ByHand, s.Offsets[2].DX = true, 900 }, "out",
			"offsets on the print alone part two layers by up to 900 µm"},
	} {
		s := opened()
		c.change(&s)
		m := s.Misregister()
		if m.Sign != c.sign || !strings.Contains(m.Sentence, c.words) {
			t.Errorf("%s: %q, %s", name, m.Sign, m.Sentence)
		}
		if (m.Stars > 0) != (m.Unsure == "") {
			t.Errorf("%s: %d stars, and unsure for %q", name, m.Stars, m.Unsure)
		}
	}
}

// Four marks of which one is 2 px off leave a known residual: the corrected root
// mean square of an affine fit to a square's corners, of which each keeps a
// quarter of the error, √(4 · 0.5² / (4-3)) = 1.
func TestRestOfMarks(t *testing.T) {
	s := opened()
	s.By = ByMarks
	for k, at := range [][2]float64{{100, 100}, {500, 100}, {500, 500}, {100, 500}} {
		key, red := Pin{Set: true, X: at[0], Y: at[1]}, Pin{Set: true, X: at[0] + 7, Y: at[1]}
		if k == 2 {
			red.X += 2
		}
		s.Marks = append(s.Marks, Pinned{N: k + 1, Weight: 1, At: [3]Pin{red, key, key}})
	}
	r := s.Rest(0)
	size := math.Sqrt(s.Register(0).Det())
	if !r.Known || r.Marks != 4 || math.Abs(r.Median*size-1) > 1e-6 || math.Abs(r.Max*size-0.5) > 1e-6 {
		t.Errorf("%+v", r)
	}
	s.By, s.MarkShare = ByBoth, 0.5
	if both := s.Rest(0); !both.Known || both.Median <= 0 || both.Confidence != s.Found[0].Confidence {
		t.Errorf("by both: %+v", both)
	}
}

func TestRestWithTheLocalRegister(t *testing.T) {
	s := opened()
	s.Found[0].Median = 0.9
	s.Local[0] = register.Local{W: 1000, H: 700, Before: register.Residual{Median: 0.9, P95: 2, Max: 3}, After: register.Residual{Median: 0.2, P95: 0.5, Max: 0.8}}
	if r := s.Rest(0); r.Local || r.Median != 0.9 || !strings.Contains(s.LocalSays(0), "worth switching on") {
		t.Errorf("off: %+v, %s", r, s.LocalSays(0))
	}
	s.LocalOn = true
	if r := s.Rest(0); !r.Local || r.Median != 0.2 {
		t.Errorf("on: %+v", r)
	}
	before := s.Misregister().Apart
	s.LocalOn = false
	if after := s.Misregister().Apart; !(before < after) {
		t.Errorf("the verdict does not see the local register: %g with, %g without", before, after)
	}
	s.Local[0].After.Median = 0.88
	if says := s.LocalSays(0); !strings.Contains(says, "only learns the noise") {
		t.Error(says)
	}
	lost := s
	lost.Found[0].Confidence = 0.1
	if r := lost.Rest(0); r.Known {
		t.Errorf("of a plate that was not found it is known what is left: %+v", r)
	}
	for name, change := range map[string]func(*State){
		"placed by hand":  func(s *State) { s.Found[0].ByHand = true },
		"another key":     func(s *State) { s.Key = "blue" },
		"too few places":  func(s *State) { s.Local[0] = register.Local{} },
		"by marks":        func(s *State) { s.By = ByMarks },
		"not registered ": func(s *State) { s.Registered = "none" },
	} {
		other := s
		other.LocalOn = true
		change(&other)
		if says := other.LocalSays(0); !strings.HasPrefix(says, "No local register: ") || other.LocalOf(0) != nil {
			t.Errorf("%s: %s", name, says)
		}
	}
}

func TestVerdictCSVHoldsWhatIsSaid(t *testing.T) {
	s := opened()
	s.Sources[0].File, s.Tolerance = "winter, “red”.tif", 120
	s.Found[0].Median, s.Found[0].P95, s.Found[0].Max = 0.4, 0.9, 1.5
	s.Offsets[pigment.Cyan].Across = 0.5
	m := s.Misregister()
	rows, err := csv.NewReader(strings.NewReader(s.VerdictCSV())).ReadAll()
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
	near("typical", "", "µm", m.Largest)
	near("places_p95", "", "µm", m.PlacesP95)
	near("places_largest", "", "µm", m.PlacesLargest)
	near("press", "", "µm", 80) // 0.08 mm, ISO 12647-2, from memory
	near("own_limit", "", "µm", 120)
	near("eye", "", "µm", s.EyeMicrons())
	near("stars", "", "", 3)
	near("left_middle", "red", "px", 0.4)
	near("left_largest", "red", "µm", 1.5*s.PixelMicrons())
	near("confidence", "blue", "", 0.9)
	near("shift_right", "red", "px", s.PoseOf(0).DX)
	near("turn", "red", "°", 0.2)
	near("offset_across_grain", "red", "%", 0.5)

	s.Found[0].ByHand = true
	rows, _ = csv.NewReader(strings.NewReader(s.VerdictCSV())).ReadAll()
	if get("lies_by", "red", "") != "hand" || get("left_middle", "red", "px") != "" || get("stars", "", "") != "" {
		t.Error("figures of a plate placed by hand that nobody measured")
	}
}

// A layer 2 mm wider than the bench's, about the middle: nothing at the centre,
// half of it at each side.
func TestAgainstTheBench(t *testing.T) {
	s := NewSession(opened())
	w, _ := s.Frame()
	print := s.PrintWidth * float64(w-1) / float64(w) * 1000
	must(t, s, Command{Do: "nudge", Printer: "magenta", Across: f(2000 / print * 100)})
	a := s.AgainstBench(pigment.Magenta)
	if math.Hypot(a.DX, a.DY) > 1e-6 || math.Abs(a.Worst-1000) > 1 {
		t.Errorf("wider by 2 mm: %+v", a)
	}
	must(t, s, Command{Do: "nudge", Printer: "cyan", DX: f(300)}, Command{Do: "resetOffset", Printer: "magenta"})
	if a := s.AgainstBench(pigment.Yellow); math.Abs(a.DX+300) > 1e-6 || math.Abs(a.Worst-300) > 1e-6 {
		t.Errorf("yellow against cyan, which lies 300 µm to the right: %+v", a)
	}
	must(t, s, Command{Do: "bench", Printer: "magenta"})
	if a := s.AgainstBench(pigment.Yellow); a.Worst > 1e-6 {
		t.Errorf("against magenta: %+v", a)
	}
	if err := s.Do(Command{Do: "bench", Printer: "yellow"}); err == nil {
		t.Error("yellow is taken to register to")
	}
}

// A hand that changes one figure of a plate's pose leaves what it does not set.
func TestAHandKeepsShear(t *testing.T) {
	s := NewSession(opened())
	was := affine.Compose(affine.Parts{DX: 4, DY: -3, Turn: 0.2, StretchX: 1.004, StretchY: 1.001, Shear: 0.003}, 500, 349.5)
	s.Found[0].Matrix = was
	pose := s.PoseOf(0)
	pose.DX += 2
	must(t, s, Command{Do: "place", Source: 0, Pose: &pose})
	if d := apart(s.Register(0), affine.Translate(2, 0).Mul(was)); d > 1e-6 {
		t.Errorf("moved by 2 px it lies %g px off", d)
	}
	pose.Mirrored = true
	must(t, s, Command{Do: "place", Source: 0, Pose: &pose})
	if p := s.PoseOf(0); !p.Mirrored || math.Abs(p.DX-pose.DX) > 1e-9 || math.Abs(p.Turn-pose.Turn) > 1e-9 || math.Abs(p.Stretch-pose.Stretch) > 1e-9 {
		t.Errorf("turned over: %+v, want %+v", p, pose)
	}
	// mirrored left to right and moved by nothing, the picture's upper left is the scan's upper right
	must(t, s, Command{Do: "place", Source: 0, Pose: &Pose{Mirrored: true}})
	if x, y := s.Register(0).Apply(0, 0); x < 900 || y > 100 {
		t.Errorf("the upper left of a mirrored plate is found at %g, %g", x, y)
	}
	must(t, s, Command{Do: "place", Source: 0, ID: "centre"})
	if x, y := s.Register(0).Apply(500, 349.5); math.Hypot(x-499.5, y-349.5) > 1e-9 || s.PoseOf(0) != (Pose{DX: -0.5}) {
		t.Errorf("centre on centre: %g, %g, %+v", x, y, s.PoseOf(0))
	}
}
