// Package tone turns the density of a plate into the exposure of the scene and
// into the relative thickness of the layer that the plate prints.
//
// Densities are to base 10. A density plane holds the code D·65535/4 (see
// density.Max), exposures are relative to the scene's white at 1.
package tone

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/density"
	"threeply/proof/spectrum"
)

// Knots is the number of equal steps of a curve over the codes of a plane, each
// 0.001 in density. TestCurvesFollowTheirFunctions pins that
// this is fine enough.
const Knots = 4096

// Depth01 places an exposure on the print's neutral scale: 0 is paper, 1 the
// deepest grey, equal steps in L* (CIE 15), so that white prints as paper and
// black as depth with the lightness between them scaled evenly.
func Depth01(exposure float64) float64 {
	white := spectrum.XYZ{100, 100, 100}
	l := spectrum.XYZ{100 * exposure, 100 * exposure, 100 * exposure}.Lab(white)[0]
	return min(max(1-l/100, 0), 1)
}

// Moved is the tone, Depth01, that a tone becomes when the scene had been exposed by
// so many stops more.
func Moved(tone01, stops float64) float64 {
	l := 100 * (1 - min(max(tone01, 0), 1))
	exposure := spectrum.Lab{l, 0, 0}.XYZ(spectrum.XYZ{100, 100, 100})[1] / 100
	return Depth01(exposure * math.Exp2(stops))
}

// Curve holds Knots+1 values at equal steps of the plane's code, as codes of
// 16 bits over 0 … 1.
type Curve [Knots + 1]uint16

// At interpolates the curve at a plane's code (0 … 65535); the result is in
// 0 … 1.
func (c *Curve) At(code float64) float64 {
	x := code * (Knots / 65535.0)
	i := min(int(x), Knots-1)
	f := x - float64(i)
	return (float64(c[i])*(1-f) + float64(c[i+1])*f) / 65535
}

func sampled(f func(density float64) float64) *Curve {
	var c Curve
	for i := range c {
		c[i] = coded(f(density.Max * float64(i) / Knots))
	}
	return &c
}

// coded is a value held to 0 … 1 as a code of 16 bits.
func coded(v float64) uint16 { return uint16(math.Round(65535 * min(max(v, 0), 1))) }

// ReferenceCurve gives the sRGB-encoded value (IEC 61966-2-1) of the exposure
// behind each density.
func ReferenceCurve(f Film) *Curve {
	return sampled(func(d float64) float64 { return spectrum.EncodeSRGB(f.Exposure(d)) })
}

// Tones are the places on the neutral scale (Depth01) behind the densities of a curve's
// knots.
type Tones [Knots + 1]float64

// TonesOf reads those of a film.
func TonesOf(f Film) *Tones {
	var t Tones
	for i := range t {
		t[i] = Depth01(f.Exposure(density.Max * float64(i) / Knots))
	}
	return &t
}

// Curve gives the tones themselves, which masks work on.
func (t *Tones) Curve() *Curve { return t.through(func(tone01 float64) float64 { return tone01 }) }

// Print gives the cube coordinate of the thickness that the plate prints behind each
// density; thickness takes the tone to the relative thickness of this plate's layer.
func (t *Tones) Print(thickness func(tone01 float64) float64) *Curve {
	return t.through(func(tone01 float64) float64 { return cube.Coordinate(thickness(tone01)) })
}

func (t *Tones) through(f func(tone01 float64) float64) *Curve {
	var c Curve
	for i, v := range t {
		c[i] = coded(f(v))
	}
	return &c
}

// ThicknessCurve gives the cube coordinate of the thickness of a layer at each
// place on the neutral scale, code 65535 being 1: with it, Tones.Print
// is Tones.Curve and then this.
func ThicknessCurve(thickness func(depth01 float64) float64) *Curve {
	return sampled(func(d float64) float64 { return cube.Coordinate(thickness(d / density.Max)) })
}

// AmountCurve gives the cube coordinate of a relative thickness that is told of the
// plate's density itself, as a straight print from the plate as it is.
func AmountCurve(amount func(density float64) float64) *Curve {
	return sampled(func(d float64) float64 { return cube.Coordinate(amount(d)) })
}
