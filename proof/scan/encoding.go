package scan

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"threeply/proof/spectrum"
)

// Curve maps a code (0 … 65535) to linear light, 0 … 1 with 1 at the
// scanner's clear value. It has 65536 entries.
type Curve []float32

func sampled(f func(float64) float64) Curve {
	c := make(Curve, 65536)
	for i := range c {
		c[i] = float32(within(f(float64(i) / 65535)))
	}
	return c
}

func (c Curve) scaled(by float64) Curve {
	out := make(Curve, len(c))
	for i, v := range c {
		out[i] = v * float32(by)
	}
	return out
}

// encoding is a transfer function with its description.
type encoding struct {
	words string
	// linear holds one function for grey or for all three channels, or three.
	linear  []func(float64) float64
	weights [3]float64
	toXYZ   [9]float64
	lookup  *lookup // of three channels, where curves and matrix do not do
}

// rec709 weighs linear red, green and blue in luminance; Recommendation
// ITU-R BT.709-6, item 3.2.
var rec709 = [3]float64{0.2126, 0.7152, 0.0722}

// rec709ToXYZ takes linear red, green and blue of those primaries to XYZ under
// D50, adapted by Bradford's transform (B. Lindbloom's published matrices).
var rec709ToXYZ = [9]float64{
	0.4360747, 0.3850649, 0.1430804,
	0.2225045, 0.7168786, 0.0606169,
	0.0139322, 0.0971045, 0.7141733,
}

// whiteD50 is the white of the profile connection space (ICC.1:2010, 7.2.16).
var whiteD50 = [3]float64{0.9642, 1, 0.8249}

func same(words string, f func(float64) float64) *encoding {
	return &encoding{words: words, linear: []func(float64) float64{f}, weights: rec709, toXYZ: rec709ToXYZ}
}

func identity(x float64) float64 { return x }

// srgb is the decoding function of IEC 61966-2-1:1999; the constants are from
// memory.
func srgb(x float64) float64 {
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

func power(gamma float64) func(float64) float64 {
	return func(x float64) float64 { return math.Pow(x, gamma) }
}

// AsChosen ends the words of an encoding that was asked for by Options.Encoding; before it
// stands what was asked for.
const AsChosen = ", as chosen"

// CheckEncoding tells of what is no Options.Encoding, in the words in which Open would tell of it; file is
// what these name.
func CheckEncoding(file, name string) error {
	_, err := namedEncoding(file, name)
	return err
}

// namedEncoding reads Options.Encoding; nil for "".
func namedEncoding(file, name string) (*encoding, error) {
	n := strings.ToLower(strings.TrimSpace(name))
	switch {
	case n == "":
		return nil, nil
	case n == "linear":
		return same("linear"+AsChosen, identity), nil
	case n == "srgb":
		return same("sRGB"+AsChosen, srgb), nil
	case strings.HasPrefix(n, "gamma"):
		g, err := strconv.ParseFloat(strings.TrimSpace(n[len("gamma"):]), 64)
		if err == nil && g >= 0.2 && g <= 5 {
			return same(fmt.Sprintf("gamma %g", g)+AsChosen, power(g)), nil
		}
	}
	return nil, &Error{File: file, Reason: fmt.Sprintf("the encoding %q is not known", name), Remedy: `Choose "linear", "sRGB" or "gamma 2.2" with an exponent from 0.2 to 5.`}
}

// primaries takes weights and matrix from the chromaticities of red, green, blue and
// white. Such as are impossible are passed over.
func (e *encoding) primaries(xy [4][2]float64) {
	var m [9]float64
	for j, p := range xy[:3] {
		m[j], m[3+j], m[6+j] = p[0]/p[1], 1, (1-p[0]-p[1])/p[1]
	}
	w := xy[3]
	white := spectrum.XYZ{w[0] / w[1], 1, (1 - w[0] - w[1]) / w[1]}
	share := spectrum.Transform(spectrum.Inverse(m), white)
	adapt := spectrum.Adapt(white, whiteD50)
	var toXYZ [9]float64
	for j := range 3 {
		column := spectrum.Transform(adapt, spectrum.XYZ{m[j] * share[j], m[3+j] * share[j], m[6+j] * share[j]})
		toXYZ[j], toXYZ[3+j], toXYZ[6+j] = column[0], column[1], column[2]
		if !(share[j] > 0 && column[1] > 0) || math.IsInf(column[1], 1) {
			return
		}
	}
	e.toXYZ = toXYZ
	e.weights = [3]float64{toXYZ[3], toXYZ[4], toXYZ[5]}
}

// encode settles the curves of s: what the user chose, else the profile, else
// what the file declares otherwise, else linear at 16 bits and sRGB at 8.
func (s *Scan) encode(forced *encoding, r *raw) {
	e, remark := forced, ""
	s.Known = Chosen
	if e == nil && len(r.icc) > 0 {
		var err error
		if e, err = parseICC(r.icc, s.Channels); err != nil {
			remark = fmt.Sprintf("; its ICC profile is not used: %v", err)
		}
		s.Known = Profile
	}
	if e == nil {
		e, s.Known = r.declared, Declared
	}
	if e == nil {
		s.Known = Assumed
	}
	if e == nil && s.Bits > 8 {
		e = same(fmt.Sprintf("linear (%d bits, no profile)", s.Bits), identity)
	}
	if e == nil {
		e = same("sRGB (8 bits, no profile)", srgb)
	}
	if s.Known != Profile && r.primaries != nil {
		e.primaries(*r.primaries)
	}
	s.Encoding = e.words + remark
	s.Weights, s.ToXYZ, s.lookup = e.weights, e.toXYZ, e.lookup
	if s.Channels == 1 {
		s.ToXYZ = [9]float64{whiteD50[0], 0, 0, whiteD50[1], 0, 0, whiteD50[2], 0, 0}
	}
	for _, f := range e.linear[:min(len(e.linear), s.Channels)] {
		s.Curves = append(s.Curves, sampled(f))
	}
	for len(s.Curves) < s.Channels {
		s.Curves = append(s.Curves, s.Curves[0])
	}
}
