// Package coating follows a tissue's recipe from the pot to the dry coat: what lies on a
// square metre, how high it is, and how high it is once the wash has taken the sugar.
package coating

import "fmt"

// Recipe is what is poured, and how high. The zero Recipe is none.
type Recipe struct {
	Pigment  float64 `json:"pigment_gl"`   // dry pigment, g in a litre of the mix
	Gelatine float64 `json:"gelatine_pct"` // % w/v, g in 100 ml
	Sugar    float64 `json:"sugar_pct"`    // % w/v
	Wet      float64 `json:"wet_mm"`       // height of the wet coat
}

// solids is the density of a dry coat of gelatine, sugar and pigment, in g/cm³: FACTS
// of the trade count with 1.35 (derived from gelatine's, from memory).
const solids = 1.35

// Given tells whether there is a recipe.
func (r Recipe) Given() bool { return r.Wet > 0 && r.Gelatine > 0 }

// Coat is the weight of the dry coat in g/m²: a wet coat of 1 mm is a litre on a square
// metre.
func (r Recipe) Coat() float64 { return r.Wet * (r.Pigment + 10*r.Gelatine + 10*r.Sugar) }

// PigmentCoat is the weight of the pigment alone, in g/m².
func (r Recipe) PigmentCoat() float64 { return r.Wet * r.Pigment }

// Exposed is the height of the dry coat as it lies under the lamp, in µm.
func (r Recipe) Exposed() float64 { return r.Coat() / solids }

// Relief is the height that is left of the whole coat after the wash, in µm: sugar
// goes out with the water.
func (r Recipe) Relief() float64 { return (r.Coat() - 10*r.Sugar*r.Wet) / solids }

// Load is the pigment in the coat against one of which a drawdown on clear film reads the
// transmission density 1.0 at the pigment's peak, which is load 1. drawdown is the
// density that the drawdown of this very mix read, and wet the height at which it was
// drawn, in mm, above 0: pigment adds up, so density does (the law of Bouguer, Lambert and
// Beer).
func (r Recipe) Load(drawdown, wet float64) float64 {
	return drawdown * r.Wet / wet
}

// Weighed says what a coat of so many cm² must weigh dry, in g, to check it by: weigh
// the sheet before and after.
func (r Recipe) Weighed(area float64) float64 { return r.Coat() * area / 1e4 }

// Words is the recipe in a line.
func (r Recipe) Words() string {
	return fmt.Sprintf("%.4g g/l pigment, %.4g %% gelatine, %.4g %% sugar, %.4g mm wet: %.0f g/m², of it %.2g g/m² pigment; %.0f µm dry, of which the wash leaves %.0f µm at most",
		r.Pigment, r.Gelatine, r.Sugar, r.Wet, r.Coat(), r.PigmentCoat(), r.Exposed(), r.Relief())
}
