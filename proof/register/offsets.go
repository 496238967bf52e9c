package register

import (
	"slices"

	"threeply/proof/affine"
)

// offsets turns the patches measured at level l under c.m into offsets of the
// key's full size, and sums up those that agree.
func offsets(patches []found, l int, before, after affine.Matrix, tol float64) ([]Offset, Residual) {
	scale := float64(int(1) << l)
	// A patch said where it lies under the map before; what is left is told
	// from the map after.
	back, ok := after.Inverse()
	if !ok {
		return nil, Residual{}
	}
	var field []Offset
	var agreed []float64
	up := from(l)
	for _, p := range patches {
		x, y := up.Apply(p.x, p.y)
		tx, ty := before.Mul(up).Apply(p.x+p.dx, p.y+p.dy)
		fx, fy := back.Apply(tx, ty)
		o := Offset{X: x, Y: y, DX: fx - x, DY: fy - y, Certainty: certainty(p)}
		o.Outvoted = !p.settled || miss(affine.Identity, found{dx: o.DX / scale, dy: o.DY / scale}) > tol
		if !o.Outvoted {
			agreed = append(agreed, miss(affine.Identity, found{dx: o.DX, dy: o.DY}))
		}
		field = append(field, o)
	}
	if len(agreed) == 0 {
		return field, Residual{}
	}
	slices.Sort(agreed)
	n := len(agreed)
	return field, Residual{Median: agreed[n/2], P95: agreed[min(n*95/100, n-1)], Max: agreed[n-1]}
}

// certainty joins how well a patch fits and how alone that place is.
func certainty(p found) float64 {
	if !p.settled {
		return 0
	}
	return min(max(p.score, 0), 1) * ramp(p.unique, 0, 0.3)
}
