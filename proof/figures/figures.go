// Package figures gathers the figures of a recipe in the form that the page shows them:
// what it reaches, its black by other lights, its grey balance; and how sure the colours
// of its print are. What they mean is said where they are computed: reach, balance and
// spread.
package figures

import (
	"math"
	"strings"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/reach"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Figures are the figures of one recipe.
type Figures struct {
	Volume  float64     `json:"volume"`  // of the solid, CIELAB units cubed
	Outline []float64   `json:"outline"` // largest chroma at equal steps of hue from 0°
	Slices  [][]float64 `json:"slices"`  // largest chroma at L* 0, 2 … 100, by the same steps of hue; -1 where there is nothing
	Drift   []Drift     `json:"drift"`   // of the black, the chosen light first
	Balance Balance     `json:"balance"`

	Density float64        `json:"density"` // visual, of the black
	Deeper  balance.Deeper `json:"deeper"`  // what it would be otherwise
}

// Drift is the black by one light.
type Drift struct {
	Light  string       `json:"light"`
	Name   string       `json:"name"`
	Lab    spectrum.Lab `json:"lab"`
	DeltaE float64      `json:"dE"` // ΔE00 from the first
}

// Balance is the neutral scale, by which thicknesses it is made and how well it is held.
type Balance struct {
	L     []float64            `json:"L"`     // print L*, paper first
	T     map[string][]float64 `json:"t"`     // relative thickness by printer
	Worst float64              `json:"worst"` // largest ΔE00 from the aim
	Lost  *[2]float64          `json:"lost"`  // L* between which the greys are not held, null where they all are

	Even    bool    `json:"even"`    // no grey scale: the layers are laid alike
	Greyest float64 `json:"greyest"` // L* of the deepest grey, where Even
}

const (
	hues  = 72
	nodes = 33 // an axis of the cube that the skin is taken from
)

// Of computes the figures of a recipe in a light. limit is the thickest that a layer may
// be, as a share of its coat.
func Of(r stack.Recipe, light spectrum.Light, limit float64) Figures {
	solid := reach.New(cube.New(r, light, nodes), limit)
	scale := balance.Neutral(r, light, limit)
	return Figures{
		Volume: solid.Volume(), Outline: solid.Outline(hues), Slices: slicesOf(solid.Shell(scale)),
		Drift: drifts(light, r, scale.Depth.Thickness), Balance: balanceOf(scale),
		Density: scale.Depth.VisualDensity, Deeper: balance.HowDeep(r, light, limit),
	}
}

// slicesOf are the outlines of the solid in L*C*, chroma to a tenth: plots need no
// more.
func slicesOf(shell *reach.Shell) [][]float64 {
	const each = (reach.Levels - 1) / 50
	out := make([][]float64, hues)
	for k := range out {
		for l, chroma := range shell.Slice(360 * float64(k) / hues) {
			if l%each == 0 {
				out[k] = append(out[k], math.Round(10*chroma)/10)
			}
		}
	}
	return out
}

// drifts looks at the amounts t, balanced for the chosen light, by other lights.
func drifts(chosen spectrum.Light, r stack.Recipe, t [3]float64) []Drift {
	var out []Drift
	for _, d := range balance.DriftsFrom(chosen, r, t) {
		light, _ := spectrum.LightByID(d.Light)
		name, _, _ := strings.Cut(light.Name, ",")
		out = append(out, Drift{d.Light, name, d.Lab, d.DeltaE})
	}
	return out
}

func balanceOf(s balance.Scale) Balance {
	b := Balance{L: s.L, T: map[string][]float64{}, Even: s.Even, Greyest: s.Greyest}
	for _, p := range pigment.Printers() {
		for _, t := range s.T {
			b.T[p.String()] = append(b.T[p.String()], t[p])
		}
	}
	from, to, worst, lost := s.Strays()
	b.Worst = worst
	if lost {
		last := float64(len(s.L) - 1)
		first, end := int(math.Round(from*last)), int(math.Round(to*last))
		b.Lost = &[2]float64{crossing(s, first-1, first), crossing(s, end+1, end)}
	}
	return b
}

// crossing returns the L* at which the residual passes what counts as held,
// between a point that is held and its neighbour that is not. The ends of the
// scale are held: they are their own aims.
func crossing(s balance.Scale, held, lost int) float64 {
	w := (balance.Held - s.Residual[held]) / (s.Residual[lost] - s.Residual[held])
	return s.L[held] + w*(s.L[lost]-s.L[held])
}
