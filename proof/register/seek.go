package register

import (
	"context"
	"errors"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/plane"
)

// way is how a patch is looked for where a map puts it.
type way int

const (
	bySearch         way = iota // find
	bySearchAndNudge            // measureAround
	byNudge                     // nudge, from where it was found before
	byConfirming                // confirm, and bySearch where that fails
	byConfirmingAnew            // confirm, and bySearchAndNudge where that fails
)

// lookFor looks for the patch of a place that was found before, or may be found, in one of the ways.
func (p *pair) lookFor(g *matcher, m affine.Matrix, how way, from measured) (f measured, ok bool) {
	if how == byConfirming || how == byConfirmingAnew {
		if f, ok = g.confirm(p.other, m, from.patch); ok {
			return f, true
		}
	}
	switch how {
	case byNudge:
		return g.nudge(p.other, m, from), true
	case bySearchAndNudge, byConfirmingAnew:
		return p.measureAround(m, g, from.patch, 0, 0), true
	}
	return g.find(p.other, m, from.patch)
}

// seek looks for the patches of some places by one map: by all processors of this program that are
// free, and by another program that has the same plates, which finds the same to the last digit. It
// returns what was found of each; ok is as lookFor has it, false for what ctx kept from being looked for.
func (p *pair) seek(ctx context.Context, g *matcher, m affine.Matrix, how way, from []measured) (found []measured, ok []bool) {
	found, ok = make([]measured, len(from)), make([]bool, len(from))
	here := func(first, last int) {
		p.crew.each(g, last-first, func(g *matcher, i int) {
			if i += first; ctx.Err() == nil {
				found[i], ok[i] = p.lookFor(g, m, how, from[i])
			}
		})
	}
	if p.beside != nil && len(from) >= 2*fewestSent {
		half := len(from) / 2
		if answer := p.beside(p.errand(g, m, how, from[half:])); answer != nil {
			here(0, half)
			if !readAnswer(answer(), how, from[half:], found[half:], ok[half:]) {
				here(half, len(from))
			}
			return found, ok
		}
	}
	here(0, len(from))
	return found, ok
}

// seekSome looks for those places whose indices are told, and puts in their stead what take makes of
// each and of what was found of it.
func (p *pair) seekSome(ctx context.Context, g *matcher, m affine.Matrix, how way, places []measured, at []int, take func(f, found measured) measured) {
	from := make([]measured, len(at))
	for k, i := range at {
		from[k] = places[i]
	}
	found, ok := p.seek(ctx, g, m, how, from)
	for k, i := range at {
		if ok[k] {
			places[i] = take(places[i], found[k])
		}
	}
}

// unsought are the places of patches that were not looked for yet.
func unsought(patches []*patch) []measured {
	places := make([]measured, len(patches))
	for i, t := range patches {
		places[i].patch = t
	}
	return places
}

// which are the indices of some places.
func which(places []measured, wanted func(measured) bool) (at []int) {
	for i, f := range places {
		if wanted(f) {
			at = append(at, i)
		}
	}
	return at
}

func isSettled(f measured) bool { return f.settled }

func whereSettled(f, found measured) measured {
	if found.settled {
		return found
	}
	return f
}

// Beside has another program that has the same two plates look for patches meanwhile: an errand of
// plain numbers, for its Helper. It gives what waits for the answer, which is nil where none comes; or
// nil where nobody is free.
type Beside func(errand []float64) (answer func() []float64)

// fewestSent is how many patches an errand is worth: fewer are looked for sooner than it goes there and back.
const fewestSent = 12

// What an errand says before its patches, of which each is so many numbers, and what an answer says of each.
const (
	errandHead   = 16
	errandOfEach = 5
	answerToEach = 13
)

// errand is what another program is asked to look for, in numbers.
func (p *pair) errand(g *matcher, m affine.Matrix, how way, from []measured) []float64 {
	key, other := g.key.lighting, p.other.lighting
	out := []float64{float64(how), float64(g.level), float64(g.f.n), float64(g.tile), g.least, one(g.draft), key.contrast, key.variance, other.contrast, other.variance}
	out = append(out, m[:]...)
	for _, f := range from {
		out = append(out, float64(f.patch.x), float64(f.patch.y), f.patch.sharp, f.dx, f.dy)
	}
	return out
}

// readAnswer reads what was found of patches that were sent; false where it is none.
func readAnswer(answer []float64, how way, from, found []measured, ok []bool) bool {
	if len(answer) != answerToEach*len(from) {
		return false
	}
	for i, f := range from {
		v := answer[answerToEach*i:]
		ok[i] = v[0] != 0
		if how != byNudge { // which leaves the rest as it was
			f = measured{x: v[3], y: v[4], home: v[11], unique: v[12], patch: f.patch, sharp: f.patch.sharp}
			if v[1] == 0 {
				f.patch, f.sharp = nil, 0
			}
		}
		f.settled = v[2] != 0
		f.dx, f.dy, f.score = v[5], v[6], v[10]
		f.precision = linear.Symmetric{XX: v[7], XY: v[8], YY: v[9]}
		found[i] = f
	}
	return true
}

// Helper looks for patches of a key in another plate for a program that registers the two. It is not
// to be used by several goroutines.
type Helper struct {
	key, other *pyramid
	sets       []*patchSet // with the patches that were looked for, and what is known of them
}

// NewHelper takes the key and the other plate, as One does.
func NewHelper(key, plate *plane.Plane, polarity [2]bool, area [2][4]int) *Helper {
	return &Helper{key: newPyramid(key, polarity[0], area[0]), other: newPyramid(plate, polarity[1], area[1])}
}

// Do does an errand. Its error is that of numbers that are none.
func (h *Helper) Do(errand []float64) (answer []float64, err error) {
	if len(errand) < errandHead || (len(errand)-errandHead)%errandOfEach != 0 {
		return nil, errors.New("register: these numbers are no errand")
	}
	p := &pair{keyPlate: &keyPlate{key: h.key.seenIn(lighting{errand[6], errand[7]})}, other: h.other.seenIn(lighting{errand[8], errand[9]})}
	g := newMatcher(h.set(p.key, int(errand[1]), int(errand[2]), int(errand[3])))
	g.least, g.draft = errand[4], errand[5] != 0
	m, how, each := affine.Matrix(errand[10:errandHead]), way(errand[0]), errand[errandHead:]
	var from []measured
	var patches []*patch
	for ; len(each) > 0; each = each[errandOfEach:] {
		t := g.patchAt(int(each[0]), int(each[1]), each[2])
		patches = append(patches, t)
		half := float64(g.tile-1) / 2
		from = append(from, measured{patch: t, x: float64(t.x) + half, y: float64(t.y) + half, dx: each[3], dy: each[4]})
	}
	g.expect(p.other, m, patches)
	for _, f := range from {
		f, ok := p.lookFor(g, m, how, f)
		c := f.precision
		answer = append(answer, one(ok), one(f.patch != nil), one(f.settled), f.x, f.y, f.dx, f.dy, c.XX, c.XY, c.YY, f.score, f.home, f.unique)
	}
	return answer, nil
}

// set is the helper's set of patches of a view of the key, for transforms of n pixels and patches of a side.
func (h *Helper) set(key *pyramid, level, n, side int) *patchSet {
	at := slices.IndexFunc(h.sets, func(b *patchSet) bool {
		return b.key.lighting == key.lighting && b.level == level && b.f.n == n && b.tile == side
	})
	if at >= 0 {
		return h.sets[at]
	}
	b := &patchSet{key: key, level: level}
	b.setTransform(n)
	b.setTile(side)
	h.sets = append(h.sets, b)
	return b
}

// patchAt is the set's patch at a pixel.
func (b *patchSet) patchAt(x, y int, sharp float64) *patch {
	for _, t := range b.patches {
		if t.x == x && t.y == y {
			return t
		}
	}
	t := &patch{x: x, y: y, sharp: sharp}
	b.patches = append(b.patches, t)
	return t
}

func one(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
