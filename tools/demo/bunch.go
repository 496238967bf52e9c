package main

import (
	"cmp"
	"slices"
)

// bunch is many ellipsoids taken as one thing; Part says which, in the order
// that they were given. It is a tree of spheres: a branch holds two bunches, a
// leaf a few ellipsoids.
type bunch struct {
	centre vec
	radius float64
	halves [2]*bunch // nil at a leaf
	eggs   []numbered
}

type numbered struct {
	*egg
	part int
}

func bunchOf(eggs []*egg) *bunch {
	all := make([]numbered, len(eggs))
	for i, e := range eggs {
		all[i] = numbered{e, i}
	}
	return grow(all)
}

func grow(eggs []numbered) *bunch {
	lo, hi := eggs[0].O, eggs[0].O
	for _, e := range eggs {
		lo = vec{min(lo.X, e.O.X), min(lo.Y, e.O.Y), min(lo.Z, e.O.Z)}
		hi = vec{max(hi.X, e.O.X), max(hi.Y, e.O.Y), max(hi.Z, e.O.Z)}
	}
	b := &bunch{centre: lo.add(hi).mul(0.5)}
	for _, e := range eggs {
		c, r := e.bound()
		b.radius = max(b.radius, c.sub(b.centre).len()+r)
	}
	if len(eggs) <= 3 {
		b.eggs = eggs
		return b
	}
	size := hi.sub(lo)
	key := func(e numbered) float64 {
		switch max(size.X, size.Y, size.Z) {
		case size.X:
			return e.O.X
		case size.Y:
			return e.O.Y
		}
		return e.O.Z
	}
	slices.SortStableFunc(eggs, func(a, b numbered) int { return cmp.Compare(key(a), key(b)) })
	b.halves = [2]*bunch{grow(eggs[:len(eggs)/2]), grow(eggs[len(eggs)/2:])}
	return b
}

func (b *bunch) bound() (vec, float64) { return b.centre, b.radius }

func (b *bunch) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	found := false
	if b.halves[0] == nil {
		for _, e := range b.eggs {
			if e.intersect(o, d, t0, t1, h) {
				t1, found = h.T, true
				h.Part = e.part
			}
		}
		return found
	}
	for _, half := range b.halves {
		v := half.centre.sub(o)
		along := v.dot(d)
		if v.dot(v)-along*along < half.radius*half.radius && half.intersect(o, d, t0, t1, h) {
			t1, found = h.T, true
		}
	}
	return found
}
