package register

import (
	"math"
	"runtime"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/plane"
	"threeply/proof/survey"
)

// TestOpenCells has cells in which nothing was measured yet: those that show detail, lie on the
// plate and have no certain place in them are to be looked into, also where a neighbour's speaks
// for them.
func TestOpenCells(t *testing.T) {
	const w, h = 420, 330
	key := view(drawn(w, h, 8), 1)
	for y := range h { // nothing to see at the right
		for x := w * 2 / 3; x < w; x++ {
			key.Pix[y*w+x] = 12000
		}
	}
	whole := [4]int{0, 0, w, h}
	other := key.Crop(0, 0, w, h*2/3) // and no plate below
	p := &pair{newKeyPlate(newPyramid(key, false, whole)), newPyramid(other, false, [4]int{0, 0, w, h * 2 / 3}), newCrew(1)}
	grid := p.newGrid()
	at := func(across, down float64) int { return grid.At(across*w, down*h) }
	cell := at(0.35, 0.35)
	x, y := grid.Centre(cell)
	side, _ := grid.Sides()
	place := func(cells, score float64) []measured {
		return []measured{{x: x + cells*side, y: y, settled: true, unique: 1, score: score}}
	}
	open := func(places []measured, i int) bool {
		for _, k := range p.openCells(affine.Identity, &grid, places) {
			if k == i {
				return true
			}
		}
		return false
	}
	for name, c := range map[string]struct {
		places []measured
		cell   int
		want   bool
	}{
		"nothing is known of it":           {nil, cell, true},
		"a place lies in it":               {place(0.3, 0.9), cell, false},
		"a place lies hardly beyond it":    {place(0.6, 0.9), cell, false},
		"a place lies in the next one":     {place(1, 0.9), cell, true},
		"the place in it is not certain":   {place(0.3, 0.4), cell, true},
		"there is nothing to see":          {nil, at(0.9, 0.35), false},
		"it does not lie on the plate":     {nil, at(0.35, 0.9), false},
		"it lies at the edge of the plate": {nil, at(0.35, 0.6), true},
	} {
		if got := open(c.places, c.cell); got != c.want {
			t.Errorf("%s: open %v, want %v", name, got, c.want)
		}
	}
}

// TestNearestElsewhere says where a patch is looked for again: where the nearest certain place
// lies that does not lie where the map puts it, none beyond three cells.
func TestNearestElsewhere(t *testing.T) {
	grid := cellsOf100()
	here, near, far, unsure, beyond := placeAt(0.2, 0), placeAt(1, 0), placeAt(-2, 0), placeAt(0.5, 0), placeAt(-5, 0)
	here.dx, far.dx, unsure.unique = 1, 9, 0
	if f, ok := nearestElsewhere(grid, 600, 450, []measured{far, unsure, near, here, beyond}); !ok || f.x != near.x {
		t.Errorf("%v, %v: want the place one cell to the right", f.x, ok)
	}
	if _, ok := nearestElsewhere(grid, 600, 450, []measured{here, unsure, beyond}); ok {
		t.Error("a place that lies where the map puts it, is not certain or is far away is one elsewhere")
	}
}

// TestAtFullSize has a place of a level lie at the same place of the full size, and be the less
// precise for it: by the pixels' size, and by a tenth of a pixel for each more that one spans.
func TestAtFullSize(t *testing.T) {
	f := measured{x: 10, y: 20, dx: 0.5, dy: -1, precision: linear.Symmetric{XX: 100, YY: 25}}
	got := f.atFullSize(2)
	c := got.precision.Inverse()
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	// The middle of pixel 10 of four is that of the pixels 40 to 43.
	if !near(got.x, 41.5) || !near(got.y, 81.5) || !near(got.dx, 2) || !near(got.dy, -4) {
		t.Errorf("at %g, %g off by %g, %g", got.x, got.y, got.dx, got.dy)
	}
	if !near(c.XX, 16*0.01+0.09) || !near(c.YY, 16*0.04+0.09) || !near(c.XY, 0) {
		t.Errorf("variances %g and %g", c.XX, c.YY)
	}
	if same := f.atFullSize(0); same.x != f.x || same.dx != f.dx || !near(same.precision.XX, 100) {
		t.Errorf("at its own size it is another: %+v", same)
	}
}

// TestTheRimTouchesTheEdges has patches along the edges of the picture lie at these, whatever
// the cells are, and none where there is nothing to see.
func TestTheRimTouchesTheEdges(t *testing.T) {
	const w, h = 420, 330
	key := view(drawn(w, h, 8), 1)
	for y := range h {
		for x := range w / 2 { // nothing to see at the left
			key.Pix[y*w+x] = 12000
		}
	}
	p := &pair{newKeyPlate(newPyramid(key, false, [4]int{0, 0, w, h})), newPyramid(key, false, [4]int{0, 0, w, h}), newCrew(runtime.GOMAXPROCS(0))}
	b := &patchSet{key: p.key, level: p.edgeLevel()}
	b.setTransform(smallPatch)
	grid := p.newGrid()
	const inset = 8 // of the area within the plate, at most
	sides := map[string]int{}
	for _, f := range p.rim(b, &grid) {
		switch {
		case f.x+b.tile < w/2:
			t.Errorf("a patch at %d, %d, where there is nothing to see", f.x, f.y)
		case f.y <= inset:
			sides["upper"]++
		case f.y >= h-b.tile-inset:
			sides["lower"]++
		case f.x >= w-b.tile-inset:
			sides["right"]++
		default:
			t.Errorf("a patch at %d, %d touches no edge", f.x, f.y)
		}
	}
	for _, side := range []string{"upper", "lower", "right"} {
		if sides[side] < 5 {
			t.Errorf("%d patches at the %s edge", sides[side], side)
		}
	}
}

// TestAStripOfWhichNothingIsLeft moves strips by about their own depth, so that hardly anything
// of them is left: no place beside speaks for them, and they are told of as lost, wholly, while
// dust on a whole plate is nothing lost.
func TestAStripOfWhichNothingIsLeft(t *testing.T) {
	t.Parallel()
	const w, h = 600, 400
	keys, others, _ := discs()
	other := others[0.5]
	dusty := other.Crop(0, 0, w, h)
	for i := range 30 {
		dust(dusty, 37+i*97%(w-60), 23+i*61%(h-40), 4)
	}
	got := registerAll(t, keys[0.5], wholeNegatives(w, h), square(other, 0, 0, 0.11, 1, 59, 5), square(other, 0, 0, 1, 0.12, -11, 50), dusty)
	for i, name := range []string{"a strip at the left", "a strip at the top"} {
		s := &got[i].Survey
		lost := Lost(s)
		t.Logf("%s: %d cells lost, confidence %.2f%s", name, len(lost), got[i].Confidence, lines(s))
		if len(lost) < 7 {
			t.Errorf("%s: %d cells are told of as lost", name, len(lost))
		}
		for _, c := range lost {
			if i == 0 && c%s.Across > 1 || i == 1 && c/s.Across > 1 {
				t.Errorf("%s: cell %d is told of as lost", name, c)
			}
		}
	}
	if s := &got[2].Survey; Lost(s) != nil || Parted(s) || s.Share(survey.Unmatched) > 0.05 {
		t.Errorf("a plate with dust has lost a part:%s", lines(s))
	}
}

// dust is a dark speck on a plate.
func dust(p *plane.Plane, x, y, radius int) {
	for dy := -radius; dy <= radius; dy++ {
		for dx := -radius; dx <= radius; dx++ {
			if dx*dx+dy*dy <= radius*radius {
				p.Pix[(y+dy)*p.W+x+dx] = 40000
			}
		}
	}
}

// movedQuarterIsNoBend moves a quarter of plates of a photograph that are softer than the part moves
// far: few places lie between, and smoothly, as those of a bent plate do; and where the quarter alone
// shows much, it tilts the map.
func movedQuarterIsNoBend(t *testing.T, all *scene) {
	const w, h, reduce = 700, 500, 2
	mix := [3]float64{0.3, 0.5, 0.2}
	m := about(w, h, affine.Parts{DX: 3.2, DY: -2.1, Turn: 0.2, StretchX: 1.001, StretchY: 1.002})
	for what, c := range map[string]struct {
		x0, y0     int     // of the cut
		x, y       float64 // of the quarter, shares of the sides
		dx, dy     int     // by which it moved
		key, other shot
		seed       uint64
	}{
		"few lie between": {12, 110, 0.5, 0, 3, 4,
			shot{mix: mix, gamma: 0.56, negative: true, blur: 4, noise: 0.017, dust: 9, m: affine.Identity},
			shot{mix: mix, gamma: 0.80, negative: true, blur: 4.56, noise: 0.0134, dust: 6, m: m}, 8},
		"it tilts the map": {912, 78, 0.5, 0.5, -3, -3,
			shot{mix: mix, gamma: 0.714, negative: true, blur: 4, noise: 0.0116, dust: 19, m: affine.Identity},
			shot{mix: mix, gamma: 0.742, blur: 3.41, noise: 0.0132, dust: 8, m: m}, 28},
	} {
		s := &scene{name: all.name, w: w * reduce, h: h * reduce}
		for i := range s.rgb {
			for y := range s.h {
				s.rgb[i] = append(s.rgb[i], all.rgb[i][(c.y0+y)*all.w+c.x0:][:s.w]...)
			}
		}
		p := whole(t, s.shoot(w, h, reduce, c.key, c.seed), square(s.shoot(w, h, reduce, c.other, c.seed+1), c.x, c.y, c.x+0.5, c.y+0.5, c.dx, c.dy), [2]bool{c.key.negative, c.other.negative})
		if rms, _ := errorsOf(p.Matrix, c.other.m, w, h); !Parted(&p.Survey) || rms > 1 {
			t.Errorf("%s: parted %v, the map is off by %.2f px, confidence %.2f:%s", what, Parted(&p.Survey), rms, p.Confidence, lines(&p.Survey))
		}
	}
}

// TestAPatchThatFitsInBothSaysNothing asks of a patch that was found where the map puts it whether it
// lies where those near it do: a plate that moved, one that did not, and a picture that fits in both.
func TestAPatchThatFitsInBothSaysNothing(t *testing.T) {
	const w, h, dx, dy, apart = 200, 160, 6, -6, 0.3
	soft := shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.8, negative: true, blur: 1.5, noise: 0.003, m: affine.Identity}
	moved := soft
	moved.m = affine.Translate(dx, dy)
	s := drawn(w, h, 7)
	squares := plane.New(w, h) // as wide as the part moved
	for i := range squares.Pix {
		x, y := float64(i%w), float64(i/w)
		squares.Pix[i] = uint16(20000 + 6000*(math.Sin(2*math.Pi*x/dx)+math.Sin(2*math.Pi*y/dy)))
	}
	for what, c := range map[string]struct {
		key, other *plane.Plane
		x, y       float64 // where it lies, pixels
		certain    bool
	}{
		"a part moved": {s.shoot(w, h, 1, soft, 1), s.shoot(w, h, 1, moved, 2), dx, dy, true},
		"none moved":   {s.shoot(w, h, 1, soft, 1), s.shoot(w, h, 1, soft, 2), 0, 0, true},
		"it repeats":   {squares, squares, 0, 0, false},
	} {
		p := &pair{keyPlate: &keyPlate{key: newPyramid(c.key, true, [4]int{})}, other: newPyramid(c.other, true, [4]int{})}
		b := &patchSet{key: p.key}
		b.setTransform(smallPatch)
		g, at := newMatcher(b), b.patchAround(w/2, h/2)
		home := g.nudge(p.other, affine.Identity, measured{patch: at, unique: 1})
		home.dx, home.dy, home.settled = 0, 0, true
		f := p.orThere(affine.Identity, g, at, home, dx, dy)
		if sure := certainty(f) >= certainFrom; math.Hypot(f.dx-c.x, f.dy-c.y) > apart || sure != c.certain {
			t.Errorf("%s: at %.2f, %.2f px (score %.2f, by the map %.2f), certain %v, want %g, %g and %v", what, f.dx, f.dy, f.score, home.score, sure, c.x, c.y, c.certain)
		}
	}
}
