package spread

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Limits are the relative half spreads within which the inputs of a proof are
// taken to lie: 0.1 is ±10 %.
type Limits struct {
	Load      float64 `json:"load"`      // pigment in each tissue
	Thickness float64 `json:"thickness"` // of each layer
	Haze      float64 `json:"haze"`      // scattering, the least certain
	Finish    bool    `json:"finish"`    // the surface may be one finish glossier or duller
}

// Default is what hand coating and spectra of other preparations leave open.
// Assumed, not measured.
var Default = Limits{Load: 0.10, Thickness: 0.10, Haze: 0.50, Finish: true}

// Check refuses limits that are no spreads.
func (l Limits) Check() error {
	for _, f := range []struct {
		name string
		v    float64
	}{{"load", l.Load}, {"thickness", l.Thickness}, {"haze", l.Haze}} {
		if !(f.v >= 0 && f.v <= 0.9) {
			return fmt.Errorf("the spread of %s is %g; give 0 to 0.9, such as 0.1 for ±10 %%", f.name, f.v)
		}
	}
	return nil
}

// Cause is one unknown and what it does to a colour.
type Cause struct {
	What   string  // "load", "thickness", "haze" or "surface"
	Layer  string  // the printer, empty for the surface
	DeltaE float64 // the larger CIEDE2000 change of its two ends
}

// Result is how sure one colour is.
type Result struct {
	Likely, Lighter, Heavier spectrum.Lab
	DeltaE                   float64 // root of the summed squares of all causes
	Causes                   []Cause // strongest first
}

// Of returns how sure the colour of the amounts t is. Each unknown is moved to
// both its ends alone; the unknowns are taken to be independent, so that their
// effects add as squares do. Lighter and Heavier move load and thickness of all
// layers together, the way a batch or an exposure goes.
func (l Limits) Of(r stack.Recipe, light spectrum.Light, t [3]float64) Result {
	look := func(r stack.Recipe, t [3]float64) spectrum.Lab { return light.Lab(r.Reflectance(t)) }
	out := Result{Likely: look(r, t)}
	out.Lighter, out.Heavier = look(l.Lighter(r), l.lighter(t)), look(l.Heavier(r), l.heavier(t))
	add := func(what, layer string, ends ...spectrum.Lab) {
		worst := 0.0
		for _, e := range ends {
			worst = max(worst, spectrum.DeltaE00(out.Likely, e))
		}
		if worst > 0 {
			out.Causes = append(out.Causes, Cause{what, layer, worst})
			out.DeltaE += worst * worst
		}
	}
	for _, p := range pigment.Printers() {
		ends := func(spread float64, change func(tissue *pigment.Tissue, f float64)) []spectrum.Lab {
			var labs []spectrum.Lab
			for _, f := range []float64{1 - spread, 1 + spread} {
				moved, tissue := r, r.Palette.Layer(p)
				change(&tissue, f)
				moved.Palette = r.Palette.WithLayer(p, tissue)
				labs = append(labs, look(moved, t))
			}
			return labs
		}
		add("load", p.String(), ends(l.Load, func(t *pigment.Tissue, f float64) { t.Load *= f })...)
		add("haze", p.String(), ends(l.Haze, func(t *pigment.Tissue, f float64) { t.Haze *= f })...)
		thin, thick := t, t
		thin[p] *= 1 - l.Thickness
		thick[p] *= 1 + l.Thickness
		add("thickness", p.String(), look(r, thin), look(r, thick))
	}
	if l.Finish {
		var ends []spectrum.Lab
		for _, s := range neighbours(r.Surface) {
			moved := r
			moved.Surface = s
			ends = append(ends, look(moved, t))
		}
		add("surface", "", ends...)
	}
	out.DeltaE = math.Sqrt(out.DeltaE)
	slices.SortStableFunc(out.Causes, func(a, b Cause) int { return cmp.Compare(b.DeltaE, a.DeltaE) })
	return out
}

// neighbours are the finishes next to a surface, by the veil K0.
func neighbours(s stack.Surface) []stack.Surface {
	var less, more *stack.Surface
	for _, f := range stack.Finishes() {
		if v := f.Surface; v.K0 < s.K0 {
			less = &v
		} else if v.K0 > s.K0 && more == nil {
			more = &v
		}
	}
	var out []stack.Surface
	for _, n := range []*stack.Surface{less, more} {
		if n != nil {
			out = append(out, *n)
		}
	}
	return out
}

// Lighter returns the recipe with less pigment everywhere, to be shown with
// thinner layers: multiply every thickness by 1 - l.Thickness.
func (l Limits) Lighter(r stack.Recipe) stack.Recipe { return loaded(r, 1-l.Load) }

// Heavier returns the recipe with more pigment everywhere, to be shown with
// thicker layers: multiply every thickness by 1 + l.Thickness.
func (l Limits) Heavier(r stack.Recipe) stack.Recipe { return loaded(r, 1+l.Load) }

func loaded(r stack.Recipe, f float64) stack.Recipe {
	for _, p := range pigment.Printers() {
		t := r.Palette.Layer(p)
		t.Load *= f
		r.Palette = r.Palette.WithLayer(p, t)
	}
	return r
}

func (l Limits) lighter(t [3]float64) [3]float64 { return scaled(t, 1-l.Thickness) }
func (l Limits) heavier(t [3]float64) [3]float64 { return scaled(t, 1+l.Thickness) }

func scaled(t [3]float64, f float64) [3]float64 { return [3]float64{t[0] * f, t[1] * f, t[2] * f} }
