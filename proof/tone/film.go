package tone

import "math"

// Film says how a plate turned the light of the scene into density: the
// straight line of its characteristic curve (F. Hurter and V. C. Driffield,
// J. Soc. Chem. Ind. 9, 1890, 455),
//
//	D = White + γ·log10 H
//
// for a negative, with H the exposure relative to the scene's white, and the
// same falling for a positive. Where a toe or a shoulder was measured, Bend
// takes the density first to where the straight line would have it.
type Film struct {
	Negative bool    `json:"negative"`
	White    float64 `json:"white"`         // density where the scene is white: dense on a negative, thin on a positive
	Black    float64 `json:"black"`         // density where the scene is black: thin on a negative
	Gamma    float64 `json:"gamma"`         // slope of density over log10 exposure, above 0
	Bend     Bend    `json:"bend,omitzero"` // toe and shoulder as measured; the zero Bend is the straight line
}

// Exposure returns the scene's relative exposure behind density d,
//
//	H = (10^(±(s(d)-s(White))/γ) - Hb) / (1 - Hb),   Hb the same power at Black,
//
// + for a negative, - for a positive, s the Bend: the straight line of the
// film with the light that the scene's black still has taken off. It is 0 at
// Black, 1 at White, and held within 0 … 1. A film without range (White =
// Black) gives 0.
func (f Film) Exposure(d float64) float64 {
	span := f.LogExposure(f.White) - f.LogExposure(f.Black)
	if !(span > 0) || !(f.Gamma > 0) {
		return 0
	}
	veil := math.Pow(10, -span)
	h := (math.Pow(10, f.LogExposure(d)) - veil) / (1 - veil)
	return min(max(h, 0), 1)
}

// LogExposure is log10 of the exposure behind density d by the film's curve
// alone: 0 at White, nothing taken off, not held anywhere. Gamma must be above
// 0.
func (f Film) LogExposure(d float64) float64 {
	h := (f.Bend.Straight(d) - f.Bend.Straight(f.White)) / f.Gamma
	if !f.Negative {
		h = -h
	}
	return h
}

// Density is the inverse of LogExposure.
func (f Film) Density(logExposure float64) float64 {
	if !f.Negative {
		logExposure = -logExposure
	}
	return f.Bend.Density(f.Bend.Straight(f.White) + f.Gamma*logExposure)
}

// Range is the log10 exposure between the film's black and white, never below
// 0.
func (f Film) Range() float64 { return math.Abs(f.LogExposure(f.Black)) }
