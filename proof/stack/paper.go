package stack

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"threeply/proof/linear"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// Paper is what the layers lie on. R is its reflectance as measured at the
// surface of the finished print, without pigment.
type Paper struct {
	ID     string         `json:"id"`
	Name   string         `json:"name"`
	Source string         `json:"source"`
	R      spectrum.Curve `json:"r"`
}

// darkest is the reflectance that a paper must reach somewhere: what reflects less
// is no paper.
const darkest = 0.01

// UnmarshalJSON reads a paper. Where its spectrum has not the values of a
// spectrum.Curve, what is read fails Check: a short list is not filled up with
// black.
func (p *Paper) UnmarshalJSON(text []byte) error {
	var f struct {
		ID     string    `json:"id"`
		Name   string    `json:"name"`
		Source string    `json:"source"`
		R      []float64 `json:"r"`
	}
	err := json.Unmarshal(text, &f)
	*p = Paper{ID: f.ID, Name: f.Name, Source: f.Source}
	if copy(p.R[:], f.R) != len(f.R) || len(f.R) != len(p.R) {
		p.R[0] = math.NaN()
	}
	return err
}

// Check returns what is wrong with a paper, or nil. A sound paper has a name, 1 to 80
// characters, and reflects 0 to 1 of the light of every wavelength, not next to
// nothing of all.
func (p Paper) Check() error {
	if !pigment.ValidName(p.Name) {
		return errors.New("give a paper a name of 1 to 80 characters")
	}
	return sound(p.R)
}

// sound is what Check asks of the reflectance.
func sound(reflectance spectrum.Curve) error {
	for i, r := range reflectance {
		if math.IsNaN(r) {
			return fmt.Errorf("its spectrum is missing or not whole: give %d values, from %d to %d nm in steps of %d", spectrum.N, spectrum.First, spectrum.First+spectrum.Step*(spectrum.N-1), spectrum.Step)
		}
		if !(r >= 0 && r <= 1) {
			return fmt.Errorf("it reflects %g of the light of %g nm: 0 to 1 can be", r, spectrum.Wavelength(i))
		}
	}
	if slices.Max(reflectance[:]) < darkest {
		return errors.New("it reflects next to no light: no paper is so dark")
	}
	return nil
}

// invented marks the papers that no instrument has seen.
const invented = "invented, plausible: no measured sheet; enter your own paper where it counts"

// Papers returns the built-in papers, the default "sized" first. None of them
// glows: optical brighteners are not modelled.
func Papers() []Paper {
	return []Paper{
		{"sized", "Gelatine-sized white", "described after a measured white with its gelatine size of CIELAB D50 95.4 -0.2 2.0", falling(0.90, 0.10, 55, 0.012)},
		{"bright", "Bright white, smooth", invented, falling(0.925, 0.08, 30, 0.003)},
		{"rag", "Warm rag", invented, falling(0.89, 0.16, 80, 0.025)},
		{"cream", "Cream laid", invented, falling(0.865, 0.26, 110, 0.035)},
		{"aged", "Aged, yellowed", invented, falling(0.80, 0.38, 140, 0.05)},
	}
}

// falling is white less an exponential loss towards the ultraviolet, as pulp
// and gelatine have it, and less a ramp below 560 nm.
//
//	R(λ) = top - loss·exp(-(λ-380)/width) - ramp·max(0, (560-λ)/160)
func falling(top, loss, width, ramp float64) spectrum.Curve {
	return spectrum.Sample(func(nm float64) float64 {
		return top - loss*math.Exp(-(nm-380)/width) - ramp*max(0, (560-nm)/160)
	})
}

// PaperByID returns the built-in paper of that id.
func PaperByID(id string) (Paper, bool) {
	for _, p := range Papers() {
		if p.ID == id {
			return p, true
		}
	}
	return Paper{}, false
}

// PaperFromLab makes a paper of its CIELAB under D50, as read with an
// instrument or off a scan: of all curves
//
//	R(λ) = 1/(1 + exp(-(p + q u + r u²))),  u = (λ - 555)/175
//
// the one that has this colour. It is smooth as papers are, but colour alone
// does not tell what another light will make of it. Lightness must be 20 to
// 99.5; colours that no such curve has are refused.
func PaperFromLab(id, name string, lab spectrum.Lab) (Paper, error) {
	if !(lab[0] >= 20 && lab[0] <= 99.5 && math.Abs(lab[1]) < 100 && math.Abs(lab[2]) < 100) {
		return Paper{}, fmt.Errorf("a paper of L* %.4g, a* %.4g, b* %.4g: want L* 20 to 99.5", lab[0], lab[1], lab[2])
	}
	d50, _ := spectrum.LightByID("D50")
	curve := func(p [3]float64) spectrum.Curve {
		return spectrum.Sample(func(nm float64) float64 {
			u := (nm - 555) / 175
			return 1 / (1 + math.Exp(-(p[0] + u*(p[1]+u*p[2]))))
		})
	}
	y := lab.XYZ(d50.White)[1] / 100
	p := [3]float64{math.Log(y / (1 - min(y, 0.999)))}
	for range 50 {
		now := d50.Lab(curve(p))
		off := [3]float64{lab[0] - now[0], lab[1] - now[1], lab[2] - now[2]}
		if now.Distance(lab) < 1e-6 {
			return Paper{id, name, "made of its CIELAB under D50", curve(p)}, nil
		}
		const h = 1e-5
		var slopes [9]float64
		for j := range p {
			q := p
			q[j] += h
			for i, v := range d50.Lab(curve(q)) {
				slopes[3*i+j] = (v - now[i]) / h
			}
		}
		step := off
		if !linear.Solve(slopes[:], step[:], 0) {
			break
		}
		length := spectrum.Lab(step).Distance(spectrum.Lab{})
		for j := range p {
			p[j] += step[j] * min(1, 1/length)
		}
	}
	return Paper{}, errors.New("no smooth paper has this colour: its chroma is too high for its lightness")
}

// PaperFromSpectrum makes a paper of a measured reflectance; see
// spectrum.ParseReflectance for the text and its errors.
func PaperFromSpectrum(id, name string, text []byte) (Paper, error) {
	r, err := spectrum.ParseReflectance(text)
	if err != nil {
		return Paper{}, err
	}
	return Paper{id, name, "measured spectrum", r}, sound(r)
}
