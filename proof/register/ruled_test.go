package register

import (
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/survey"
)

// TestRuledPictures holds that a picture drawn in lines is known as such, and a scene is not;
// that a part of it which moved is told of, and the whole picture not called parted;
// and that where it was not found its range is as wide as it was looked for.
func TestRuledPictures(t *testing.T) {
	t.Parallel()
	const w, h = 420, 330
	plain := drawn(w, h, 8)
	lined := (&heldOut{rnd: rand.New(rand.NewPCG(2, 8))}).ruled(plain)
	key := view(lined, 1)
	if newKeyPlate(newPyramid(view(plain, 1), false, [4]int{})).ruled() {
		t.Error("a scene is taken for lines")
	}
	if !newKeyPlate(newPyramid(key, false, [4]int{})).ruled() {
		t.Error("lines are not known as such")
	}
	other := view(lined, 2)
	still := whole(t, key, other, [2]bool{})
	moved := whole(t, key, square(other, 0.62, 0.55, 1, 1, 2, -14), [2]bool{})
	byLines := whole(t, key, square(other, 0.84, 0, 1, 1, 0, -7), [2]bool{}) // nearly whole ones
	for name, p := range map[string]*Plate{"whole": &still, "with a part that moved": &moved, "with a strip that moved by nearly whole lines": &byLines} {
		said := Parted(&p.Survey)
		t.Logf("%s: said %v, confidence %.2f:%s", name, said, p.Confidence, lines(&p.Survey))
		if said != (p != &still) {
			t.Errorf("%s: said %v, confidence %.2f", name, said, p.Confidence)
		}
		for i, within := range p.Survey.Within {
			if p.Survey.Cells[i] == survey.Unmatched && within < 8 {
				t.Errorf("%s: cell %d, in which lines were not found, is said to lie within %.2f px", name, i, within)
			}
		}
	}
	if rms, _ := errorsOf(moved.Matrix, affine.Identity, w, h); rms > 0.1 {
		t.Errorf("the map is off by %.2f px", rms)
	}
}

// TestEqualsGoByTheirNeighbours has a place of a ruled picture that fits about as well elsewhere
// lie among others that tell where they lie.
func TestEqualsGoByTheirNeighbours(t *testing.T) {
	grid := survey.New([4]int{0, 0, 800, 600}, 48)
	place := func(x float64, r rival) measured {
		return measured{x: x, y: 300, settled: true, score: 0.9, unique: 1, rival: r}
	}
	for name, c := range map[string]struct {
		around [4]rival // from the nearest on
		sure   bool
	}{
		"all lie where they are expected": {[4]rival{}, true},
		"one is better off elsewhere":     {[4]rival{betterRival}, true},
		"most are better off elsewhere":   {[4]rival{betterRival, noRival, betterRival}, false},
		"those further off are":           {[4]rival{noRival, noRival, betterRival, betterRival}, true},
		"equal ones tell nothing":         {[4]rival{equalRival, betterRival, betterRival}, false},
	} {
		places := []measured{place(400, equalRival)}
		for k, r := range c.around {
			places = append(places, place(420+20*float64(k), r))
		}
		if got := certainty(doubtEquals(places, &grid)[0]) >= certainFrom; got != c.sure {
			t.Errorf("%s: sure %v, want %v", name, got, c.sure)
		}
	}
}

// TestElected has patches of a ruled picture that fit about as well many lines apart: where enough of
// them fit best by one shift that is told, and not where they are few, scatter, or fit as well where the
// map puts them.
func TestElected(t *testing.T) {
	grid := survey.New([4]int{0, 0, 1000, 800}, 80)
	scattered := [8][2]float64{{8, 8}, {-8, 8}, {9, -9}, {16, 0}, {0, 16}, {-17, 8}, {24, 1}, {-9, -24}}
	for name, c := range map[string]struct {
		agree, others int
		score         float64
		want          int
	}{
		"most agree":                  {7, 5, 0.97, 7},
		"few agree":                   {4, 2, 0.97, 0},
		"they scatter":                {5, 11, 0.97, 0},
		"they fit as well by the map": {7, 5, 0.94, 0},
		"all of them agree":           {6, 0, 0.97, 6},
		"they fit badly":              {7, 0, 0.5, 0},
	} {
		var all []searched
		var places []measured // of the same patches, found where the map puts them
		for i := range c.agree + c.others {
			f := measured{x: 300 + 60*float64(i%4), y: 300 + 60*float64(i/4), dx: 1, dy: -9, score: c.score, home: min(0.94, c.score), settled: true}
			if f.hx, f.hy = f.x, f.y; i >= c.agree {
				k := i - c.agree
				f.dx, f.dy = scattered[k%8][0]*float64(1+k/8), scattered[k%8][1]*float64(1+k/8)
			}
			all = append(all, searched{measured: f, patchSet: &patchSet{}})
			home := measured{x: f.x, y: f.y, hx: f.x, hy: f.y, score: f.home, unique: 1, settled: true, rival: equalRival}
			if f.score > f.home && f.score > 0.6 {
				home.rather = &f
			}
			places = append(places, home)
		}
		got := elected(all, &grid, 2)
		if len(got) != c.want {
			t.Errorf("%s: %d are elected, want %d", name, len(got), c.want)
		}
		for _, f := range got {
			if certainty(f) < certainFrom || !f.hasWitnesses([]measured{f}, &grid) || f.dy != -9 {
				t.Errorf("%s: it is not believed: %+v", name, f)
			}
		}
		lie, elsewhere := withElected(places[1:], places[:1], &grid), 0
		for _, f := range lie {
			if f.elected {
				elsewhere++
			}
		}
		if elsewhere != c.want || len(lie) != len(places)-1+min(c.want, 1) {
			t.Errorf("%s: of %d places %d lie elsewhere, want %d of %d", name, len(lie), elsewhere, c.want, len(places)-1)
		}
	}
}

// TestWhatBreaksOff has a corner of a survey lie off in several ways.
func TestWhatBreaksOff(t *testing.T) {
	for name, c := range map[string]struct {
		off  func(x, y int) float64 // by column and row, of 8 × 6
		want bool
	}{
		"a part that moved":                {func(x, y int) float64 { return 4 * step(x >= 5 && y >= 3) }, true},
		"a part that moved, the rest bent": {func(x, y int) float64 { return 0.1*float64(x) + 4*step(x >= 5 && y >= 3) }, true},
		"a bend":                           {func(x, y int) float64 { return 0.1 * float64(x*x) }, false},
		"a bend that is steep at the end":  {func(x, y int) float64 { return 0.4 * float64(max(x-3, 0)) * float64(max(x-3, 0)) }, false},
		"all of it":                        {func(int, int) float64 { return 4 }, true},
		"a large part that moved, scattered": {func(x, y int) float64 {
			return (4 - 0.5*float64((x+y)%3)) * step(x >= 4 && y >= 3)
		}, true},
		"so, and the rest is not still": {func(x, y int) float64 {
			if x >= 4 && y >= 3 {
				return 4 - 0.5*float64((x+y)%3)
			}
			return (1 - 2*float64((x+y)%2)) * step(x < 2)
		}, false},
	} {
		m := survey.New([4]int{0, 0, 800, 600}, 48)
		cells := []byte(m.Cells)
		for i := range cells {
			m.DX[i], cells[i] = c.off(i%m.Across, i/m.Across), survey.Measured
			if m.DX[i] > apart {
				cells[i] = survey.Elsewhere
			}
		}
		m.Cells = string(cells)
		parts := partsOf(&m, survey.Elsewhere)
		if len(parts) != 1 {
			t.Fatalf("%s: %d parts", name, len(parts))
		}
		if got := breaksOff(&m, parts[0]); got != c.want {
			t.Errorf("%s: breaks off %v, want %v", name, got, c.want)
		}
	}
}

func step(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
