package balance

import (
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Drift is a colour of the print in another light.
type Drift struct {
	Light  string       // id
	Lab    spectrum.Lab // against the white of that light
	DeltaE float64      // CIEDE2000 from the first light
}

// Drifts returns how the amounts t look in each light, the eye adapted to its
// white. The first is the one that all others are compared with. A black of
// narrow bands turns most.
func Drifts(r stack.Recipe, t [3]float64, lights ...spectrum.Light) []Drift {
	spectra := r.Reflectance(t)
	var out []Drift
	for _, l := range lights {
		d := Drift{Light: l.ID, Lab: l.Lab(spectra)}
		if len(out) > 0 {
			d.DeltaE = spectrum.DeltaE00(out[0].Lab, d.Lab)
		}
		out = append(out, d)
	}
	return out
}
