package audit

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/levels"
	"threeply/proof/neutral"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// spots lie in the middle of the steps of greyStairs, from the lightest on.
func spots() (out []session.Spot) {
	for i := range 8 {
		out = append(out, session.Spot{X: 25 + 50*float64(i), Y: 150})
	}
	return out
}

// greyStairs are three negatives in register of eight greys side by side, each half as
// bright as the one before but for a fifth. curve gives the density of a plate for a
// log10 exposure against the white.
func greyStairs(t *testing.T, curve func(f filter.Filter, logH float64) float64) (session.State, levels.Planes) {
	t.Helper()
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
	var planes levels.Planes
	for _, f := range filter.All {
		q := plane.New(400, 300)
		for y := range q.H {
			for x := range q.W {
				q.Pix[y*q.W+x] = density.Code(curve(f, -0.1-0.2*math.Floor(float64(x)/50)))
			}
		}
		planes.By[f] = q
		var src plate.Source
		src.Measure(q)
		s.Sources[f] = session.Source{File: f.String() + ".tif", W: q.W, H: q.H, Bits: 16, Base: src.Base, Max: src.Max, Area: [4]int{0, 0, q.W, q.H},
			Film: tone.Film{Negative: true, White: src.Max, Black: src.Base, Gamma: 0.8}, Scan: fitness.Facts{Kind: "TIFF", Known: "declared"}}
		s.Found[f] = session.Found{Matrix: affine.Identity, Confidence: 1}
	}
	return s, planes
}

// line is a film of slope γ that got so many stops more than the others.
func line(gamma, stops [3]float64) func(f filter.Filter, logH float64) float64 {
	return func(f filter.Filter, logH float64) float64 {
		return 0.3 + gamma[f]*(logH+stops[f]*math.Log10(2)+1.8)
	}
}

// with has the session's films by the greys, or leaves them as they are.
func with(t *testing.T, s session.State, planes levels.Planes, take bool) Audit {
	t.Helper()
	l, _, err := levels.ByGreys(&s, planes, spots())
	if err != nil {
		t.Fatal(err)
	}
	s.Neutral = l.Neutral
	if take {
		for i := range s.Sources {
			s.Sources[i].Film = l.Films[i]
		}
	}
	a, err := Of(&s, planes, [3]float64{})
	if err != nil || a.Greys == nil || a.Why != "" {
		t.Fatalf("%+v, %v", a, err)
	}
	return a
}

// The remedy goes by how the plates were made unequal: by exposure, by contrast, by a
// shoulder, or by a plate on which greys run into one.
func TestWhatUnequalContrastNeeds(t *testing.T) {
	shoulder := func(f filter.Filter, logH float64) float64 {
		d := line([3]float64{0.8, 0.8, 0.8}, [3]float64{})(f, logH)
		if over := d - 1.1; f == filter.Red && over > 0 {
			d -= 0.5 * over
		}
		return d
	}
	lost := func(f filter.Filter, logH float64) float64 {
		if f == filter.Blue {
			logH = min(logH, -0.9)
		}
		return line([3]float64{0.8, 0.8, 0.8}, [3]float64{})(f, logH)
	}
	for _, c := range []struct {
		name   string
		curve  func(f filter.Filter, logH float64) float64
		want   neutral.Remedy
		plates string
	}{
		{"alike", line([3]float64{0.8, 0.8, 0.8}, [3]float64{}), neutral.Nothing, "three plates agree"},
		{"unequal exposures", line([3]float64{0.8, 0.8, 0.8}, [3]float64{0.5, 0, -0.5}), neutral.Exposure, "the red and the blue plate"},
		{"unequal γ", line([3]float64{0.8, 0.8, 0.7}, [3]float64{}), neutral.Slope, "the blue plate"},
		{"a shoulder", shoulder, neutral.Bent, "the red plate"},
		{"lost lights", lost, neutral.Beyond, "the blue plate"},
	} {
		s, planes := greyStairs(t, c.curve)
		a := with(t, s, planes, true)
		if a.Greys.Remedy != c.want || !strings.Contains(a.Greys.Answer, c.plates) {
			t.Errorf("%s: %s: %s", c.name, a.Greys.Remedy, a.Greys.Answer)
		}
		if c.want == neutral.Beyond { // one may be left out that parts from its neighbours
			if len(a.Greys.Places)+len(a.Greys.Odd) != 8 {
				t.Errorf("%s: %d greys and %d left out", c.name, len(a.Greys.Places), len(a.Greys.Odd))
			}
			continue
		}
		if len(a.Greys.Places) != 8 || !a.Greys.Curves[filter.Green].Key || a.Greys.Curves[filter.Green].Words != "" || a.Greys.Curves[filter.Blue].Words == "" {
			t.Errorf("%s: %d greys, %+v", c.name, len(a.Greys.Places), a.Greys.Curves)
		}
		for i, p := range a.Greys.Places { // from the darkest on, 0.2 apart
			if i > 0 && math.Abs(p.LogH-a.Greys.Places[i-1].LogH-0.2) > 0.01 {
				t.Errorf("%s: greys at %g and %g", c.name, a.Greys.Places[i-1].LogH, p.LogH)
			}
		}
		if c.want == neutral.Slope && (math.Abs(a.Greys.Curves[filter.Blue].Slope-0.7) > 0.01 || math.Abs(a.Greys.Curves[filter.Green].Slope-0.8) > 0.01) {
			t.Errorf("slopes %+v", a.Greys.Curves)
		}
	}
}

// Plates that are each taken by itself print their greys with a cast, towards the side
// of the layer that is too heavy; by the greys they print neutral.
func TestWhereGreysPrintNeutral(t *testing.T) {
	// The blue plate got too little light: it is thinner, and prints too much yellow.
	s, planes := greyStairs(t, line([3]float64{0.8, 0.8, 0.8}, [3]float64{0, 0, -0.7}))
	for i := range s.Sources { // one white and one black for all, as if they were alike
		s.Sources[i].Film.White, s.Sources[i].Film.Black = s.Sources[1].Max, s.Sources[1].Base
	}
	a := with(t, s, planes, false)
	if n := a.Greys.Neutral; n.Worst < 5 || !strings.HasPrefix(n.Words, "Not everywhere") || !strings.Contains(n.Words, "yellow") && !strings.Contains(n.Words, "orange") {
		t.Errorf("a blue plate that got too little light: %+v", n)
	}
	a = with(t, s, planes, true)
	if n := a.Greys.Neutral; n.Worst > 1 || n.Mean > 0.5 || !strings.HasPrefix(n.Words, "Yes") {
		t.Errorf("by the greys: %+v", n)
	}
	// Unequal γ, exact in the lights: the shadows turn.
	s, planes = greyStairs(t, func(f filter.Filter, logH float64) float64 {
		return line([3]float64{0.8, 0.8, 0.76}, [3]float64{})(f, logH) + map[filter.Filter]float64{filter.Blue: 0.04 * 1.7}[f]
	})
	for i := range s.Sources {
		s.Sources[i].Film.White, s.Sources[i].Film.Black = s.Sources[1].Max, s.Sources[1].Base
	}
	if n := with(t, s, planes, false).Greys.Neutral; !strings.Contains(n.Words, "shadows turn") || strings.Contains(n.Words, "lights turn") || !strings.Contains(n.Words, "other tones print neutral") {
		t.Errorf("unequal γ: %+v", n)
	}
}

// Straight negatives keep the plates' own contrast: what tuned ones print neutral has a
// cast, and the answer says which is which.
func TestStraightNegativesKeepTheirContrast(t *testing.T) {
	s, planes := greyStairs(t, line([3]float64{0.8, 0.8, 0.55}, [3]float64{}))
	tuned := with(t, s, planes, true).Greys.Neutral
	s.Way.Straight = true
	straight := with(t, s, planes, true).Greys.Neutral
	if tuned.Worst > 1 || straight.Worst < 4 || !strings.Contains(straight.Words, "print straight; from tuned negatives none") || strings.Contains(tuned.Words, "straight") {
		t.Errorf("tuned %+v, straight %+v", tuned, straight)
	}
}

func TestNoGreys(t *testing.T) {
	s, planes := greyStairs(t, line([3]float64{0.8, 0.8, 0.8}, [3]float64{}))
	a, err := Of(&s, planes, [3]float64{1, 1, 3})
	if err != nil || a.Greys != nil || len(a.Light.Estimates) != 3 || a.Light.Words == "" {
		t.Fatalf("%+v, %v", a, err)
	}
	soft := 0
	for i, f := range a.Scans.Findings {
		if f.About == "sharpness" && f.Weight == fitness.Mend {
			soft++
			if f.Of != "blue plate" {
				t.Errorf("the soft one is said to be %s", f.Of)
			}
		}
		if i > 0 && rank(f.Weight) > rank(a.Scans.Findings[i-1].Weight) {
			t.Errorf("%s (%s) comes after %s (%s)", f.About, f.Weight, a.Scans.Findings[i-1].About, a.Scans.Findings[i-1].Weight)
		}
	}
	for _, f := range a.Scans.Findings {
		if f.About == "pixels on the print" && (f.Of != "all three plates" || strings.Contains(f.Figure, ";")) {
			t.Errorf("one width of all three plates is said as %q of %s", f.Figure, f.Of)
		}
	}
	if soft != 1 || a.Scans.Weight != fitness.Mend || !strings.HasPrefix(a.Scans.Answer, "Not as they are") {
		t.Errorf("%d soft plates; %+v", soft, a.Scans)
	}
	s.Neutral = session.Neutral{By: session.ByGreys, Greys: []session.Spot{{X: 25, Y: 150}}, Key: "green"}
	s.Found[0].Matrix = affine.Translate(900, 0)
	if a, err = Of(&s, planes, [3]float64{}); err != nil || a.Greys != nil || !strings.Contains(a.Why, "red plate") {
		t.Errorf("a grey that the red plate no longer holds: %+v, %v", a, err)
	}
}

func TestHueNames(t *testing.T) {
	// Hue angles of CIELAB: the unique hues lie near 24, 90, 162 and 246 degrees (CIE
	// 159:2004, table of unique hue data for CIECAM02: 20, 90, 164, 238; from memory).
	for _, c := range []struct {
		angle float64
		name  string
	}{{20, "red"}, {90, "yellow"}, {164, "green"}, {238, "blue"}} {
		if got := hueName(math.Cos(c.angle*math.Pi/180), math.Sin(c.angle*math.Pi/180)); got != c.name {
			t.Errorf("%g°: %s, want %s", c.angle, got, c.name)
		}
	}
}
