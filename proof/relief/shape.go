package relief

import "math"

// Shape is how tuned negatives depart from an even scale, by a printmaker's hand: each value
// says by how many units of L* tones move where they move most. Paper white and the depth
// stay. The zero Shape is the even scale, and a shape within MostShape never turns back.
type Shape struct {
	Contrast  float64    `json:"contrast"`  // lights get lighter and darks darker; most at a quarter and at three quarters of the scale
	Highlight float64    `json:"highlight"` // lights get lighter; most at a quarter of the scale
	Shadow    float64    `json:"shadow"`    // darks get lighter; most at three quarters of the scale
	Balance   [3]float64 `json:"balance"`   // by printer: more of that layer; most at mid grey
}

// MostShape is the most of each value, either way.
const MostShape = 8

// Tone takes a tone of the scale, 0 paper to 1 depth, to the tone that the layer of a printer
// is to have there:
//
//	contrast   u − c sin(2πu)
//	highlight  u − h b(u),  b(u) = (256/27) u (1−u)³
//	shadow     u − s b(1−u)
//	balance    u + 4 k u (1−u)
//
// one after the other. b is 1 where it is largest, at u = ¼. Each rises over the whole scale:
// the steepest falls are 2πc, 256h/27 and 4k, below 1 for values up to 0.1.
func (s Shape) Tone(u float64, printer int) float64 {
	bump := func(u float64) float64 { return 256.0 / 27 * u * math.Pow(1-u, 3) }
	u = min(max(u, 0), 1)
	u -= s.Contrast / 100 * math.Sin(2*math.Pi*u)
	u -= s.Highlight / 100 * bump(u)
	u -= s.Shadow / 100 * bump(1-u)
	return u + 4*s.Balance[printer]/100*u*(1-u)
}
