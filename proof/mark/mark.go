// Package mark turns points that a person pins on the same feature of two
// plates into a map between them.
//
// Positions are pixels of the full size, centres at whole numbers. Maps take
// the key's pixel to the plate's, as everywhere.
package mark

import (
	"errors"
	"math"

	"threeply/proof/affine"
	"threeply/proof/linear"
)

// Mark is one feature pinned in the key and in a plate.
type Mark struct {
	KeyX, KeyY float64
	X, Y       float64 // of the plate
	Weight     float64 // relative to the other marks; 0 counts as 1
}

func (m Mark) weight() float64 {
	if m.Weight == 0 {
		return 1
	}
	return m.Weight
}

// Kind is how much freedom the marks leave the map.
type Kind string

const (
	Shift      Kind = "shift"      // one mark
	Similarity Kind = "similarity" // two: shift, turn and one stretch
	Affine     Kind = "affine"     // three and more
)

// Fit is the map that the marks give.
type Fit struct {
	Kind     Kind
	Matrix   affine.Matrix
	Residual []float64 // of each mark, pixels of the plate
}

// ErrNone says that there are no marks.
var ErrNone = errors.New("no mark is set; pin the same feature in the key and in the plate")

// ErrPlace says that the marks do not fix the map.
var ErrPlace = errors.New("the marks lie on one point or one line; pin one more, away from the others")

// Solve gives the map of marks by least squares. The shift of one mark and the
// similarity of two keep the linear part, or the mirroring, of start, which is
// the map so far. Marks on one point or on a line give ErrPlace.
func Solve(marks []Mark, start affine.Matrix) (Fit, error) {
	var f Fit
	var err error
	switch len(marks) {
	case 0:
		return f, ErrNone
	case 1:
		f.Kind = Shift
		x, y := start.Apply(marks[0].KeyX, marks[0].KeyY)
		f.Matrix = affine.Translate(marks[0].X-x, marks[0].Y-y).Mul(start)
	case 2:
		f.Kind = Similarity
		f.Matrix, err = similarity(marks[0], marks[1], start.Det() < 0)
	default:
		f.Kind = Affine
		f.Matrix, err = least(marks)
	}
	if err != nil {
		return Fit{}, err
	}
	for _, m := range marks {
		x, y := f.Matrix.Apply(m.KeyX, m.KeyY)
		f.Residual = append(f.Residual, math.Hypot(x-m.X, y-m.Y))
	}
	return f, nil
}

// Blend mixes the marks with a map that is known otherwise: start, of a key of
// w × h pixels, stands for nine marks spread over the picture, which together
// weigh (1-share)/share as much as all the marks. share lies above 0 and below
// 1; the residuals are those of the marks alone.
func Blend(marks []Mark, start affine.Matrix, w, h int, share float64) (Fit, error) {
	if len(marks) == 0 {
		return Fit{}, ErrNone
	}
	sum := 0.0
	for _, m := range marks {
		sum += m.weight()
	}
	all := append([]Mark(nil), marks...)
	for j := range 3 {
		for i := range 3 {
			kx, ky := float64(w-1)*float64(i)/2, float64(h-1)*float64(j)/2
			x, y := start.Apply(kx, ky)
			all = append(all, Mark{kx, ky, x, y, sum * (1 - share) / share / 9})
		}
	}
	f, err := Solve(all, start)
	if err == nil {
		f.Residual = f.Residual[:len(marks)]
	}
	return f, err
}

// similarity takes the vector between two marks of the key to that between
// them in the plate: as complex numbers, a = plate/key, or plate/conj(key)
// where the plate is mirrored.
func similarity(p, q Mark, mirrored bool) (affine.Matrix, error) {
	key, other := complex(q.KeyX-p.KeyX, q.KeyY-p.KeyY), complex(q.X-p.X, q.Y-p.Y)
	sign := 1.0
	if mirrored {
		key, sign = complex(real(key), -imag(key)), -1
	}
	if !(math.Hypot(real(key), imag(key)) >= 1 && math.Hypot(real(other), imag(other)) >= 1) {
		return affine.Identity, ErrPlace
	}
	a := other / key
	m := affine.Matrix{real(a), -imag(a) * sign, 0, imag(a), real(a) * sign, 0}
	x, y := m.Apply((p.KeyX+q.KeyX)/2, (p.KeyY+q.KeyY)/2)
	return affine.Translate((p.X+q.X)/2-x, (p.Y+q.Y)/2-y).Mul(m), nil
}

// least is the weighted least-squares affine map, by the normal equations
// about the marks' centre.
func least(marks []Mark) (affine.Matrix, error) {
	var n, cx, cy, px, py float64
	for _, m := range marks {
		w := m.weight()
		n += w
		cx += w * m.KeyX
		cy += w * m.KeyY
		px += w * m.X
		py += w * m.Y
	}
	cx, cy, px, py = cx/n, cy/n, px/n, py/n
	var moments linear.Symmetric
	var xu, yu, xv, yv float64
	for _, m := range marks {
		w, x, y, u, v := m.weight(), m.KeyX-cx, m.KeyY-cy, m.X-px, m.Y-py
		moments.Add(w, x, y)
		xu += w * x * u
		yu += w * y * u
		xv += w * x * v
		yv += w * y * v
	}
	// The smaller axis of the marks' spread must be a hundredth of the larger
	// one at least, or the fit across the line is a guess.
	if both := moments.XX + moments.YY; !(moments.Det() > 1e-4*both*both) {
		return affine.Identity, ErrPlace
	}
	var m affine.Matrix
	m[0], m[1] = moments.Solve(xu, yu)
	m[3], m[4] = moments.Solve(xv, yv)
	m[2], m[5] = px-m[0]*cx-m[1]*cy, py-m[3]*cx-m[4]*cy
	return m, nil
}
