package stack

import "math"

// gelatine is the refractive index of dry gelatine.
const gelatine = 1.53

// ClearLayerK returns the K·X that a clear layer needs in this model for its
// print to be as dark as its own collimated transmission density d ≥ 0 makes
// it at 45°/0°: what to enter where a tissue was measured by transmission, on
// film, and not as a print. ground is the inner reflectance of the paper and
// s the surface that the model works with.
//
// Light crosses a clear layer on straight ways, some of them slanting, and is
// thrown back from inside by the face, more of it the more slanting it goes
// (F. C. Williams and F. R. Clapper, JOSA 43, 1953, 595, with the index of
// gelatine). The two-flux film knows of one mean way only. So the same print
// takes more K·X than 2.303·d, half as much again in the lightest tones.
func ClearLayerK(d, ground float64, s Surface) float64 {
	if d <= 0 {
		return 0
	}
	t := math.Pow(10, -d)
	slant := math.Sqrt(1 - 0.5/(gelatine*gelatine)) // cosine in the layer of light that came in at 45°
	back := hemisphere(func(cos float64) float64 { return fresnel(gelatine, 1, cos) * math.Pow(t, 2/cos) })
	print := math.Pow(t, 1+1/slant) * (1 - ground*DiffuseInside(gelatine)) / (1 - ground*back)
	// Saunderson's face over Lambert's layer, e^-2KX, solved for it.
	twice := print / (1 - s.K2*ground + print*s.K2*ground)
	return -math.Log(twice) / 2
}
