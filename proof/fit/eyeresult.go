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
		Expected: g.expected(x, cov), paper: g.recipe.Paper.R, seen: &seen,
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
		next = "look for the neutral of each block of greys"
	case greys.ends:
		next = "print the sheet of these tissues: a neutral may lie beyond its block of greys"
	case greys.wide:
		next = "print the sheet of these tissues: its greys go by finer steps"
	}
	out.Sentence = fmt.Sprintf("Judged by eye: errors of about ΔE00 %.0f must be expected in this proof. Next, %s.", out.Expected, next)
	return out
}

// From the exposure on at which a layer is through it has nextToAll of its coat, and the rest
// at the base exposure, so that this stays the base; leastRise is the log exposure from which
// on the two are told apart.
const (
	nextToAll = 0.99
	leastRise = 0.02
	eyeKnots  = 8 // between the two ends of a curve
)

// doubt is the standard deviation of the natural logarithm of what a layer has in the middle of
// its curve, load and amount together.
func (g *glance) doubt(layer int, x, cov []float64) float64 {
	n, middle := len(x), (x[layer]+x[3+layer])/2
	has := func(x []float64) float64 { return x[6+layer] + math.Log(max(amount(x, layer, middle), 1e-3)) }
	var slopes [5]float64 // by where it begins and ends, load, bend and skew
	for k := range slopes {
		const step = 1e-4
		moved := slices.Clone(x)
		moved[3*k+layer] += step
		slopes[k] = (has(moved) - has(x)) / step
	}
	variance := 0.0
	for a, u := range slopes {
		for b, v := range slopes {
			variance += u * v * cov[(3*a+layer)*n+3*b+layer]
		}
	}
	return min(math.Sqrt(max(variance, 0)), pigment.MostSigma)
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
		at, variance := amount(x, l, step.LogE[p]), 0.0
		var slope [2]float64 // by where it begins and where it ends
		for k, i := range [2]int{l, 3 + l} {
			moved := slices.Clone(x)
			moved[i] += 1e-3
			slope[k] = (amount(moved, l, step.LogE[p]) - at) / 1e-3
		}
		for a, i := range [2]int{l, 3 + l} {
			for b, j := range [2]int{l, 3 + l} {
				variance += slope[a] * slope[b] * cov[i*n+j]
			}
		}
		one.Curve = append(one.Curve, Step{step.LogE[p], at, math.Sqrt(max(variance, 0))})
	}
	t := g.recipe.Palette.Layer(p)
	t.Load = min(max(t.Load*math.Exp(x[6+l]), pigment.LeastLoad), pigment.MostLoad)
	t.Hardening = pigment.Hardening{Wedge: []pigment.Printed{{LogExposure: x[l]}}}
	for k := 1; k <= eyeKnots; k++ {
		at := x[l] + (x[3+l]-x[l])*float64(k)/eyeKnots
		below := t.Hardening.Wedge[k-1].Micron
		t.Hardening.Wedge = append(t.Hardening.Wedge, pigment.Printed{LogExposure: at, Micron: max(nextToAll*t.CoatMicron*amount(x, l, at), below)})
	}
	if x[3+l] < -leastRise { // what the light above adds is not seen, and is next to nothing
		t.Hardening.Wedge = append(t.Hardening.Wedge, pigment.Printed{})
	}
	t.Hardening.Wedge[len(t.Hardening.Wedge)-1] = pigment.Printed{LogExposure: 0, Micron: t.CoatMicron}
	// The first step that held is thicker than what the wash takes.
	first := slices.IndexFunc(one.Curve, func(s Step) bool { return s.Amount > 0 })
	one.HoldOn = min(one.Curve[max(first, 0)].Amount, relief.DefaultHoldOn/t.CoatMicron)
	hold := one.HoldOn * t.CoatMicron
	t.Hardening.HoldOnMicron = &hold
	one.Load = t.Load
	out.Layers[p.String()] = one
	out.tissues[p], out.doubt[p] = t, g.doubt(l, x, cov)
}
