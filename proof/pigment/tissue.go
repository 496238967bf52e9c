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

// Tissue is pigmented gelatine.
//
//	K = Load Σ share K_i    S = Load · Haze Σ share S_i
type Tissue struct {
	Pigments   []Share `json:"pigments"`
	Load       float64 `json:"load"`       // pigment per thickness, 1 as tabulated
	Haze       float64 `json:"haze"`       // scattering alone, 1 as tabulated
	CoatMicron float64 `json:"coatMicron"` // dry µm at relative thickness 1
}

// NewTissue mixes pigments at load and haze 1 and the default coat.
func NewTissue(shares ...Share) Tissue {
	return Tissue{Pigments: shares, Load: 1, Haze: 1, CoatMicron: DefaultCoat}
}

// KS returns the absorption and scattering per unit relative thickness. A
// pigment that is not in the table adds nothing.
func (t Tissue) KS() (k, s spectrum.Curve) {
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
