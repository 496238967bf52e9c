// Package register finds, for each of three separation plates, the affine map
// from the pixels of the key plate to its own.
//
// All work rests on the direction of edges, never on tone: the three plates of
// a picture disagree in tone, even with opposite sign, and one may be a
// negative and another a positive.
//
// The whole key, much reduced, is laid on the other plate in many ways (coarse.go,
// turned.go, overview.go). Each way is judged by small patches of the key, which are looked for
// in the other plate one by one (patches.go, matcher.go): a map is fitted to where
// they were found (consensus.go), and how many agree with it is the confidence
// (vote.go). Patches at full resolution, both plates brought to one contrast and softness
// (equal.go), then settle the last tenth of a pixel, tell what moved or is torn, and
// whether the film is bent (further.go, bent.go). Pictures of lines, which fit themselves a
// few pixels further on, have more of it called unknown (ruled.go).
package register

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/survey"
	"threeply/proof/warp"
)

// Options say what is known beforehand. The zero value registers to plate 0.
type Options struct {
	Key      int       // index of the plate that the others are registered to
	Polarity [3]bool   // true for a negative
	Area     [3][4]int // x0, y0, x1, y1 of the picture within its borders; zero if unknown

	// Progress, when set, is told how much is done, 0..1, and what is being
	// done. It is never called twice at a time.
	Progress func(done float64, what string)
	Workers  int // processors that work at a time; 0 for as many as there are

	// Elsewhere, when set, waits for what another program finds of a plate by One; ok is
	// false where none does, or where it failed: then the plate is registered here. It is
	// called for both plates at a time.
	Elsewhere func(plate int) (p Plate, ok bool)
}

func (opt *Options) workers() int {
	if opt.Workers > 0 {
		return opt.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Plate is what was found of one plate.
type Plate struct {
	Matrix     affine.Matrix // key pixel → this plate's pixel
	Confidence float64       // 0..1, from the agreement of independent patches
	Outcome    Outcome       // whether it was found, or why not
	Agreeing   float64       // share of the patches that agree with the map, 0..1
	Residual   warp.Residual // of the places measured with certainty, after the map, the outvoted with them
	Outvoted   float64       // share of those places that lie elsewhere, 0..1
	Field      []Offset      // every patch that was measured
	Survey     survey.Map    // what was measured in each part of the picture, and where not
	Twin       bool          // the same scan, pixel for pixel, as another plate
	Tones      float64       // correlation of its densities with the key's, -1..1; 0 where it is not known
	Alike      bool          // it shows the very tones of another plate: one plate scanned twice, or a scene of greys
}

// Offset is what was measured at one patch: at (X, Y) of the key the plate lies
// (DX, DY) from where the map puts it, in pixels of the key.
type Offset struct {
	X, Y, DX, DY float64
	Certainty    float64 // 0..1
	Error        float64 // standard error, both ways together, pixels of the key
	Outvoted     bool    // too far from what the other patches say
}

// FoundFrom is the confidence below which a plate was not found: its map lays it as
// it was scanned, its centre on the key's.
const FoundFrom = 0.3

// Outcome says whether a plate was found, or why not.
type Outcome string

const (
	IsKey       Outcome = "key"           // the others are registered to it
	Found       Outcome = "found"         // with a confidence of FoundFrom or more
	KeyTooSmall Outcome = "key too small" // the key has a side below SmallestSide
	TooSmall    Outcome = "too small"     // the plate has
	KeyEven     Outcome = "key even"      // the key is one grey, or nearly so
	Even        Outcome = "even"          // the plate is
	Repeats     Outcome = "repeats"       // it fits in more than one place
	Disagrees   Outcome = "disagrees"     // no place was found where it agrees with the key
)

// SmallestSide is the shortest side, in pixels, that can be registered.
const SmallestSide = 24

// Planes registers three density planes (code = density/4 · 65535, of any
// sizes) to planes[opt.Key], whose own result is the identity with confidence
// 1. A plate that cannot be registered is no error: it has a confidence near 0,
// and its Outcome says why. The errors are ctx's, and a missing plane or key.
func Planes(ctx context.Context, planes [3]*plane.Plane, opt Options) ([3]Plate, error) {
	var out [3]Plate
	if opt.Key < 0 || opt.Key > 2 {
		return out, fmt.Errorf("register: key %d is not one of the three plates", opt.Key)
	}
	for i, p := range planes {
		if p == nil {
			return out, fmt.Errorf("register: plate %d is missing", i)
		}
		out[i].Matrix = affine.Identity
	}
	say := newTeller(opt.Progress)
	var pyramids [3]*pyramid
	key := newPyramid(planes[opt.Key], opt.Polarity[opt.Key], opt.Area[opt.Key])
	pyramids[opt.Key] = key
	out[opt.Key].Confidence, out[opt.Key].Outcome = 1, IsKey
	keyed := newKeyPlate(key)
	crew := newCrew(opt.workers())
	var wg sync.WaitGroup
	for i := range planes {
		if i == opt.Key {
			continue
		}
		wg.Go(func() {
			tell := say.share(2)
			if opt.Elsewhere != nil {
				if p, ok := opt.Elsewhere(i); ok {
					pyramids[i], out[i] = newPyramid(planes[i], opt.Polarity[i], opt.Area[i]), p
					tell(1)
					return
				}
			}
			crew.begin()
			defer crew.end()
			if ctx.Err() != nil {
				return
			}
			pyramids[i] = newPyramid(planes[i], opt.Polarity[i], opt.Area[i])
			out[i] = (&pair{keyed, pyramids[i], crew}).register(ctx, tell)
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return out, err
	}
	twins(planes, &out)
	alike(pyramids, &out)
	correlateTones(pyramids, &out, opt.Key)
	return out, nil
}

// One registers a plate to the key, as Planes does with each: what it leaves of what the
// plates are to each other (Twin, Alike, Tones) is told by Planes alone. polarity and area are
// of the key and of the plate, as Options has them. The errors are ctx's.
func One(ctx context.Context, key, plate *plane.Plane, polarity [2]bool, area [2][4]int, tell func(done float64)) (Plate, error) {
	p := &pair{keyPlate: newKeyPlate(newPyramid(key, polarity[0], area[0])), other: newPyramid(plate, polarity[1], area[1])}
	out := p.register(ctx, tell)
	return out, ctx.Err()
}

// register registers the plate to the key.
func (p *pair) register(ctx context.Context, tell func(float64)) Plate {
	if why, cannot := p.cannot(p.other); cannot {
		return Plate{Matrix: p.centres(p.other), Outcome: why}
	}
	c, err := p.coarse(ctx, tell)
	if err != nil {
		return Plate{Matrix: affine.Identity}
	}
	out := p.finish(ctx, c, tell)
	if out.Confidence < FoundFrom { // a place that was guessed is worse than none
		out = Plate{Matrix: p.centres(p.other), Confidence: out.Confidence, Outcome: out.Outcome}
	}
	return out
}

// centres lays a plate as it was scanned, its centre on the key's.
func (g *keyPlate) centres(other *pyramid) affine.Matrix {
	k, o := g.key.levels[0], other.levels[0]
	return affine.Translate(float64(o.W-k.W)/2, float64(o.H-k.H)/2)
}

// cannot says why there is nothing to register by, if so.
func (g *keyPlate) cannot(other *pyramid) (why Outcome, cannot bool) {
	k, o := g.key.levels[0], other.levels[0]
	switch {
	case min(k.W, k.H) < SmallestSide:
		return KeyTooSmall, true
	case min(o.W, o.H) < SmallestSide:
		return TooSmall, true
	case flat(k):
		return KeyEven, true
	case flat(o):
		return Even, true
	}
	return "", false
}

// flat says whether a plate is one grey, or carries no more than noise of 1/256 of
// the range of codes, 0.016 in density.
func flat(p *plane.Plane) bool {
	lo, hi := uint16(math.MaxUint16), uint16(0)
	for _, v := range p.Every(max(p.W*p.H/4096, 1)) {
		lo, hi = min(lo, v), max(hi, v)
	}
	return hi-lo < 256
}

// finish measures a coarse map at full size. Where most of the picture then lies elsewhere
// together, the map was that of a part, or of parts that lie in two places: it begins once
// more from there, unless the picture repeats itself or a person laid the plate.
func (p *pair) finish(ctx context.Context, c candidate, tell func(float64)) Plate {
	out, places := p.measureAll(ctx, c, tell)
	if out.Survey.Outvoted() < 0.5 || c.vote.repeats || p.periods == nil {
		return out
	}
	move, ok := consensus(places, nearby*math.Exp2(float64(p.next.level)), stiffAtFirst)
	if !ok {
		return out
	}
	again := p.unrivalled(ctx, p.step(ctx, candidate{m: out.Matrix.Mul(move)}, newMatcher(p.next), nearby, stiffNext))
	if again.vote.confidence <= c.vote.confidence {
		return out
	}
	out, _ = p.measureAll(ctx, again, tell)
	return out
}

// measureAll measures a coarse map again on patches of the full size, looks further for
// those that were not found, and fits a bent plate as a whole. It returns all places too,
// measured from where the plate's map puts them.
func (p *pair) measureAll(ctx context.Context, c candidate, tell func(float64)) (Plate, []measured) {
	const bentBy = 1.0 / 2000 // of the longer side: how far film that shrank unevenly lies off its map
	tell(0.8)
	v, last, tol := c.vote, p.next, nearby
	fine := newMatcher(last)
	if last.level > 0 && v.confidence > 0 {
		k := p.key.levels[0]
		last = p.last()
		tol = max(nearby, float64(max(k.W, k.H))*bentBy)
		fine = newMatcher(last)
		draft := newMatcher(last)
		draft.exact = bilinear // all that it finds is measured again
		draft.expect(p.other, c.m, last.patches)
		c = p.stepNear(ctx, c, draft, tol, stiffLast)
		tell(0.9)
		c = p.remeasureEqualised(ctx, c, last, tol)
	}
	bent, unbent, unbentTol := false, c, tol
	if v.confidence > 0 {
		tell(0.95)
		c = p.lookBetween(ctx, c, fine)
		c.patches = p.doubtRivals(ctx, fine, c.m, c.patches, tol)
		c = p.lookFurther(ctx, c, fine)
		c.patches = doubtLoners(c.patches, fine, tol)
		unbent, unbentTol = c, tol
		if mayBeBent(c.patches, tol) && !inTwo(c.patches, tol) {
			if two, ok := p.asTwo(c, fine, tol); ok {
				unbent = two
			}
			c, tol, bent = p.fitBent(ctx, c, fine, tol)
			c.patches = doubtLoners(c.patches, fine, tol)
		}
		if p.next.level == 0 && !bent { // small patches, and softer: a tear would look like a bend
			c = p.remeasureEqualised(ctx, c, last, tol)
		}
	}
	out := Plate{Matrix: c.m}
	if v.confidence > 0 {
		out.Survey = p.surveyed(ctx, &c, fine, tol, bent)
		if bent && !Parted(&out.Survey) { // few soft patches: a part that moved looks like a bend
			if s := p.surveyed(ctx, &unbent, fine, unbentTol, false); Parted(&s) {
				out.Survey, c, tol, bent = s, unbent, unbentTol, false
			}
		}
		out.Matrix, out.Outvoted = c.m, out.Survey.Outvoted()
		v = v.afterAllPlaces(&out.Survey)
	}
	out.Field, out.Residual = offsets(c.patches, 0, tol, bent)
	tell(1)
	out.Confidence, out.Agreeing, out.Outcome = v.confidence, v.share, v.outcome()
	return out, c.patches
}
