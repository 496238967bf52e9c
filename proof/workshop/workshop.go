// Package workshop holds what a workshop has and how it works, as its people enter it:
// exposures in the units of their lamp, sensitisers, coats, times and temperatures. Times
// that nobody has set are common practice.
package workshop

import (
	"fmt"
	"math"

	"threeply/proof/coating"
)

// Units of an exposure.
const (
	Seconds = "seconds"
	Lights  = "units" // light units of an integrator
)

// Ways of register on the bench.
const (
	ByPins  = "pins"
	ByMarks = "marks"
)

// Workshop is all of it.
type Workshop struct {
	Unit     string        `json:"unit"`     // of exposures: Seconds or Lights
	Layers   [3]Sensitised `json:"layers"`   // by printer
	Register string        `json:"register"` // ByPins or ByMarks
	Process  Process       `json:"process"`
	Grows    Expansion     `json:"grows"`
}

// Sensitised is what is known of one tissue at the lamp.
type Sensitised struct {
	Exposure   float64        `json:"exposure"`     // base exposure, through clear film, of the depth; 0: not measured
	Sensitiser string         `json:"sensitiser"`   // its name
	Strength   float64        `json:"strength_pct"` // of its bath; 0: not said
	Coat       coating.Recipe `json:"coat,omitzero"`

	// Of a drawdown of the mix on clear film: its transmission density at the pigment's
	// peak, and how high it was drawn wet, in mm. 0 where there is none.
	Drawdown    float64 `json:"drawdown,omitzero"`
	DrawdownWet float64 `json:"drawdown_wet_mm,omitzero"`
}

// Load is the load of the tissue by its drawdown. ok is false where it is not known.
func (s Sensitised) Load() (load float64, ok bool) {
	if !s.Coat.Given() || s.Drawdown == 0 || s.DrawdownWet == 0 {
		return 0, false
	}
	return s.Coat.Load(s.Drawdown, s.DrawdownWet), true
}

// Process are the times and temperatures of the wet side.
type Process struct {
	Film      bool    `json:"film"`         // the tissue is coated on thin film; else on paper
	Soak      float64 `json:"soak_min"`     // in cold water, until flat
	Mate      float64 `json:"mate_min"`     // under weight or squeegee on the support
	Develop   float64 `json:"develop_c"`    // where development begins, °C
	Most      float64 `json:"develop_to_c"` // how warm it may get, °C
	Alum      float64 `json:"alum_pct"`     // strength of the alum bath
	AlumTime  float64 `json:"alum_min"`     // in it
	Condition float64 `json:"condition_h"`  // films and papers in one climate
	Settle    float64 `json:"settle_h"`     // before a print is measured
	Humidity  float64 `json:"humidity_pct"` // relative, of the room
}

// Expansion is how much a sheet grows for 10 % of relative humidity more, in %.
type Expansion struct {
	FilmAlong     float64 `json:"film_along_pct"`
	FilmAcross    float64 `json:"film_across_pct"`
	PaperAlong    float64 `json:"paper_along_pct"`
	PaperAcross   float64 `json:"paper_across_pct"`
	SupportAlong  float64 `json:"support_along_pct"`
	SupportAcross float64 `json:"support_across_pct"`
}

// Usual is what a workshop begins with: times and temperatures are common practice;
// polyester film grows by 0.0008 % for each % of humidity (second-hand).
var Usual = Workshop{
	Unit: Seconds, Register: ByMarks,
	Process: Process{Soak: 4, Mate: 15, Develop: 40, Most: 49, Alum: 5, AlumTime: 5, Condition: 24, Settle: 24, Humidity: 50},
	Grows:   Expansion{FilmAlong: 0.008, FilmAcross: 0.008, SupportAlong: 0.008, SupportAcross: 0.008},
}

// LeastDevelop and MostDevelop are the temperatures in °C between which development is
// done (common practice).
const LeastDevelop, MostDevelop = 32, 49

// Check returns what cannot be worked by, or nil.
func (w Workshop) Check() error {
	if w.Process.Most < w.Process.Develop {
		return fmt.Errorf("development begins at %g °C and may not get warmer than %g °C", w.Process.Develop, w.Process.Most)
	}
	return nil
}

// UnitName is the unit in words.
func (w Workshop) UnitName() string {
	if w.Unit == Lights {
		return "light units"
	}
	return "s"
}

// Exposed is the exposure of a layer by so many stops more, in the workshop's unit, as
// it is set at the lamp: in words, "" where nothing was measured.
func (w Workshop) Exposed(printer int, stops float64) string {
	said := w.AtLamp(printer, stops)
	if minutes := w.Minutes(printer, stops); minutes != "" {
		said += " (" + minutes + ")"
	}
	return said
}

// AtLamp is the same as one figure.
func (w Workshop) AtLamp(printer int, stops float64) string {
	e := w.exposure(printer, stops)
	switch {
	case e == 0:
		return ""
	case e >= 100:
		return fmt.Sprintf("%.0f %s", e, w.UnitName())
	}
	return fmt.Sprintf("%.3g %s", e, w.UnitName())
}

// Minutes is that exposure in minutes and seconds: "" where it is shorter than two minutes
// or not a time.
func (w Workshop) Minutes(printer int, stops float64) string {
	e := w.exposure(printer, stops)
	if w.Unit != Seconds || e < 120 {
		return ""
	}
	whole := int(math.Round(e))
	return fmt.Sprintf("%d min %02d s", whole/60, whole%60)
}

func (w Workshop) exposure(printer int, stops float64) float64 {
	return w.Layers[printer].Exposure * math.Exp2(stops)
}

// Slip is by how much, in mm, a length of a sheet grows when the room gets more humid by
// so many % of relative humidity; per10 is the sheet's figure of Expansion.
func Slip(mm, per10, humidity float64) float64 { return mm * per10 / 100 * humidity / 10 }
