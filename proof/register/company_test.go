package register

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/survey"
)

// cellsOf100 is a survey of 12 × 9 cells, 100 pixels a side.
func cellsOf100() *survey.Map {
	m := survey.New([4]int{0, 0, 1200, 900}, cellsWanted)
	return &m
}

// placeAt is a certain place amid such a survey, that many cells to the right of its middle,
// that lies six pixels off, and fits by home where the map puts it; of a coarse patch.
func placeAt(cells, home float64) measured {
	x := 600 + 100*cells
	return measured{x: x, y: 450, side: 150, hx: x, hy: 450, dx: 6, settled: true, unique: 1, score: 0.9, home: home}
}

// placeOf is a place like f, that many cells to the right of the middle.
func placeOf(f measured, cells float64) measured {
	f.x, f.hx = 600+100*cells, 600+100*cells
	return f
}

// TestCompany has a place that lies elsewhere beside others: who counts as one that saw the same?
func TestCompany(t *testing.T) {
	const tol, plain, hardly = 1.5, 0.1, 0.7 // pixels; of how well it fits at home
	off := placeAt(1, plain)
	off.dx = 8
	faint, unsettled := placeAt(1, plain), placeAt(1, plain)
	faint.score, unsettled.settled = 0.25, false
	fine := placeAt(0.6, plain)
	fine.side = 48
	better := placeAt(1, 0.95) // where the map puts it
	lost := placeAt(1, plain)
	lost.unique = 0 // it fits elsewhere as well
	for name, c := range map[string]struct {
		f      measured
		others []measured
		want   bool
	}{
		"nobody":                               {placeAt(0, plain), nil, false},
		"one that shows what lies beside it":   {placeAt(0, plain), []measured{placeAt(1, plain)}, true},
		"one that overlaps it":                 {placeAt(0, plain), []measured{placeAt(0.6, plain)}, false},
		"one that it overlaps":                 {placeAt(0, plain), []measured{fine}, false},
		"one as fine that lies beside it":      {fine, []measured{placeOf(fine, 0)}, true},
		"one that nearly fits at home":         {placeAt(0, plain), []measured{placeAt(1, hardly)}, false},
		"one, and it nearly fits at home":      {placeAt(0, hardly), []measured{placeAt(1, plain)}, false},
		"one that fits in many places":         {placeAt(0, plain), []measured{lost}, false},
		"two, all nearly fit at home":          {placeAt(0, hardly), []measured{placeAt(1, hardly), placeAt(-1, hardly)}, true},
		"two that show the same speck":         {placeAt(0, hardly), []measured{placeAt(1, hardly), placeAt(1.2, hardly)}, false},
		"two that show the speck that it does": {placeAt(0, plain), []measured{placeAt(0.2, plain), placeAt(-0.2, plain)}, false},
		"two that are too far away":            {placeAt(0, plain), []measured{placeAt(2.5, plain), placeAt(-2.5, plain)}, false},
		"one that lies elsewhere":              {placeAt(0, plain), []measured{off}, false},
		"one that hardly fits":                 {placeAt(0, plain), []measured{faint}, false},
		"one that was not settled":             {placeAt(0, plain), []measured{unsettled}, false},
		"one that fits better at home":         {placeAt(0, plain), []measured{better}, false},
	} {
		if got := c.f.hasCompanions(append(c.others, c.f), cellsOf100(), tol); got != c.want {
			t.Errorf("%s: company %v, want %v", name, got, c.want)
		}
	}
}

// TestEchoes has three places far between lie off by the same, as those of a strip that shows
// little do.
func TestEchoes(t *testing.T) {
	const home = 0.7
	near := placeAt(-4, home)
	near.dx += 0.4
	off := placeAt(-4, home)
	off.dx += 1
	unsure := placeAt(-4, home)
	unsure.unique = 0
	for name, c := range map[string]struct {
		others []measured
		want   bool
	}{
		"one":                             {[]measured{placeAt(3, home)}, false},
		"two":                             {[]measured{placeAt(3, home), near}, true},
		"one, and one by a pixel more":    {[]measured{placeAt(3, home), off}, false},
		"one, and one that is not sure":   {[]measured{placeAt(3, home), unsure}, false},
		"one twice":                       {[]measured{placeAt(3, home), placeAt(3.2, home)}, false},
		"one, and one across the picture": {[]measured{placeAt(3, home), placeAt(-6.5, home)}, false},
	} {
		f := placeAt(0, home)
		if got := f.hasEchoes(append(c.others, f), cellsOf100()); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestNeighboursVouch has a blurred place, which fits in several, lie beside others that lie off
// by the same: three of them leave no doubt where it lies.
func TestNeighboursVouch(t *testing.T) {
	blurred := func(cells, home float64) measured {
		f := placeAt(cells, home)
		f.unique = 0.05
		return f
	}
	ruled, here := blurred(0, 0.3), blurred(0, 0.3)
	ruled.rival, here.dx = equalRival, 0.5
	three := []measured{blurred(-1, 0.3), blurred(1, 0.3), blurred(2, 0.3)}
	for name, c := range map[string]struct {
		f      measured
		others []measured
		want   bool
	}{
		"three do":                        {blurred(0, 0.3), three, true},
		"two do":                          {blurred(0, 0.3), three[:2], false},
		"it fits at home about as well":   {blurred(0, 0.85), three, false},
		"of lines, an equal one":          {ruled, three, false},
		"it lies where the map puts it":   {here, three, false},
		"three of which two overlap":      {blurred(0, 0.3), append([]measured{blurred(1.1, 0.3)}, three[:2]...), false},
		"three that fit better elsewhere": {blurred(0, 0.3), []measured{blurred(-1, 0.95), blurred(1, 0.95), blurred(2, 0.95)}, false},
	} {
		if got := certainty(vouched(append([]measured{c.f}, c.others...), cellsOf100(), 1.5)[0]) >= certainFrom; got != c.want {
			t.Errorf("%s: sure %v, want %v", name, got, c.want)
		}
	}
}

// TestWitnesses has places that neighbours vouch for beside those that are certain by themselves:
// one of these, or two that show the same speck, is no evidence of a part that moved.
func TestWitnesses(t *testing.T) {
	const plain = 0.1
	vouched := func(cells float64) measured {
		f := placeAt(cells, plain)
		f.unique, f.vouched = 0, true
		return f
	}
	far := placeAt(1, plain)
	far.dx = 10
	for name, c := range map[string]struct {
		all  []measured
		want bool
	}{
		"nobody vouches":               {[]measured{placeAt(0, plain)}, true},
		"all are vouched for":          {[]measured{vouched(0), vouched(1), vouched(2)}, false},
		"one is certain":               {[]measured{placeAt(0, plain), vouched(1), vouched(2)}, false},
		"two that show the same speck": {[]measured{placeAt(0, plain), placeAt(0.2, plain), vouched(1)}, false},
		"two are certain":              {[]measured{placeAt(0, plain), placeAt(1, plain), vouched(2)}, true},
		"the other lies elsewhere":     {[]measured{placeAt(0, plain), far, vouched(2)}, false},
	} {
		for _, f := range c.all {
			if f.dx == 6 && f.hasWitnesses(c.all, cellsOf100()) != c.want {
				t.Errorf("%s: witnesses %v, want %v", name, !c.want, c.want)
			}
		}
	}
}

// TestOneSpeckIsOneWitness has patches of noise, fine and coarse, see one speck of dust of their plates
// in as many corners: all know that they show the same, though little of each is the speck.
func TestOneSpeckIsOneWitness(t *testing.T) {
	const w, h, x, y, dx, dy, radius, near = 300, 260, 143, 120, 8, 17, 3.2, 3.5
	rnd := rand.New(rand.NewPCG(8, 17))
	speck := func(at, down int) *pyramid {
		p := plane.New(w, h)
		for i := range p.Pix {
			p.Pix[i] = uint16(15000 + 800*rnd.NormFloat64())
			if math.Hypot(float64(i%w-at), float64(i/w-down)) < radius {
				p.Pix[i] = 40000
			}
		}
		return newPyramid(p, true, [4]int{})
	}
	p := &pair{keyPlate: newKeyPlate(speck(x, y)), other: speck(x+dx, y+dy)}
	strays := 0.0
	for level, side := range [2]float64{19, 38} { // pixels of the full size that the speck lies off the middle
		b := &patchSet{key: p.key, level: level}
		b.setTransform(smallPatch)
		g := newMatcher(b)
		size := math.Exp2(float64(level))
		var places []measured
		for _, off := range [4][2]float64{{-side, -side}, {side, -side}, {-side, side}, {side, side}} {
			f := g.nudge(p.other, affine.Identity, measured{patch: b.patchAround(x+off[0], y+off[1]), dx: dx / size, dy: dy / size})
			places = append(places, f)
		}
		for _, f := range p.withHearts(g, affine.Identity, places) {
			hx, hy := affine.FromLevel(level).Apply(f.patch.heart())
			strays = max(strays, math.Hypot(hx-x, hy-y))
			f = f.atFullSize(level)
			if !f.settled || math.Hypot(f.hx-x, f.hy-y) > near {
				t.Errorf("level %d: a patch at %d, %d shows the speck at %d, %d around %.1f, %.1f", level, f.patch.x, f.patch.y, x, y, f.hx, f.hy)
			}
		}
	}
	if strays < 2*near {
		t.Errorf("the patches themselves lie no more than %.1f px about the speck: nothing is asked", strays)
	}
}
