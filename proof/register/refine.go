package register

import (
	"context"
	"runtime"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// Refine measures one plate against the key from a place that is known roughly,
// as a person lays it, where the search for any place was led astray. start
// takes the key's pixel to the plate's; a plate that lies within a fortieth of
// the picture, some degrees and a twentieth of its size of it is found. polarity and
// area are those of the key and of the plate, as in Options. Where too few patches agree,
// the confidence is near 0 and the Outcome says so. The error is ctx's.
func Refine(ctx context.Context, key, other *plane.Plane, polarity [2]bool, area [2][4]int, start affine.Matrix, progress func(done float64, what string)) (Plate, error) {
	tell := newTeller(progress).share(1)
	g := &keyPlate{key: newPyramid(key, polarity[0], area[0])}
	o := newPyramid(other, polarity[1], area[1])
	if why, cannot := g.cannot(o); cannot {
		return Plate{Matrix: start, Outcome: why}, ctx.Err()
	}
	g.choosePatches()
	p := &pair{g, o, newCrew(runtime.GOMAXPROCS(0))}
	p.crew.begin()
	c := p.settle(ctx, []hypothesis{{m: start}}, 1)
	if c.vote.confidence < reached {
		tell(0.3)
		if other := p.settle(ctx, g.littleOff(start), 3); other.vote.confidence > c.vote.confidence {
			c = other
		}
	}
	if err := ctx.Err(); err != nil {
		return Plate{Matrix: start}, err
	}
	out := p.finish(ctx, c, tell)
	return out, ctx.Err()
}

// littleOff is a map turned by 4° either way, and of a size 5 % smaller and larger,
// about the middle of the picture, in all ways but as it is.
func (g *keyPlate) littleOff(start affine.Matrix) []hypothesis {
	a := g.key.area
	var out []hypothesis
	for _, turn := range [3]float64{0, -4, 4} {
		for _, size := range [3]float64{1, 0.95, 1.05} {
			if turn != 0 || size != 1 {
				m := affine.Compose(affine.Parts{Turn: turn, StretchX: size, StretchY: size}, (a[0]+a[2])/2, (a[1]+a[3])/2)
				out = append(out, hypothesis{m: start.Mul(m)})
			}
		}
	}
	return out
}
