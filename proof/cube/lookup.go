package cube

import (
	"math"

	"threeply/proof/spectrum"
)

// At returns the colour at the relative thicknesses t, by printer, by
// tetrahedral interpolation of CIELAB: the cube of nodes around the point is
// cut into six tetrahedra that share the diagonal of its least and its largest
// node (J. M. Kasson et al., J. Electronic Imaging 4, 1995, 226). Thicknesses
// beyond the ends are taken for the ends.
func (c *Cube) At(t [3]float64) spectrum.Lab {
	lab, _ := c.Slopes([3]float64{Coordinate(t[0]), Coordinate(t[1]), Coordinate(t[2])})
	return lab
}

// Slopes returns the colour at coordinates 0..1 by printer, as At does, and its
// derivatives by them: slope[i][j] is dLab[i]/du[j], constant in a tetrahedron.
func (c *Cube) Slopes(u [3]float64) (lab spectrum.Lab, slope [3][3]float64) {
	at := 0
	var frac [3]float64
	stride := [3]int{3, 3 * c.N, 3 * c.N * c.N}
	for i, v := range u {
		x := v * float64(c.N-1)
		n := min(int(x), c.N-2)
		frac[i] = x - float64(n)
		at += n * stride[i]
	}
	// From the least node to the largest along the axes, the farthest first.
	a, b, d := 0, 1, 2
	if frac[a] < frac[b] {
		a, b = b, a
	}
	if frac[b] < frac[d] {
		b, d = d, b
	}
	if frac[a] < frac[b] {
		a, b = b, a
	}
	n1 := at + stride[a]
	n2 := n1 + stride[b]
	n3 := n2 + stride[d]
	cells := float64(c.N - 1)
	for ch := range lab {
		v0, v1, v2, v3 := float64(c.Lab[at+ch]), float64(c.Lab[n1+ch]), float64(c.Lab[n2+ch]), float64(c.Lab[n3+ch])
		lab[ch] = v0 + frac[a]*(v1-v0) + frac[b]*(v2-v1) + frac[d]*(v3-v2)
		slope[ch][a], slope[ch][b], slope[ch][d] = cells*(v1-v0), cells*(v2-v1), cells*(v3-v2)
	}
	return lab, slope
}

// The values that an encoded cube can hold, in sRGB-encoded terms: wider than
// a display's 0..1, since a print reaches colours that a display does not.
const (
	EncodedMin  = -0.5
	EncodedSpan = 2
)

// EncodedIn returns red, green and blue of each node for a display of a space,
// in the order of Lab: adapted to D65, encoded by the curve of sRGB with its odd
// continuation, not clamped to the display's gamut. look is given each colour,
// XYZ under the light of the cube, and returns what is to be shown: the print as
// it appears in another room, for one.
//
//	code = round((v + 0.5)/2 · 65535),  v in -0.5..1.5
func (c *Cube) EncodedIn(space spectrum.RGBSpace, look func(spectrum.XYZ) spectrum.XYZ) []uint16 {
	m := space.FromXYZ(c.White)
	return c.Encoded(func(x spectrum.XYZ) [3]float64 { return spectrum.Transform(m, look(x)) })
}

// Encoded is EncodedIn with what is to be shown of each colour, XYZ under the light
// of the cube, given as linear RGB by show: a gamut's, for one, that a display has.
func (c *Cube) Encoded(show func(spectrum.XYZ) [3]float64) []uint16 {
	return c.EncodedByPieces(show, func() {})
}

// EncodedByPieces is Encoded with a pause between pieces of the work.
func (c *Cube) EncodedByPieces(show func(spectrum.XYZ) [3]float64, pause func()) []uint16 {
	out := make([]uint16, len(c.Lab))
	nodes := len(out) / 3
	for k := range pieces {
		if k > 0 {
			pause()
		}
		shared(k*nodes/pieces, (k+1)*nodes/pieces, func(i int) {
			lab := spectrum.Lab{float64(c.Lab[3*i]), float64(c.Lab[3*i+1]), float64(c.Lab[3*i+2])}
			for ch, v := range show(lab.XYZ(c.White)) {
				out[3*i+ch] = code(spectrum.EncodeSRGB(v))
			}
		})
	}
	return out
}

func code(v float64) uint16 {
	return uint16(math.Round(min(max((v-EncodedMin)/EncodedSpan, 0), 1) * 65535))
}

// Near returns the thicknesses of a node whose colour lies near to want in
// CIELAB: of every second node an axis the nearest, and then of the 27 about it.
// It is meant as the start of a search.
func (c *Cube) Near(want spectrum.Lab) [3]float64 {
	l, a, b := float32(want[0]), float32(want[1]), float32(want[2])
	least := float32(math.MaxFloat32)
	var best [3]int
	look := func(y, m, cy int) {
		i := 3 * ((cy*c.N+m)*c.N + y)
		dl, da, db := c.Lab[i]-l, c.Lab[i+1]-a, c.Lab[i+2]-b
		if d := dl*dl + da*da + db*db; d < least {
			least, best = d, [3]int{y, m, cy}
		}
	}
	for cy := 0; cy < c.N; cy += 2 {
		for m := 0; m < c.N; m += 2 {
			for y := 0; y < c.N; y += 2 {
				look(y, m, cy)
			}
		}
	}
	middle := best
	for i := range 27 {
		y, m, cy := middle[0]+i%3-1, middle[1]+i/3%3-1, middle[2]+i/9-1
		if min(y, m, cy) >= 0 && max(y, m, cy) < c.N {
			look(y, m, cy)
		}
	}
	var t [3]float64
	for j, i := range best {
		t[j] = Thickness(float64(i) / float64(c.N-1))
	}
	return t
}
