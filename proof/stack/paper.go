package stack

import (
	"math"

	"threeply/proof/spectrum"
)

// Paper is what the layers lie on. R is its reflectance as measured at the
// surface of the finished print, without pigment.
type Paper struct {
	ID, Name, Source string
	R                spectrum.Curve
}

// Papers returns the built-in papers, the default "sized" first.
func Papers() []Paper {
	return []Paper{
		{"sized", "Gelatine-sized white", "described: a white rag paper with its gelatine size, CIELAB D50 95.4 -0.2 2.0", spectrum.Sample(sized)},
	}
}

func sized(nm float64) float64 {
	return 0.90 - 0.10*math.Exp(-(nm-380)/55) - 0.012*max(0, (560-nm)/160)
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
