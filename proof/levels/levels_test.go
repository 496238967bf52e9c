package levels

import (
	"errors"
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// greyScene is a session of three plates of one scene of greys, given in another
// order than red, green, blue; each has an exposure and a γ of its own and lies
// elsewhere. exposure is log10 of the scene's at a pixel of the key.
func greyScene(t *testing.T) (s session.State, planes Planes, exposure func(x, y float64) float64) {
	t.Helper()
	exposure = func(x, y float64) float64 { return -0.1 - 0.15*math.Floor(x/40) - 0.05*math.Floor(y/60) }
	s = session.New()
	s.Assign, s.Registered, s.FoundKey = [3]int{2, 0, 1}, "auto", 0 // source of red, green, blue
	gamma, stops, base := [3]float64{0.9, 0.8, 0.7}, [3]float64{0.5, 0, -0.4}, [3]float64{0.3, 0.26, 0.34}
	shift := [3][2]float64{{4, -3}, {0, 0}, {-5, 2}}
	for _, f := range filter.All {
		i := s.Assign[f]
		q := plane.New(400, 300)
		for y := range q.H {
			for x := range q.W {
				h := exposure(float64(x)-shift[f][0], float64(y)-shift[f][1])
				q.Pix[y*q.W+x] = density.Code(base[f] + max(gamma[f]*(h+stops[f]*math.Log10(2)+1.9), 0))
			}
		}
		planes.By[i] = q
		var src plate.Source
		src.Measure(q)
		s.Sources[i] = session.Source{File: f.String() + ".tif", W: q.W, H: q.H, Base: src.Base, Max: src.Max, Rebate: base[f], Area: [4]int{8, 8, q.W - 8, q.H - 8},
			Film: tone.Film{Negative: true, White: src.Max, Black: src.Base, Gamma: session.DefaultGamma(true)}}
		s.Found[i] = session.Found{Matrix: affine.Translate(shift[f][0], shift[f][1]), Confidence: 1}
	}
	return s, planes, exposure
}

// unlike is the largest difference between the exposures that the three films
// give a grey of the scene, 0 to 1.
func unlike(s *session.State, planes Planes, l Levels) float64 {
	p, worst := Overlay(s, planes), 0.0
	for y := 30.0; y < 270; y += 60 {
		for x := 60.0; x < 340; x += 40 {
			var h [3]float64
			for _, f := range filter.All {
				d, _ := p.Density(int(f), x, y)
				h[f] = l.Films[s.Assign[f]].Exposure(d)
			}
			worst = max(worst, max(h[0], h[1], h[2])-min(h[0], h[1], h[2]))
		}
	}
	return worst
}

func TestByGreysInAnyOrderOfSources(t *testing.T) {
	s, planes, _ := greyScene(t)
	own := unlike(&s, planes, Own(&s))
	l, m, err := ByGreys(&s, planes, []session.Spot{{X: 60, Y: 30}, {X: 140, Y: 90}, {X: 260, Y: 150}, {X: 340, Y: 210}})
	if err != nil {
		t.Fatal(err)
	}
	got := unlike(&s, planes, l)
	t.Logf("each by itself they part by %.3f, by greys by %.4f", own, got)
	if got > 0.004 || own < 0.03 {
		t.Errorf("greys part by %.4f, by themselves by %.3f", got, own)
	}
	if math.Abs(m.Plates[filter.Red].Slope-0.9/0.8) > 0.01 || math.Abs(m.Plates[filter.Blue].Slope-0.7/0.8) > 0.01 {
		t.Errorf("slopes %.3f and %.3f", m.Plates[filter.Red].Slope, m.Plates[filter.Blue].Slope)
	}
	if l.Neutral.By != session.ByGreys || len(l.Neutral.Greys) != 4 || l.Neutral.Key != "green" || l.Neutral.Unsure > 0.1 || l.Neutral.Unsure < 0.004 {
		t.Errorf("%+v", l.Neutral)
	}
	for i := range s.Sources {
		s.Sources[i].Film = l.Films[i]
	}
	s.Neutral = l.Neutral
	if err := s.Check(); err != nil {
		t.Error(err)
	}
	// Without the greys the γ that they told is gone too.
	if plain, _ := ByLight(&s, planes, light.Default); plain.Films[s.Assign[filter.Red]].Gamma != session.DefaultGamma(true) || plain.Films[s.Assign[filter.Green]].Gamma != 0.8 {
		t.Errorf("γ outlives its greys: %+v", plain.Films)
	}
	// Once more, from what was found: it stays.
	again, _, err := ByGreys(&s, planes, l.Neutral.Greys)
	if err != nil || math.Abs(again.Films[2].Gamma-l.Films[2].Gamma) > 1e-6 || math.Abs(again.Films[2].White-l.Films[2].White) > 1e-6 {
		t.Errorf("again: %+v, was %+v (%v)", again.Films[2], l.Films[2], err)
	}
}

func TestByScaleAlongALine(t *testing.T) {
	s, planes, _ := greyScene(t)
	l, m, err := ByScale(&s, planes, session.Spot{X: 60, Y: 30}, session.Spot{X: 340, Y: 30}, session.Neutral{Step: 0.15})
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Greys) != 8 || math.Abs(m.Films[filter.Green].Gamma-0.8) > 0.01 || math.Abs(m.Films[filter.Blue].Gamma-0.7) > 0.01 {
		t.Errorf("%d steps, γ %.3f and %.3f", len(m.Greys), m.Films[filter.Green].Gamma, m.Films[filter.Blue].Gamma)
	}
	if got := unlike(&s, planes, l); got > 0.004 {
		t.Errorf("greys part by %.4f", got)
	}
}

func TestByLight(t *testing.T) {
	s, planes, _ := greyScene(t)
	for i := range s.Sources { // γ is known, exposures are not
		s.Sources[i].Film.Gamma = map[string]float64{"red.tif": 0.9, "green.tif": 0.8, "blue.tif": 0.7}[s.Sources[i].File]
	}
	for _, a := range light.Assumptions() {
		l, c := ByLight(&s, planes, a.ID)
		most := 0.03
		if a.Order > 0 { // edges of the scene's own greys are few here
			most = 0.2
		}
		if got := unlike(&s, planes, l); got > most || l.Neutral.By != session.ByLight || l.Neutral.Light != a.ID || c.Unknown() {
			t.Errorf("%s: greys part by %.3f; %s", a.Name, got, c.Words)
		}
	}
	for i := range s.Sources { // unequal γ that nobody knows: what no light reached is black all the same
		s.Sources[i].Film.Gamma = 0.8
	}
	l, _ := ByLight(&s, planes, light.Default)
	for i, src := range s.Sources {
		if h := l.Films[i].Exposure(src.Rebate); h != 0 {
			t.Errorf("%s: base and fog reads %g", src.File, h)
		}
	}
	for i := range planes.By {
		planes.By[i] = plane.New(400, 300)
	}
	if l, c := ByLight(&s, planes, light.Default); l.Neutral.By != session.ByOwn || !c.Unknown() {
		t.Errorf("of blank plates: %+v", l.Neutral)
	}
}

// Halves of the planes tell the same: places stay those of the whole key.
func TestReducedPlanesTellTheSame(t *testing.T) {
	s, planes, _ := greyScene(t)
	half := Planes{Level: 1}
	for i, p := range planes.By {
		half.By[i] = p.Half()
	}
	spots := []session.Spot{{X: 60, Y: 30}, {X: 140, Y: 90}, {X: 260, Y: 150}, {X: 340, Y: 210}}
	whole, _, err := ByGreys(&s, planes, spots)
	if err != nil {
		t.Fatal(err)
	}
	reduced, m, err := ByGreys(&s, half, spots)
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole.Films {
		if math.Abs(whole.Films[i].Gamma-reduced.Films[i].Gamma) > 0.01 || math.Abs(whole.Films[i].White-reduced.Films[i].White) > 0.01 {
			t.Errorf("source %d: %+v of halves, %+v of the whole", i, reduced.Films[i], whole.Films[i])
		}
	}
	for _, g := range m.Greys {
		if g.Radius < 2 || math.Mod(g.X-60, 40) != 0 {
			t.Errorf("a grey is said to lie at %g, %g over %g pixels", g.X, g.Y, g.Radius)
		}
	}
	l, m, err := ByScale(&s, half, session.Spot{X: 60, Y: 30}, session.Spot{X: 340, Y: 30}, session.Neutral{})
	if err != nil || len(m.Greys) != 8 || math.Abs(l.Neutral.Greys[0].X-60) > 15 || math.Abs(l.Neutral.Greys[7].X-340) > 15 {
		t.Errorf("a scale of %d steps, %+v (%v)", len(m.Greys), l.Neutral.Greys, err)
	}
	if got := unlike(&s, planes, l); got > 0.004 {
		t.Errorf("greys part by %.4f", got)
	}
}

// Another key moves the greys with the picture.
func TestGreysOfAnotherKey(t *testing.T) {
	s, planes, _ := greyScene(t)
	l, _, err := ByGreys(&s, planes, []session.Spot{{X: 60, Y: 30}, {X: 260, Y: 150}})
	if err != nil {
		t.Fatal(err)
	}
	s.Key = "red" // it lies 4 pixels to the right of the green one and 3 above
	again, _, err := Again(&s, planes, l.Neutral)
	if err != nil {
		t.Fatal(err)
	}
	if at := again.Neutral.Greys[1]; math.Hypot(at.X-264, at.Y-147) > 1e-6 || again.Neutral.Key != "red" {
		t.Errorf("the second grey lies at %+v of the %s plate", at, again.Neutral.Key)
	}
	if got := unlike(&s, planes, again); got > 0.004 {
		t.Errorf("greys part by %.4f", got)
	}
}

func TestEnoughLevel(t *testing.T) {
	s := session.New()
	for side, want := range map[int]int{800: 0, EnoughSide: 0, EnoughSide + 1: 1, 4 * EnoughSide: 2, 4*EnoughSide + 1: 3} {
		for i := range s.Sources {
			s.Sources[i].W, s.Sources[i].H = 700, side
		}
		if got := EnoughLevel(&s); got != want {
			t.Errorf("a key of %d pixels: level %d, want %d", side, got, want)
		}
	}
}

func TestWhatCannotBeCompared(t *testing.T) {
	s, planes, _ := greyScene(t)
	if _, _, err := ByGreys(&s, planes, []session.Spot{{X: 9999, Y: 1}}); err == nil {
		t.Error("a grey off the picture was read")
	}
	if _, _, err := ByGreys(&s, planes, []session.Spot{{X: 398, Y: 30}}); err == nil || !strings.Contains(err.Error(), "red plate") {
		t.Errorf("a grey that the red plate does not hold: %v", err)
	}
	if _, _, err := ByGreys(&s, planes, nil); !errors.Is(err, neutral.ErrNoGreys) {
		t.Errorf("no grey: %v", err)
	}
	if _, _, err := ByScale(&s, planes, session.Spot{X: 60, Y: 20}, session.Spot{X: 60, Y: 40}, session.Neutral{}); !errors.Is(err, neutral.ErrNoScale) {
		t.Errorf("no scale: %v", err)
	}
}

func TestFitnessOfASession(t *testing.T) {
	s, planes, _ := greyScene(t)
	findings := Fitness(&s, Overlay(&s, planes).Blur())
	sharp, sized := 0, 0
	for _, f := range findings {
		switch f.About {
		case "sharpness":
			sharp++
		case "pixels on the print":
			sized++
		}
	}
	if sharp != 3 || sized != 3 {
		t.Errorf("%d on sharpness, %d on the print: %+v", sharp, sized, findings)
	}
	for _, f := range Fitness(&s, [3]float64{}) {
		if f.About == "sharpness" {
			t.Error("sharpness of plates that were not compared")
		}
	}
}

// Find does what is wanted, and says of blank plates that they tell no light.
func TestFindWhatIsWanted(t *testing.T) {
	s, planes, _ := greyScene(t)
	line := &[2]session.Spot{{X: 60, Y: 30}, {X: 340, Y: 30}}
	for _, c := range []struct {
		want  Want
		by    string
		greys int
	}{
		{Want{Neutral: session.Neutral{By: session.ByGreys, Greys: []session.Spot{{X: 60, Y: 30}, {X: 260, Y: 150}}, Key: "green"}}, session.ByGreys, 2},
		{Want{Neutral: session.Neutral{By: session.ByScale, Step: 0.15}, Line: line}, session.ByScale, 8},
		{Want{Neutral: session.Neutral{By: session.ByLight, Light: "grey-world", Chosen: true}}, session.ByLight, 0},
		{Want{Neutral: session.Neutral{By: session.ByOwn, Chosen: true}}, session.ByOwn, 0},
	} {
		l, err := Find(&s, planes, c.want)
		n := l.Neutral
		if err != nil || n.By != c.by || len(n.Greys) != c.greys || n.Step != c.want.Neutral.Step || n.Light != c.want.Neutral.Light || n.Chosen != c.want.Neutral.Chosen {
			t.Errorf("wanted %+v, found by %+v (%v)", c.want, n, err)
		}
	}
	if _, err := Find(&s, planes, Want{Neutral: session.Neutral{By: session.ByHand}}); err == nil {
		t.Error("figures of the user's own were found")
	}
	for i := range planes.By {
		planes.By[i] = plane.New(400, 300)
	}
	if _, err := Find(&s, planes, Want{Neutral: session.Neutral{By: session.ByLight, Light: light.Default, Chosen: true}}); err == nil || !strings.Contains(err.Error(), "point at something grey") {
		t.Errorf("an assumption on blank plates: %v", err)
	}
	if l, err := Find(&s, planes, Want{Neutral: session.Neutral{By: session.ByLight, Light: light.Default}}); err != nil || l.Neutral.By != session.ByOwn {
		t.Errorf("the tool's own choice on blank plates: %+v (%v)", l.Neutral, err)
	}
}
