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
	at := 0
	var frac [3]float64
	stride := [3]int{3, 3 * c.N, 3 * c.N * c.N}
	for i, v := range t {
		x := Coordinate(v) * float64(c.N-1)
		n := min(int(x), c.N-2)
		frac[i] = x - float64(n)
		at += n * stride[i]
	}
	// From the least node to the largest along the axes, steepest first.
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
	w0, w1, w2, w3 := 1-frac[a], frac[a]-frac[b], frac[b]-frac[d], frac[d]
	var lab spectrum.Lab
	for ch := range lab {
		lab[ch] = w0*float64(c.Lab[at+ch]) + w1*float64(c.Lab[n1+ch]) + w2*float64(c.Lab[n2+ch]) + w3*float64(c.Lab[n3+ch])
	}
	return lab
}

// The values that an encoded cube can hold, in sRGB-encoded terms: wider than
// a display's 0..1, since a print reaches colours that a display does not.
const (
	EncodedMin  = -0.5
	EncodedSpan = 2
)

// Encoded returns red, green and blue of each node for a display, in the order
// of Lab: adapted to D65, sRGB-encoded with its odd continuation, not clamped
// to the display's gamut.
//
//	code = round((v + 0.5)/2 · 65535),  v in -0.5..1.5
func (c *Cube) Encoded() []uint16 {
	out := make([]uint16, len(c.Lab))
	m := spectrum.ToLinearSRGB(c.White)
	for i := 0; i < len(out); i += 3 {
		x := spectrum.Lab{float64(c.Lab[i]), float64(c.Lab[i+1]), float64(c.Lab[i+2])}.XYZ(c.White)
		for ch := range 3 {
			v := m[3*ch]*x[0] + m[3*ch+1]*x[1] + m[3*ch+2]*x[2]
			out[i+ch] = code(spectrum.EncodeSRGB(v))
		}
	}
	return out
}

func code(v float64) uint16 {
	return uint16(math.Round(min(max((v-EncodedMin)/EncodedSpan, 0), 1) * 65535))
}

// Nearest returns the thicknesses of the node whose colour lies nearest to
// want in CIELAB.
func (c *Cube) Nearest(want spectrum.Lab) [3]float64 {
	l, a, b := float32(want[0]), float32(want[1]), float32(want[2])
	at, least := 0, float32(math.MaxFloat32)
	for i := 0; i+2 < len(c.Lab); i += 3 {
		dl, da, db := c.Lab[i]-l, c.Lab[i+1]-a, c.Lab[i+2]-b
		if d := dl*dl + da*da + db*db; d < least {
			at, least = i/3, d
		}
	}
	axis := func(i int) float64 { return Thickness(float64(i%c.N) / float64(c.N-1)) }
	return [3]float64{axis(at), axis(at / c.N), axis(at / (c.N * c.N))}
}
