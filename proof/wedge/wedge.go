// Package wedge finds how a tissue answers to light from a step tablet that was printed on
// it: the wedge that a workshop prints first, read with a densitometer. Package fit finds
// more, from a whole test sheet. And how a tissue fades, from a strip that was put in the
// light.
package wedge

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/columns"
	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Step is one step of a tablet that was printed on a tissue.
type Step struct {
	Tablet float64 // density of the tablet
	Print  float64 // density of the print behind it, above the bare paper
	line   int     // of the text
}

// The numbers of steps that a wedge can have.
const LeastSteps, MostSteps = 4, 64

// Read reads steps as they are entered or pasted: a line each, the tablet's density and
// what was read of the print, the densitometer set to zero on the bare paper; see package
// columns. They are returned from the most light to the least. Where a step behind more
// density prints darker by a little, as readings repeat, both get their mean.
func Read(text string) ([]Step, error) {
	rows, err := columns.Read(text,
		columns.Column{Name: "density of the tablet", High: 8, Hint: "densities are to base 10, such as 0.15"},
		columns.Column{Name: "density of the print", Low: -repeats, High: 4, Hint: "set the densitometer to zero on the bare paper"})
	if err != nil {
		return nil, err
	}
	if n := len(rows); n < LeastSteps || n > MostSteps {
		return nil, fmt.Errorf("the wedge has %d steps; give %d to %d", n, LeastSteps, MostSteps)
	}
	if err := columns.SortByDensity(rows); err != nil {
		return nil, err
	}
	var out []Step
	for _, r := range rows {
		out = append(out, Step{r.Of, r.Reads, r.Line})
	}
	return out, settle(out)
}

// repeats is by how much readings of one tone differ (common practice, ±0.02).
const repeats = 0.02

// settle evens readings that turn back by no more than they repeat, neighbours pooled
// (M. Ayer and others, Ann. Math. Statist. 26, 1955, 641).
func settle(steps []Step) error {
	was := slices.Clone(steps)
	for i := 1; i < len(steps); i++ {
		sum, from := steps[i].Print, i
		for from > 0 && steps[from-1].Print < sum/float64(i-from+1) {
			from--
			sum += steps[from].Print
		}
		for k := from; k <= i; k++ {
			steps[k].Print = sum / float64(i-from+1)
		}
	}
	for i, s := range steps {
		if math.Abs(s.Print-was[i].Print) > repeats {
			return fmt.Errorf("line %d: behind density %g the print reads %g, which does not go with its neighbours: more density must print lighter; read it again, or leave it out", s.line, s.Tablet, was[i].Print)
		}
	}
	return nil
}

// Reading is what densities of a print were read by: the ID of a spectrum.Status, whose
// filter for the layer is taken, such as red for cyan, or Visual.
type Reading string

// Visual is the visual density of ISO 5-3.
const Visual Reading = "visual"

// Readings are all that there are.
var Readings = []Reading{"A", "T", "E", Visual}

// Curve is what a wedge says of its tissue.
type Curve struct {
	Steps []pigment.Printed // as pigment.Hardening holds them
	// Load is what the tissue's load is to be multiplied by for its whole coat to print
	// what the wedge shows, 1 where no two steps show the coat through.
	Load    float64
	Through bool // they do
}

// most is the largest amount that a step can print, in coats as they are taken to be.
const most = 4

// Of finds the curve of the tissue of a printer in a recipe, by the density that each
// amount of its layer alone has on the recipe's paper. exposure is that of the wedge, above
// 0, in the unit that thresholds of the tissue are to be in.
//
// Steps that print alike where the tablet is clearest are taken for the whole coat: heights
// then count in shares of it, whatever load the tissue is taken to have. Steps that print
// nothing but the one next to the first that does are left out.
func Of(recipe stack.Recipe, printer pigment.Printer, steps []Step, by Reading, exposure float64) (Curve, error) {
	density, err := densityOf(recipe, printer, by)
	if err != nil {
		return Curve{}, err
	}
	whole := Curve{Load: 1}
	amounts := make([]float64, len(steps))
	for i, s := range steps {
		if s.Print > density(most) {
			return Curve{}, fmt.Errorf("line %d: the print reads %g, and four coats of these pigments would not: is it read above the paper, and through the filter that is chosen?", s.line, s.Print)
		}
		amounts[i] = amountOf(density, s.Print)
	}
	through, sum := 1, steps[0].Print // steps that show the whole coat
	for through < len(steps) && steps[0].Print-steps[through].Print <= alike {
		sum += steps[through].Print
		through++
	}
	if through > 1 {
		whole.Load, whole.Through = amountOf(density, sum/float64(through)), true
	} else if amounts[0] > 1+slack {
		return Curve{}, fmt.Errorf("the wedge reaches %.2f, and the whole coat %.2f by its load: set the load to %.2f × what it is, or expose until two steps print alike", steps[0].Print, density(1), amounts[0])
	}
	nothing := len(steps)
	for nothing > 0 && steps[nothing-1].Print <= repeats {
		nothing--
	}
	coat := recipe.Palette.Layer(printer).CoatMicron
	for i := min(nothing, len(steps)-1); i >= through-1; i-- {
		height := coat * min(amounts[i]/whole.Load, 1)
		if i == nothing {
			height = 0
		}
		whole.Steps = append(whole.Steps, pigment.Printed{LogExposure: math.Log10(exposure) - steps[i].Tablet, Micron: height})
	}
	if len(whole.Steps) < 2 || nothing-through < 2 {
		return Curve{}, fmt.Errorf("only %d steps of the wedge lie between bare paper and the whole coat; use a tablet with finer steps, or another exposure", max(nothing-through+1, 0))
	}
	return whole, nil
}

// alike is how near two readings, to two decimals, are of one tone.
const alike = 0.011

// slack is by how much a step may print more than the whole coat, as readings repeat.
const slack = 0.03

// densityOf gives the density above the paper of an amount, in coats, of one layer alone.
func densityOf(recipe stack.Recipe, printer pigment.Printer, by Reading) (func(amount float64) float64, error) {
	of := func(r spectrum.Curve) float64 { return spectrum.VisualDensity(r) }
	if by != Visual {
		status, ok := spectrum.StatusByID(string(by))
		if !ok {
			return nil, fmt.Errorf("densities read by “%.20s” are not known: choose A, T, E or %s", by, Visual)
		}
		of = func(r spectrum.Curve) float64 { return status.Densities(r)[filter.Of(printer)] }
	}
	layers := recipe.Layers()
	paper := of(layers.Reflectance([3]float64{}))
	return func(amount float64) float64 {
		var t [3]float64
		t[printer] = amount
		return of(layers.Reflectance(t)) - paper
	}, nil
}

// Left is the share of a layer, up to 1, that light has left of it: of a strip of the tissue
// alone that read before, and reads after, in densities above the bare paper. Less than
// LeastStrip before says too little.
func Left(recipe stack.Recipe, printer pigment.Printer, before, after float64, by Reading) (float64, error) {
	density, err := densityOf(recipe, printer, by)
	switch {
	case err != nil:
		return 0, err
	case !(before >= LeastStrip):
		return 0, fmt.Errorf("the strip read %g before: one of density %g or more tells its fading from readings that repeat to ±%g", before, LeastStrip, repeats)
	case before > density(most):
		return 0, fmt.Errorf("the strip read %g before, and four coats of these pigments would not: is it read above the paper, and through the filter that is chosen?", before)
	case !(after <= before+repeats):
		return 0, fmt.Errorf("the strip read %g before and reads %g after: light makes no tissue darker; were the readings changed round?", before, after)
	}
	return min(amountOf(density, max(after, 0))/amountOf(density, before), 1), nil
}

// LeastStrip is the least density of a strip whose fading is read.
const LeastStrip = 0.2

// amountOf is the amount, 0 to most, that prints a density: halved until it is found, for
// more of a layer never prints lighter.
func amountOf(density func(float64) float64, d float64) float64 {
	low, high := 0.0, float64(most)
	for range 40 {
		if mid := (low + high) / 2; density(mid) < d {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
