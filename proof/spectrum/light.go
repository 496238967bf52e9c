package spectrum

import "slices"

// FullN is the number of samples of a Full curve.
const FullN = 81

// Full holds one value each 5 nm over the whole range of the observer, 380 to
// 780 nm. Lights are stated on it, so that white points keep their tails.
type Full [FullN]float64

// Light is a source of light and how the CIE 1931 2° observer sees it.
type Light struct {
	ID, Name string
	Power    Curve // relative spectral power
	White    XYZ   // the perfect diffuser under this light, Y 100
	weights  *[3]Curve
}

// NewLight makes a light of its relative spectral power. Only ratios count.
//
//	X = 100 Σ S x̄ R / Σ S ȳ      and so Y, Z
//
// (CIE 15:2018, section 7.1). The sums run over 380 to 780 nm in steps of 5;
// what lies beyond 730 nm is added to the last weight, as ASTM E308 tells
// those to do whose spectra end there.
func NewLight(id, name string, power Full) Light {
	l := Light{ID: id, Name: name, weights: new([3]Curve)}
	sum := 0.0
	for i, s := range power {
		sum += s * yBar[i]
	}
	for ch, bar := range [3]*Full{&xBar, &yBar, &zBar} {
		for i, s := range power {
			w := 100 * s * bar[i] / sum
			l.weights[ch][min(i, N-1)] += w
			l.White[ch] += w
		}
	}
	copy(l.Power[:], power[:])
	return l
}

// Weights returns the three rows of weights whose products with a reflectance
// sum to its X, Y and Z.
func (l Light) Weights() [3]Curve { return *l.weights }

// XYZ returns the tristimulus values of a surface of reflectance r.
func (l Light) XYZ(r Curve) XYZ {
	var x XYZ
	for ch := range x {
		w := &l.weights[ch]
		for i, v := range r {
			x[ch] += w[i] * v
		}
	}
	return x
}

// Lab returns the CIELAB values of a surface of reflectance r against the
// perfect diffuser in the same light.
func (l Light) Lab(r Curve) Lab { return l.XYZ(r).Lab(l.White) }

// lights are made once; nothing changes them.
var lights = []Light{
	NewLight("D50", "Daylight D50, print viewing", powerD50),
	NewLight("D65", "Daylight D65, display white", powerD65),
	NewLight("A", "Tungsten lamp, illuminant A", powerA),
	NewLight("LED-B1", "Warm white LED, 2733 K", powerLEDB1),
	NewLight("LED-B3", "Neutral white LED, 4103 K", powerLEDB3),
}

// Lights returns the lights that the tool knows, D50 first.
func Lights() []Light { return slices.Clone(lights) }

// LightByID returns the light of that id: one of Lights, or a Blackbody such as
// "3000K".
func LightByID(id string) (Light, bool) {
	if k, ok := kelvinOf(id); ok {
		return Blackbody(k), true
	}
	for _, l := range lights {
		if l.ID == id {
			return l, true
		}
	}
	return Light{}, false
}
