package spectrum

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The colour temperatures that Blackbody takes, in kelvin.
const (
	CoolestLight = 1500
	HottestLight = 12000
)

// Blackbody returns the light of a Planckian radiator, which stands for lamps
// of which only the colour temperature is known. Its id is such as "3000K".
//
//	S(λ) ∝ λ⁻⁵ / (exp(c₂/λT) - 1),  c₂ = 0.014388 m·K
//
// (CIE 15:2018, section 3.1). The temperature is kept within CoolestLight and
// HottestLight. Fluorescent lamps and LEDs of the same colour render pigments
// otherwise.
func Blackbody(kelvin float64) Light {
	kelvin = min(max(kelvin, CoolestLight), HottestLight)
	planck := func(nm float64) float64 { return math.Pow(nm/560, -5) / math.Expm1(1.4388e7/(nm*kelvin)) }
	var power Full
	for i := range power {
		power[i] = 100 * planck(First+Step*float64(i)) / planck(560)
	}
	id := strconv.FormatFloat(kelvin, 'f', 0, 64) + "K"
	return NewLight(id, fmt.Sprintf("Glowing lamp of %.0f K", kelvin), power)
}

// kelvinOf reads an id such as "3000K".
func kelvinOf(id string) (float64, bool) {
	digits, ok := strings.CutSuffix(id, "K")
	if !ok {
		return 0, false
	}
	k, err := strconv.ParseUint(digits, 10, 32)
	return float64(k), err == nil && k >= CoolestLight && k <= HottestLight
}
