package pigment

import (
	"math"
	"slices"

	"threeply/proof/spectrum"
)

// Pigment is one colouring matter and what is known of it.
type Pigment struct {
	CI            string // Colour Index generic name, such as PY74
	Name          string // common name
	Era           string // when it was to be had
	Source        string // where the spectrum comes from
	Status        string // how it came about: one of the Status constants
	Lightfastness string
	BlueWool      BlueWool // the classes that Lightfastness names
	Hazard        string

	absorption absorption
	scatter    scatter
}

// How a spectrum came about: its absorption K and its scattering S. None was
// measured on the tissue in use.
const (
	StatusSwatches        = "absorption and scattering fitted to measured swatches"
	StatusSwatchesAssumed = "absorption fitted to measured swatches, scattering assumed"
	StatusPeak            = "absorption and scattering fitted to measured swatches, the peak moved to where it was published, from memory"
	StatusFilms           = "absorption and scattering fitted to measured acrylic films"
	StatusFilmsSwatches   = "absorption fitted to measured acrylic films, scattering rounded after measured swatches"
	StatusFilmsFine       = "absorption fitted to measured acrylic films of an opaque grade, scattering assumed from memory to be that of a fine dispersion"
	StatusFilmsAssumed    = "absorption fitted to measured acrylic films, scattering assumed"
	StatusShape           = "shape of the absorption fitted to a measured swatch, scattering assumed"
	StatusMemory          = "absorption from memory of published band positions, scattering assumed"
)

// absorption is K(λ) as a sum of terms over the wavenumber ν = 10⁴/λ in
// 10³ cm⁻¹, λ in nm, which is how absorption bands are shaped.
//
//	floor + Σ A exp(-½((ν-ν0)/σ)²) + Σ A/(1+exp(-(ν-ν0)/w)) + A (λ/550)^-n
type absorption struct {
	floor float64
	bands []term // A, centre in nm, σ
	edges []term // A, middle in nm, w
	slope power  // of the blacks
}

type term struct{ a, nm, width float64 }

type power struct{ a, n float64 }

// scatter is S(λ) = a (λ/550)^-b.
type scatter struct{ a, b float64 }

// K returns the absorption coefficient per unit relative thickness.
func (p Pigment) K() spectrum.Curve {
	a := p.absorption
	return spectrum.Sample(func(nm float64) float64 {
		k := a.floor
		for _, b := range a.bands {
			d := (1e4/nm - 1e4/b.nm) / b.width
			k += b.a * math.Exp(-d*d/2)
		}
		for _, e := range a.edges {
			k += e.a / (1 + math.Exp(-(1e4/nm-1e4/e.nm)/e.width))
		}
		if a.slope.a != 0 {
			k += a.slope.a * math.Pow(nm/550, -a.slope.n)
		}
		return k
	})
}

// S returns the scattering coefficient per unit relative thickness. It is the
// least certain of all figures here: prints on one white paper cannot tell it
// from K.
func (p Pigment) S() spectrum.Curve {
	return spectrum.Sample(func(nm float64) float64 {
		return p.scatter.a * math.Pow(nm/550, -p.scatter.b)
	})
}

// Pigments returns the built-in table: yellows, reds, blue-greens, blacks.
func Pigments() []Pigment { return slices.Clone(table) }

// PigmentByCI returns the pigment of that Colour Index name.
func PigmentByCI(ci string) (Pigment, bool) {
	i := slices.IndexFunc(table, func(p Pigment) bool { return p.CI == ci })
	if i < 0 {
		return Pigment{}, false
	}
	return table[i], true
}
