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

// DriftsFrom returns how the amounts t, balanced for the chosen light, look in
// it, which is the first, and in those of daylight D50, tungsten and a warm and a
// neutral white LED that it is not.
func DriftsFrom(chosen spectrum.Light, r stack.Recipe, t [3]float64) []Drift {
	lights := []spectrum.Light{chosen}
	for _, id := range []string{"D50", "A", "LED-B1", "LED-B3"} {
		if l, _ := spectrum.LightByID(id); id != chosen.ID {
			lights = append(lights, l)
		}
	}
	return Drifts(r, t, lights...)
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
