package spread

import (
	"math"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/stack"
)

// Unknowns are what a proof rests on without knowing it. Each is the half width of
// the range that holds nine of ten cases; all are independent, those of a layer from
// those of another.
type Unknowns struct {
	Amount   float64 `json:"amount"`   // share: pigment that comes to lie where it should, load times height, one product
	Exposure float64 `json:"exposure"` // stops, of each layer under the lamp
	Levels   float64 `json:"levels"`   // stops of the scene, of each plate: where its white and its greys were taken to lie
	Spectra  float64 `json:"spectra"`  // 1: as far as a spectrum of its source can be off; see bandShift
	Scatter  float64 `json:"scatter"`  // factor above 1: scattering times or over it
	Paper    float64 `json:"paper"`    // share of its reflectance
	Surface  float64 `json:"surface"`  // factor above 1: the light that the surface adds, times or over it
	HoldOn   float64 `json:"holdOn"`   // share of the coat: the thinnest layer that stays lies between nothing and this
}

// Usual is what hand coating, a lamp without an integrator, plates without a grey
// scale, built-in spectra and a wash without a wedge leave open. Assumed, not
// measured; what a user has measured is set lower.
var Usual = Unknowns{
	Amount: 0.15, Exposure: 0.1, Levels: 0.15, Spectra: 1, Scatter: 2, Paper: 0.02, Surface: 1.7, HoldOn: relief.MostHoldOn / pigment.DefaultCoat,
}

// MostStops is the largest doubt of an exposure or of levels that can be worked with.
const MostStops = 3

// Bound is what one of the unknowns can be, and what it is called.
type Bound struct {
	Least, Most float64
	Name        string
}

// Bounds are those of all unknowns, by their names in JSON.
func Bounds() map[string]Bound {
	return map[string]Bound{
		"amount": {0, 0.9, "pigment, as a share"}, "exposure": {0, MostStops, "exposure, in stops"}, "levels": {0, MostStops, "levels, in stops"},
		"spectra": {0, 4, "spectra"}, "scatter": {1, 20, "scattering, as a factor"}, "paper": {0, 0.5, "paper, as a share"},
		"surface": {1, 20, "surface, as a factor"}, "holdOn": {0, 0.9, "thinnest layer that stays, as a share of the coat"},
	}
}

// How far the bands of a spectrum may lie from where they are tabulated, in nm, and
// its unwanted absorptions, as a share of them, by how it came about: nine of ten
// cases (assumed; makes of one Colour Index name differ by as much).
const (
	fittedShift, fittedUnwanted     = 4, 0.15
	recalledShift, recalledUnwanted = 10, 0.4
)

// bandShift is that of a tissue: of the least certain of its pigments, and none where its
// spectra were measured.
func bandShift(p pigment.Palette, layer pigment.Printer) (nm, unwanted float64) {
	t := p.Layer(layer)
	if p.Measured != nil && p.Measured.TellsSpectra() && t.Measured != nil {
		return 0, 0
	}
	for _, s := range t.Pigments {
		p, ok := pigment.PigmentByCI(s.CI)
		if !ok {
			continue
		}
		if p.Status == pigment.StatusMemory {
			return recalledShift, recalledUnwanted
		}
		nm, unwanted = fittedShift, fittedUnwanted
	}
	return nm, unwanted
}

// measured brings the doubts of a layer to what a fit of its tissue left: by eye, of its amounts,
// which can be more than is usual; else it narrows them: how coats of
// one sheet differed, and how well the fit knows K and S. The standard deviations of the
// fit stand for what nine of ten cases lie within.
func (u Unknowns) measured(p pigment.Palette, layer pigment.Printer) Unknowns {
	t := p.Layer(layer).Measured
	if p.Measured != nil && p.Measured.Way == pigment.Eye && p.Measured.Doubt[layer] > 0 {
		u.Amount = math.Exp(p.Measured.Doubt[layer]/toSigma) - 1
		return u
	}
	if p.Measured == nil || t == nil {
		return u
	}
	u.Amount = min(u.Amount, math.Hypot(p.Measured.Coat, t.KSigma)/toSigma)
	u.Scatter = min(u.Scatter, math.Exp(t.SSigma/toSigma))
	return u
}

// Lighter is the print of a batch that went light, all layers alike: the recipe with
// the least pigment, and the stops by which every layer is to be exposed less. Such
// a print and Heavier are the ends of what one batch does, not of single layers that
// go their own ways; see Of.
func (u Unknowns) Lighter(r stack.Recipe) (recipe stack.Recipe, stops float64) {
	return loaded(r, 1/(1+u.Amount)), -u.Exposure
}

// Heavier is the print of a batch that went heavy.
func (u Unknowns) Heavier(r stack.Recipe) (recipe stack.Recipe, stops float64) {
	return loaded(r, 1+u.Amount), u.Exposure
}
