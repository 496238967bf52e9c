package flatbed

import (
	"testing"

	"threeply/proof/spectrum"
)

// A colour comes back from the smoothest reflectance that has it; the darkest and the most
// colourful surfaces have one too (CIELAB of ISO 12647-2 solids, second-hand; see the hues).
func TestSmoothest(t *testing.T) {
	light, _ := spectrum.LightByID("D50")
	for _, lab := range []spectrum.Lab{{56, -35, -53}, {48, 75, -5}, {89, -4, 92}, {16, 0, 0}, {96, -1, 2}, {5, 0, 0}} {
		r, ok := smoothest(lab.XYZ(light.White), light)
		if back := light.Lab(r); !ok || back.Distance(lab) > 1e-3 {
			t.Errorf("%v comes back as %v, %v", lab, back, ok)
		}
	}
	if _, ok := smoothest(spectrum.Lab{50, 150, -150}.XYZ(light.White), light); ok {
		t.Error("a surface has a colour that none has")
	}
}
