package registration

import (
	"context"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/tone"
	"threeply/proof/verdict"
	"threeply/proof/warp"
)

// discs is an invented scene of coloured discs: the density of a plate at a
// place of a picture of 900 × 700 pixels. Each plate has a tone of its own.
func discs() func(x, y, tone float64) float64 {
	type disc struct{ x, y, r, d float64 }
	rnd := rand.New(rand.NewPCG(12, 5))
	cells := map[[2]int][]disc{}
	for range 900 {
		d := disc{900 * rnd.Float64(), 700 * rnd.Float64(), 4 + 24*rnd.Float64()*rnd.Float64(), 0.3 + 1.3*rnd.Float64()}
		for j := int(d.y-d.r-2) / 40; j <= int(d.y+d.r+2)/40; j++ {
			for i := int(d.x-d.r-2) / 40; i <= int(d.x+d.r+2)/40; i++ {
				cells[[2]int{i, j}] = append(cells[[2]int{i, j}], d)
			}
		}
	}
	return func(x, y, tone float64) float64 {
		v := 0.9
		for _, d := range cells[[2]int{int(x) / 40, int(y) / 40}] {
			off := math.Sqrt((x-d.x)*(x-d.x) + (y-d.y)*(y-d.y))
			v += (d.d - v) * min(max((d.r-off)/2+0.5, 0), 1) // soft over two pixels
		}
		return 0.3 + tone*v
	}
}

// shown is three plates of the scene, in register. Tests share them, and do not change them.
var shown = sync.OnceValue(func() (planes [3]*plane.Plane) {
	scene := discs()
	for i, tone := range [3]float64{1, 0.8, 0.6} {
		planes[i] = plane.New(900, 700)
		for j := range planes[i].Pix {
			planes[i].Pix[j] = density.Code(scene(float64(j%900), float64(j/900), tone))
		}
	}
	return planes
})

// shrunken is a plate that has shrunk unevenly, by up to amount pixels.
func shrunken(p *plane.Plane, amount float64) *plane.Plane {
	out := plane.New(p.W, p.H)
	for j := range out.Pix {
		x, y := float64(j%900), float64(j/900)
		out.Pix[j] = uint16(p.Bilinear(x-amount*math.Sin(math.Pi*x/900), y-0.7*amount*math.Sin(math.Pi*y/700)*math.Cos(math.Pi*x/1800)))
	}
	return out
}

// cut is the upper left of three plates: where their size is not the point.
func cut(planes [3]*plane.Plane) (out [3]*plane.Plane) {
	for i, p := range planes {
		out[i] = p.Crop(0, 0, 450, 350)
	}
	return out
}

// state is a session of three negatives.
func state(planes [3]*plane.Plane) session.State {
	s := session.New()
	for i, p := range planes {
		s.Sources[i] = session.Source{File: filter.Filter(i).String() + ".tif", W: p.W, H: p.H, Base: 0.5, Max: 1.9, Film: tone.Film{Negative: true, White: 1.9, Black: 0.3, Gamma: 0.8}}
	}
	return s
}

// The picture of a plate that shrank unevenly comes nearer to that of the plate
// before it did when the local register is on.
func TestLocalRegisterBringsThePictureNearer(t *testing.T) {
	before := shown()
	planes := before
	planes[0] = shrunken(before[0], 2.5)
	s := command.NewHistory(state(planes))
	got, err := Register(context.Background(), &s.State, planes, nil)
	if err != nil {
		t.Fatal(err)
	}
	lies := got.On(&s.State)
	if seen := Look(&lies, planes); seen.Proposal.Key == "" || seen.Proposal.Why == "" {
		t.Errorf("no key is proposed: %+v", seen.Proposal)
	}
	if err := s.Do(got.Command(), ""); err != nil {
		t.Fatal(err)
	}
	p, err := picture.Prepare(&s.State)
	if err != nil {
		t.Fatal(err)
	}
	truth := s.State
	truth.Found = [3]session.Found{{Matrix: affine.Identity}, {Matrix: affine.Identity}, {Matrix: affine.Identity}}
	want := picture.Assemble(&truth, p, p.Curves(&truth), before, affine.Identity, 0).Image(render.Reference, 450, 350, nil)
	off := func() float64 {
		img := picture.Assemble(&s.State, p, p.Curves(&s.State), planes, affine.Identity, 0).Image(render.Reference, 450, 350, nil)
		var sum float64
		for y := 40; y < 350; y++ {
			for x := 40; x < 450; x++ {
				d := float64(img.NRGBAAt(x, y).R) - float64(want.NRGBAAt(x, y).R)
				sum += d * d
			}
		}
		return math.Sqrt(sum / 310 / 410)
	}
	without, rest := off(), verdict.RestOf(&s.State, 0)
	if err := s.Do(command.Local{On: true}, ""); err != nil {
		t.Fatal(err)
	}
	with, local := off(), verdict.RestOf(&s.State, 0)
	t.Logf("the red light is off by %.2f of 255 without, %.2f with; register leaves %.2f px and %.2f px; %s", without, with, rest.Median, local.Median, verdict.LocalSays(&s.State, 0))
	if without < 1 || with > 0.75*without || !local.Local || local.Median > 0.6*rest.Median {
		t.Errorf("hardly nearer")
	}
}

// The films that were found with register come with it as those of the three together,
// and measuring one plate again brings none.
func TestCommandBringsTheFilms(t *testing.T) {
	planes := cut(shown())
	state := state(planes)
	got, err := Register(context.Background(), &state, planes, nil)
	if err != nil {
		t.Fatal(err)
	}
	c := got.Command()
	if c.Levels == nil || c.Levels.Neutral.By == "" || c.Levels.Neutral.Chosen {
		t.Fatalf("no films come with register: %+v", c.Levels)
	}
	if c.Levels.Films != got.Levels.Films {
		t.Error("other films come than were found")
	}
	in := got.On(&state)
	got.Seen = Look(&in, planes)
	if got.Blur[0] <= 0 || got.Scale != nil || got.ByScale().Levels.Films != c.Levels.Films {
		t.Errorf("edges spread by %v; of a picture without a scale %+v", got.Blur, got.Scale)
	}
	s := command.NewHistory(state)
	if err := s.Do(c, ""); err != nil || s.Neutral.By != c.Levels.Neutral.By {
		t.Errorf("by %q (%v)", s.Neutral.By, err)
	}
	got, err = Refine(context.Background(), &s.State, planes, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	if c := got.Command(); c.Levels != nil {
		t.Errorf("measuring one plate again brings films: %+v", c.Levels)
	}
}

// A plate laid by hand a little off is measured from there; the other one stays.
func TestRefineKeepsTheOthers(t *testing.T) {
	planes := cut(shown())
	s := command.NewHistory(state(planes))
	if err := s.Do(command.Place{Source: 0, Pose: session.Pose{DX: 14, DY: -9, Turn: 1.5}}, ""); err != nil {
		t.Fatal(err)
	}
	s.Found[2] = session.Found{Matrix: affine.Translate(1, 2), Confidence: 0.8, Words: "as before"}
	got, err := Refine(context.Background(), &s.State, planes, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	x, y := got.Found[0].Matrix.Apply(400, 50)
	if math.Hypot(x-400, y-50) > 0.2 || got.Found[0].Confidence < 0.6 || got.Found[0].ByHand || len(got.Left[0]) == 0 {
		t.Errorf("found at %g, %g: %+v", x, y, got.Found[0])
	}
	if got.Found[2] != s.Found[2] || got.Left[2] != nil {
		t.Errorf("the other plate is touched: %+v", got.Found[2])
	}
	s.Found[0].Matrix = affine.Translate(300, 300)
	if _, err := Refine(context.Background(), &s.State, planes, 0, nil); err == nil {
		t.Error("nothing agrees there, and it is no error")
	}
	if _, err := Refine(context.Background(), &s.State, planes, 1, nil); err == nil {
		t.Error("the key is measured against itself")
	}
	var none [3]warp.Local
	if got.Local[2] != none[2] {
		t.Error("a local register of the plate that was not measured")
	}
}
