package neutral

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// emulsion is a film as a test makes it: base and fog, a toe of some width, a
// straight line, and light that it got more or less of.
type emulsion struct {
	base, gamma, toe, stops float64
	positive                bool
}

// density behind log10 exposure h, the scene's white at 0.
func (e emulsion) density(h float64) float64 {
	x := e.gamma * (h + e.stops*math.Log10(2) + 1.6)
	if e.toe > 0 {
		x = e.toe * math.Log1p(math.Exp(x/e.toe))
	}
	if e.positive {
		return 2.6 - x
	}
	return e.base + max(x, 0)
}

// greysOf is a card: n greys from white down, apart by step.
func greysOf(set [3]emulsion, n int, step float64) []Grey {
	var out []Grey
	for i := range n {
		g := Grey{X: float64(i)}
		for k, e := range set {
			g.Density[k] = e.density(-0.05 - step*float64(i))
		}
		out = append(out, g)
	}
	return out
}

func knownOf(set [3]emulsion) Known {
	k := Known{Key: 1, Base: [3]float64{-1, -1, -1}}
	for i, e := range set {
		k.Films[i] = tone.Film{Negative: !e.positive, Gamma: 0.8, White: e.density(0), Black: e.density(-1.6)}
		if e.positive {
			k.Films[i].Gamma = 1
		}
	}
	return k
}

// disagreement is the largest difference, over exposures that were not
// measured, between what the films read of one grey, in density of the key.
func disagreement(m Match, set [3]emulsion, from, to float64) float64 {
	worst := 0.0
	for h := to; h <= from; h += 0.01 {
		key := m.Films[m.Key].LogExposure(set[m.Key].density(h))
		for k, e := range set {
			worst = max(worst, math.Abs(m.Films[k].LogExposure(e.density(h))-key)*m.Films[m.Key].Gamma)
		}
	}
	return worst
}

func TestFilmsAgreeOnGreysThatWereNotMeasured(t *testing.T) {
	straight := [3]emulsion{{0.29, 0.92, 0, 0.4, false}, {0.26, 0.79, 0, 0, false}, {0.33, 0.66, 0, -0.5, false}}
	toes := [3]emulsion{{0.29, 0.92, 0.17, 0.4, false}, {0.26, 0.79, 0.15, 0, false}, {0.33, 0.66, 0.2, -0.5, false}}
	mixed := [3]emulsion{{0.29, 0.92, 0, 0.4, false}, {0.26, 0.79, 0, 0, false}, {0, 1, 0, 0.3, true}}
	for _, c := range []struct {
		name     string
		set      [3]emulsion
		n        int
		step     float64
		from, to float64
		most     float64
	}{
		{"two greys of straight films", straight, 2, 0.9, 0, -1.05, 1e-9},
		{"ten greys of straight films", straight, 10, 0.12, 0, -1.05, 1e-9},
		{"a negative key and a positive", mixed, 5, 0.2, 0, -1.05, 1e-9},
		{"ten greys of films with toes", toes, 10, 0.15, -0.05, -1.4, 0.004},
		{"five greys of films with toes", toes, 5, 0.33, -0.05, -1.37, Visible},
	} {
		m, err := Fit(greysOf(c.set, c.n, c.step), knownOf(c.set))
		if err != nil {
			t.Fatal(err)
		}
		worst := disagreement(m, c.set, c.from, c.to)
		t.Logf("%s: %.4f in density", c.name, worst)
		if worst > c.most {
			t.Errorf("%s: the films disagree by %.4f in density on one grey", c.name, worst)
		}
		for i, film := range m.Films {
			if math.Abs(film.LogExposure(film.White)) > 1e-9 || math.Abs(m.Films[1].LogExposure(m.Films[1].Black)-film.LogExposure(film.Black)) > 1e-8 {
				t.Errorf("%s: white or black of plate %d lies apart from the key's", c.name, i)
			}
		}
	}
}

// Straight films give back the γ and the exposure that they were made with.
func TestFitFindsSlopeAndStops(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0, 0.5, false}, {0.26, 0.8, 0, 0, false}, {0.33, 0.66, 0, 0, false}}
	known := knownOf(set)
	known.Base = [3]float64{0.29, 0.26, 0.33}
	m, err := Fit(greysOf(set, 8, 0.12), known)
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Plates[0].Slope; math.Abs(got-0.92/0.8) > 1e-6 {
		t.Errorf("red slope %.4f", got)
	}
	if got := m.Films[2].Gamma; math.Abs(got-0.66) > 1e-6 {
		t.Errorf("blue γ %.4f", got)
	}
	alike := set
	alike[0].gamma = 0.8
	m, err = Fit(greysOf(alike, 8, 0.12), known)
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Plates[0]; math.Abs(got.Stops-0.5) > 1e-6 || got.Remedy() != Exposure || got.AfterExposure > 1e-9 {
		t.Errorf("half a stop more light reads %+v", got)
	}
}

// A scale of known steps gives γ itself, and shows the key's own toe.
func TestKnownStepsMakeSlopesAbsolute(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0.17, 0.4, false}, {0.26, 0.7, 0.17, 0, false}, {0.33, 0.66, 0.17, -0.5, false}}
	known := knownOf(set)
	known.Step = 0.15
	for _, turned := range []bool{false, true} {
		greys := greysOf(set, 11, 0.15)
		if turned {
			for a, b := 0, len(greys)-1; a < b; a, b = a+1, b-1 {
				greys[a], greys[b] = greys[b], greys[a]
			}
		}
		m, err := Fit(greys, known)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range set {
			if math.Abs(m.Films[i].Gamma/e.gamma-1) > 0.04 {
				t.Errorf("plate %d: γ %.3f, made with %.2f", i, m.Films[i].Gamma, e.gamma)
			}
			for h := -0.1; h > -1.4; h -= 0.05 {
				got := m.Films[i].LogExposure(e.density(h)) - m.Films[i].LogExposure(e.density(-0.05))
				if math.Abs(got-(h+0.05)) > 0.015 {
					t.Errorf("plate %d: log H %.2f reads %.3f", i, h+0.05, got)
				}
			}
		}
	}
}

// A tablet's own densities, unequal steps, give γ itself where equal steps would not.
func TestUnequalStepsMakeSlopesAbsolute(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0.02, 0.4, false}, {0.26, 0.7, 0.02, 0, false}, {0.33, 0.66, 0.02, -0.5, false}}
	known := knownOf(set)
	known.Densities = []float64{0.05, 0.1, 0.28, 0.4, 0.75, 0.81, 1.2}
	var greys []Grey
	for _, d := range known.Densities {
		var g Grey
		for k, e := range set {
			g.Density[k] = e.density(-d)
		}
		greys = append(greys, g)
	}
	for range 2 {
		m, err := Fit(greys, known)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range set {
			if math.Abs(m.Films[i].Gamma/e.gamma-1) > 0.01 {
				t.Errorf("plate %d: γ %.3f, made with %.2f", i, m.Films[i].Gamma, e.gamma)
			}
		}
		slices.Reverse(greys) // drawn from the other end
	}
	if _, err := Fit(greys[1:], known); err == nil || !strings.Contains(err.Error(), "6 steps, and 7 densities") {
		t.Errorf("a step too few: %v", err)
	}
}

func TestReadSteps(t *testing.T) {
	for _, c := range []struct {
		text  string
		step  float64
		each  []float64
		wrong string
	}{
		{"", 0, nil, ""},
		{"0.15", 0.15, nil, ""},
		{" 0,15 ", 0.15, nil, ""},
		{"0.05,0.24,0.51", 0, []float64{0.05, 0.24, 0.51}, ""},
		{"1,61; 0,93; 0,05", 0, []float64{0.05, 0.93, 1.61}, ""},
		{"0.05\t0.3\n0.7", 0, []float64{0.05, 0.3, 0.7}, ""},
		{"0.05, 0.3, 0.7", 0, []float64{0.05, 0.3, 0.7}, ""},
		{"3", 0, nil, "3: the steps"},
		{"0.1 0.2", 0, nil, "2 densities"},
		{"0.1 0.3 0.2", 0, nil, "0.2 follows 0.3"},
		{"0.1 0.3 0.3", 0, nil, "0.3 follows 0.3"},
		{"0.1 dark 0.3", 0, nil, "“dark”"},
		{"0.1 nan 0.3", 0, nil, "“nan”"},
	} {
		step, each, err := ReadSteps(c.text)
		if c.wrong != "" {
			if err == nil || !strings.Contains(err.Error(), c.wrong) {
				t.Errorf("“%s”: %v", c.text, err)
			}
			continue
		}
		if err != nil || step != c.step || !slices.Equal(each, c.each) {
			t.Errorf("“%s”: %g, %v, %v", c.text, step, each, err)
		}
		if again, all, err := ReadSteps(WriteSteps(step, each)); err != nil || again != step || !slices.Equal(all, each) {
			t.Errorf("“%s” written and read: %g, %v, %v", c.text, again, all, err)
		}
	}
}

// One place that is not grey among greys is left out; the rest agree as if it
// had not been pointed at.
func TestAnOddOneIsLeftOut(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0, 0.4, false}, {0.26, 0.79, 0, 0, false}, {0.33, 0.66, 0, -0.5, false}}
	greys := greysOf(set, 6, 0.2)
	greys[3].Density[2] += 0.15
	m, err := Fit(greys, knownOf(set))
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Odd) != 1 || m.Odd[0].X != 3 || len(m.Greys) != 5 {
		t.Errorf("left out %v", m.Odd)
	}
	if worst := disagreement(m, set, 0, -1.05); worst > 1e-9 {
		t.Errorf("the films disagree by %.4f", worst)
	}
}

func TestNoiseMakesNoBend(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0, 0.4, false}, {0.26, 0.79, 0, 0, false}, {0.33, 0.66, 0, -0.5, false}}
	rnd := rand.New(rand.NewPCG(4, 9))
	bent := 0
	for range 200 {
		greys := greysOf(set, 8, 0.12)
		for i := range greys {
			for k := range 3 {
				greys[i].Density[k] += 0.002 * rnd.NormFloat64()
				greys[i].Error[k] = 0.002
			}
		}
		m, err := Fit(greys, knownOf(set))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range m.Films {
			if f.Bend != (tone.Bend{}) {
				bent++
			}
		}
	}
	if bent > 12 { // 2 % of 600
		t.Errorf("%d of 600 straight films were bent", bent)
	}
}

func TestRemedies(t *testing.T) {
	base := emulsion{0.26, 0.8, 0, 0, false}
	with := func(e emulsion) Curve {
		set := [3]emulsion{e, base, base}
		m, err := Fit(greysOf(set, 9, 0.15), knownOf(set))
		if err != nil {
			t.Fatal(err)
		}
		if words := m.Words(0); !strings.Contains(words, "red plate") || m.Words(1) != "" {
			t.Errorf("it says %q, and of the key %q", words, m.Words(1))
		}
		return m.Plates[0]
	}
	for want, e := range map[Remedy]emulsion{
		Nothing:  base,
		Exposure: {0.26, 0.8, 0, 0.4, false},
		Slope:    {0.26, 1, 0, 0, false},
		Bent:     {0.26, 0.9, 0.25, -0.5, false},
		Beyond:   {0.26, 0.9, 0, -2, false}, // its darkest greys lie on base and fog
	} {
		if c := with(e); c.Remedy() != want {
			t.Errorf("%+v needs %s, want %s: %+v", e, c.Remedy(), want, c)
		}
	}
}

func TestClippedGreysSayNothing(t *testing.T) {
	set := [3]emulsion{{0.29, 0.92, 0, 0.4, false}, {0.26, 0.79, 0, 0, false}, {0.33, 0.66, 0, -0.5, false}}
	greys := greysOf(set, 8, 0.12)
	for i := range 3 { // the scanner's black limit
		greys[i].Density[0], greys[i].Clipped[0] = 1.4, true
	}
	m, err := Fit(greys, knownOf(set))
	if err != nil {
		t.Fatal(err)
	}
	if c := m.Plates[0]; c.Clipped != 3 || math.Abs(c.Slope-0.92/0.79) > 1e-6 || c.Remedy() != Beyond {
		t.Errorf("%+v", c)
	}
	for i := range greys {
		greys[i].Clipped[1] = true
	}
	if _, err := Fit(greys, knownOf(set)); err != ErrNoGreys {
		t.Errorf("with nothing to compare: %v", err)
	}
}

// A middle grey (18 %, CIE 15 formula) whose one plate is Visible too dense at
// γ 0.8 has a chroma of about one.
func TestVisible(t *testing.T) {
	sum := 0.0
	for k := range 3 {
		rgb := [3]float64{0.18, 0.18, 0.18}
		rgb[k] *= math.Pow(10, Visible/0.8)
		lab := spectrum.SRGBLab(rgb)
		sum += math.Hypot(lab[1], lab[2]) / 3
	}
	if sum < 0.7 || sum > 1.3 {
		t.Errorf("chroma %.2f", sum)
	}
}
