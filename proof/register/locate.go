package register

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// Place is a position in a plate and how far to believe it, 0..1.
type Place struct{ X, Y, Certainty float64 }

// cutRadius is half the side of what LookAround cuts out of the key, in pixels. A
// feature is found when m puts it within about 60 pixels of where it lies: the search
// at the coarsest level reaches 8 pixels of 8.
const cutRadius = 256

// Around is what a feature is looked for in: the parts of two plates about it,
// small enough to be handed to another program.
type Around struct {
	Key, Other *plane.Plane
	Polarity   [2]bool       // of the key and of the plate, true for a negative
	Map        affine.Matrix // pixel of the key's part → pixel of the other part, roughly
	X, Y       float64       // the feature, in the key's part
	OX, OY     float64       // where the other part begins in its plate
}

// LookAround cuts out what Find looks at: what the key shows around its pixel
// (x, y), and where another plate, of which m is known roughly, should show it.
// Polarity is that of the key and of the plate, true for a negative. ok is false
// where the feature lies off either plate.
func LookAround(key, other *plane.Plane, polarity [2]bool, m affine.Matrix, x, y float64) (a Around, ok bool) {
	if !(x >= 0 && y >= 0 && x < float64(key.W) && y < float64(key.H)) {
		return a, false
	}
	px, py := m.Apply(x, y)
	if !(px >= 0 && py >= 0 && px < float64(other.W) && py < float64(other.H)) {
		return a, false
	}
	k, kx, ky := cutAround(key, x, y, cutRadius)
	o, ox, oy := cutAround(other, px, py, int(float64(cutRadius)*1.5*math.Sqrt(math.Abs(m.Det())))+1)
	return Around{
		Key: k, Other: o, Polarity: polarity, X: x - kx, Y: y - ky, OX: ox, OY: oy,
		Map: affine.Translate(-ox, -oy).Mul(m).Mul(affine.Translate(kx, ky)),
	}, true
}

// Find returns where the other plate shows the feature, in pixels of the whole
// plate; ok is false where neither plate shows enough there, or where no place
// fits.
func (a Around) Find() (at Place, ok bool) {
	local := a.Map
	ks, os := newPyramid(a.Key, a.Polarity[0], [4]int{}), newPyramid(a.Other, a.Polarity[1], [4]int{})
	ks.area, os.area = wholeArea(a.Key), wholeArea(a.Other)
	var f measured
	unique := 0.0 // of the place on the coarser plane
	for _, l := range [3]int{3, 1, 0} {
		b := &patchSet{key: ks, level: l}
		b.setTransform(64)
		p := ks.levels[min(l, len(ks.levels)-1)]
		if l >= len(ks.levels) || min(p.W, p.H) < b.tile {
			continue
		}
		cx, cy := affine.ToLevel(l).Apply(a.X, a.Y)
		half := float64(b.tile-1) / 2
		t := &patch{
			x: min(max(int(math.Round(cx-half)), 0), p.W-b.tile),
			y: min(max(int(math.Round(cy-half)), 0), p.H-b.tile),
		}
		g := newMatcher(b)
		g.least = 0.3
		if f, ok = g.find(os, local, t); !ok || !f.settled {
			return at, false
		}
		if again := g.nudge(os, local, f); again.settled {
			f = again
		}
		// A soft edge resembles itself as far as the search on this plane reaches. Where the
		// feature lies where the coarser plane said, it is as unique as it was there.
		if math.Hypot(f.dx, f.dy) <= nearby {
			f.unique = max(f.unique, unique)
		}
		unique = f.unique
		local = local.Mul(affine.FromLevel(l)).Mul(affine.Translate(f.dx, f.dy)).Mul(affine.ToLevel(l))
	}
	if f.patch == nil {
		return at, false
	}
	at.X, at.Y = local.Apply(a.X, a.Y)
	at.X, at.Y = at.X+a.OX, at.Y+a.OY
	at.Certainty = certainty(f)
	return at, at.Certainty > 0.05
}

// cutAround cuts the part of p within half pixels of (x, y), moved inwards at the
// edges, and says where its first pixel lies.
func cutAround(p *plane.Plane, x, y float64, half int) (part *plane.Plane, x0, y0 float64) {
	w, h := min(2*half+1, p.W), min(2*half+1, p.H)
	ax := min(max(int(math.Round(x))-half, 0), p.W-w)
	ay := min(max(int(math.Round(y))-half, 0), p.H-h)
	return p.Crop(ax, ay, w, h), float64(ax), float64(ay)
}

func wholeArea(p *plane.Plane) [4]float64 {
	return [4]float64{0, 0, float64(p.W - 1), float64(p.H - 1)}
}
