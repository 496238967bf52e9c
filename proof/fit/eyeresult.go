package fit

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/stack"
)

// result tells what was seen as a fit tells what was read: nothing measured, nothing held out.
func (g *glance) result(x, cov []float64, seen pigment.Seen, greys toldGreys) *Result {
	out := &Result{
		Patches: []Patch{}, Layers: map[string]Layer{}, LeftAtPrior: []string{}, LeftOut: []string{}, Notes: []string{},
		Way: pigment.Eye, Optics: [...]string{stack.TwoFlux: "two-flux", stack.Angular: "angular"}[g.recipe.Optics()],
		Expected: g.expected(x, cov), paper: g.recipe.Paper.R, seen: &seen, told: greys.sheets,
	}
	for _, p := range pigment.Printers() {
		g.told(p, x, cov, out)
		if l := seen.Layer(p); l.Density == 0 {
			out.LeftAtPrior = append(out.LeftAtPrior, fmt.Sprintf("load of the %s layer, but for what the neutral tells", p))
		}
	}
	out.LeftAtPrior = append(out.LeftAtPrior, "shape of the layers' absorption", "scattering", "amounts between the steps that were named")
	next := "read the sheet with a scanner or an instrument"
	switch {
	case greys.missing:
		next = "print the sheet of these tissues: of a block of greys no neutral was named"
	case greys.ends:
		next = "print the sheet of these tissues: a neutral may lie beyond its block of greys"
	case greys.wide:
		next = "print the sheet of these tissues: its greys go by finer steps"
	case g.moved(x) > mostMoved:
		next = "print the sheet of these tissues: its greys lie nearer"
	case slices.Min(greys.sheets[:]) < enoughTold || g.spread(x, cov) > mostSpread:
		next = "print the sheet of these tissues: coats differ, and only the mean of several sheets is sure"
	}
	out.Sentence = fmt.Sprintf("Judged by eye: errors of about ΔE00 %.0f must be expected in this proof. Next, %s.", out.Expected, next)
	return out
}

// doubt is the standard deviation of the natural logarithm of what a layer has in the middle of
// its curve, load and amount together.
func (g *glance) doubt(layer int, x, cov []float64) float64 {
	middle := (x[layer] + x[3+layer]) / 2
	return min(deviation(x, cov, func(x []float64) float64 {
		return x[6+layer] + math.Log(max(relief.Along(g.curve(layer, x), middle), 1e-3))
	}), pigment.MostSigma)
}

// deviation is the standard deviation of what unknowns of a covariance make.
func deviation(x, cov []float64, of func(x []float64) float64) float64 {
	const step = 1e-4
	n, at := len(x), of(x)
	slopes := make([]float64, n)
	for i := range x {
		moved := slices.Clone(x)
		moved[i] += step
		slopes[i] = (of(moved) - at) / step
	}
	variance := 0.0
	for i, u := range slopes {
		for j, v := range slopes {
			variance += u * v * cov[i*n+j]
		}
	}
	return math.Sqrt(max(variance, 0))
}

// told is what was found of one layer.
func (g *glance) told(p pigment.Printer, x, cov []float64, out *Result) {
	n, l := len(x), int(p)
	one := Layer{
		Scatter: 1, ScatterSigma: eyeScatter, LoadSigma: math.Sqrt(cov[(6+l)*n+6+l]),
		Threshold: x[l], Through: x[3+l] < -0.05, Curve: []Step{},
	}
	wedge := slices.Clone(g.wedges[p])
	slices.Reverse(wedge)
	for _, step := range wedge {
		has := func(x []float64) float64 { return relief.Along(g.curve(l, x), step.LogE[p]) }
		one.Curve = append(one.Curve, Step{step.LogE[p], has(x), deviation(x, cov, has)})
	}
	t := g.recipe.Palette.Layer(p)
	t.Load = min(max(t.Load*math.Exp(x[6+l]), pigment.LeastLoad), pigment.MostLoad)
	t.Hardening = pigment.Hardening{Wedge: g.curve(l, x)}
	for k := range t.Hardening.Wedge {
		t.Hardening.Wedge[k].Micron *= t.CoatMicron
	}
	// The first step that held is thicker than what the wash takes.
	first := slices.IndexFunc(one.Curve, func(s Step) bool { return s.Amount > 0 })
	one.HoldOn = min(one.Curve[max(first, 0)].Amount, relief.DefaultHoldOn/t.CoatMicron)
	hold := one.HoldOn * t.CoatMicron
	t.Hardening.HoldOnMicron = &hold
	one.Load = t.Load
	out.Layers[p.String()] = one
	out.tissues[p], out.doubt[p] = t, g.doubt(l, x, cov)
}
