package pigment

import "threeply/proof/spectrum"

// DefaultCoat is the dry thickness, in µm, of a layer of relative thickness 1:
// a wet coat of 0.4 mm of 8 % gelatine, 0.4 mm · 0.08 / 1.35, the thinnest
// that workshops coat. The thickest, 1 mm, gives 60 µm.
const DefaultCoat = 24

// Share is how much of a tissue's pigment is of one kind.
type Share struct {
	CI    string  `json:"ci"`
	Share float64 `json:"share"` // fraction; the shares of a tissue sum to 1
}

// Tissue is pigmented gelatine, coated.
//
//	K = Load Σ share K_i    S = Load · Haze Σ share S_i
//
// per unit relative thickness, 1 being the whole coat. Load is the pigment in the
// whole coat, whatever its height: with the load held a thicker coat is a weaker
// mixture, with the mixture held it is more pigment; see Recoated.
type Tissue struct {
	Pigments   []Share `json:"pigments"`
	Load       float64 `json:"load"`       // pigment in the whole coat, 1 as tabulated
	Haze       float64 `json:"haze"`       // scattering alone, 1 as tabulated
	CoatMicron float64 `json:"coatMicron"` // dry µm of the whole coat

	Hardening Hardening `json:"hardening,omitzero"` // as measured, where it was
	Measured  *Spectra  `json:"measured,omitempty"` // as measured, where they were
	Faded     *Faded    `json:"faded,omitempty"`    // as measured, where it was
}

// Strength is the pigment in the mixture that was coated, against the same pigment
// at load 1 in the default coat.
func (t Tissue) Strength() float64 { return t.Load * DefaultCoat / t.CoatMicron }

// Recoated is the same mixture coated to another dry thickness in µm, above 0: the
// load follows, Strength stays.
func (t Tissue) Recoated(micron float64) Tissue {
	t.Load *= micron / t.CoatMicron
	t.CoatMicron = micron
	return t
}

// NewTissue mixes pigments at load and haze 1 and the default coat.
func NewTissue(shares ...Share) Tissue {
	return Tissue{Pigments: shares, Load: 1, Haze: 1, CoatMicron: DefaultCoat}
}

// KS returns the absorption and scattering per unit relative thickness: as measured,
// where they were, else of the pigments. A pigment that is not in the table adds nothing.
func (t Tissue) KS() (k, s spectrum.Curve) {
	if m := t.Measured; m != nil {
		return m.K.Scale(t.Load), m.S.Scale(t.Load * t.Haze)
	}
	for _, sh := range t.Pigments {
		p, ok := PigmentByCI(sh.CI)
		if !ok {
			continue
		}
		k = k.Add(p.K().Scale(sh.Share * t.Load))
		s = s.Add(p.S().Scale(sh.Share * t.Load * t.Haze))
	}
	return k, s
}
