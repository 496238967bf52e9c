package balance

import (
	"threeply/proof/cube"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Steps is the number of points of a Scale.
const Steps = 65

// Depth is the deepest neutral of a recipe.
type Depth struct {
	Lab           spectrum.Lab
	VisualDensity float64
	Thickness     [3]float64 // relative, by printer
}

// Scale is a grey scale from bare paper to the depth, in steps equal in L*.
type Scale struct {
	L        []float64    // print L*
	T        [][3]float64 // relative thickness by printer, never falling
	Residual []float64    // ΔE00 of the print from the aim
	Depth    Depth
	Paper    spectrum.Lab

	// Even says that the tissues give no grey scale worth the name: they
	// reach neutrals down to Greyest alone, less than half the way in L* to what
	// their full coats give. The layers are then laid alike, and the depth is
	// those coats, of whatever colour.
	Even    bool
	Greyest float64 // L*
}

// leastGrey is the share of the way from the paper to the full coats, in L*,
// that a grey scale must reach. All built-in palettes reach far more, on any
// paper and surface; a tissue that is far too weak, or nearly grey itself, does not.
const leastGrey = 0.5

// Neutral finds the depth and the grey balance of a recipe in one light.
//
// The depth is the deepest colour with a* = b* = 0 that the layers give with no
// thickness above limit, the whole coat at most, wherever it lies among their
// amounts. A scale that ends in the upper half of the lightness keeps some of the
// paper's tint at its end; pigments that give no neutral at all end it at once.
// The aim of a tone between fades from the paper's own a*, b* to the depth's, faster
// than L* does. Thicknesses never fall towards
// the depth, for a layer that grew thinner towards the black could not be printed
// from any negative; where that, or the limit, or a pigment keeps the aim from being
// held, Residual says by how much. Tissues that give next to no grey get an Even
// scale.
func Neutral(r stack.Recipe, light spectrum.Light, limit float64) Scale {
	return NeutralByPieces(r, light, limit, func() {})
}

// NeutralByPieces is Neutral with a pause between pieces of the work.
func NeutralByPieces(r stack.Recipe, light spectrum.Light, limit float64, pause func()) Scale {
	s := newSolver(r, light)
	s.pause = pause
	limit = min(limit, cube.Max)
	paper, _ := s.lab([3]float64{})
	depth, trace := s.depth(paper, limit)
	spectra := s.layers.Reflectance(depth)
	end := light.Lab(spectra)
	full, _ := s.lab([3]float64{limit, limit, limit})
	if paper[0]-end[0] < leastGrey*(paper[0]-full[0]) {
		return s.even(paper, limit, end[0])
	}

	out := Scale{
		L: make([]float64, Steps), T: make([][3]float64, Steps), Residual: make([]float64, Steps),
		Depth: Depth{Lab: end, VisualDensity: spectrum.VisualDensity(spectra), Thickness: depth},
		Paper: paper,
	}
	out.T[Steps-1], out.L[0], out.L[Steps-1] = depth, paper[0], end[0]
	var t [3]float64
	for i := 1; i < Steps-1; i++ {
		u := float64(i) / (Steps - 1)
		aim := fade(paper, end, u)
		start := trace.at(aim[0])
		var lab spectrum.Lab
		t, lab = s.fit(start, aim, &euclid, bounds{t, depth})
		out.T[i], out.L[i], out.Residual[i] = t, lab[0], spectrum.DeltaE00(lab, aim)
	}
	return out
}

// even is the scale of layers laid alike, in steps equal in L*.
func (s *solver) even(paper spectrum.Lab, limit, greyest float64) Scale {
	alike := func(x float64) ([3]float64, spectrum.Lab) {
		t := [3]float64{x, x, x}
		lab, _ := s.lab(t)
		return t, lab
	}
	depth, end := alike(limit)
	out := Scale{
		L: make([]float64, Steps), T: make([][3]float64, Steps), Residual: make([]float64, Steps),
		Depth: Depth{Lab: end, VisualDensity: spectrum.VisualDensity(s.layers.Reflectance(depth)), Thickness: depth},
		Paper: paper, Even: true, Greyest: greyest,
	}
	for i := range out.L {
		l := paper[0] + float64(i)/(Steps-1)*(end[0]-paper[0])
		low, high := 0.0, limit
		for range 40 {
			if _, lab := alike((low + high) / 2); lab[0] > l {
				low = (low + high) / 2
			} else {
				high = (low + high) / 2
			}
		}
		t, lab := alike(high)
		w := (paper[0] - l) / paper[0]
		aim := spectrum.Lab{l, paper[1] * (1 - w), paper[2] * (1 - w)}
		out.T[i], out.L[i], out.Residual[i] = t, lab[0], spectrum.DeltaE00(lab, aim)
	}
	out.T[0], out.L[0], out.Residual[0] = [3]float64{}, paper[0], 0
	return out
}

// Held is the CIEDE2000 difference from the aim up to which a tone counts as
// held.
const Held = 0.5

// Strays returns the stretch of tones, 0 paper to 1 depth, from the first that
// is not held to the last, and the largest residual. ok is false where the
// whole scale is held.
func (s Scale) Strays() (from, to, worst float64, ok bool) {
	for i, r := range s.Residual {
		worst = max(worst, r)
		if r <= Held {
			continue
		}
		to = float64(i) / float64(len(s.Residual)-1)
		if !ok {
			from, ok = to, true
		}
	}
	return from, to, worst, ok
}

// fade is the aim at u between paper (0) and depth (1): the lightness goes evenly,
// the tint with the square of what is left of the way. So the lights join the
// paper smoothly, and from the middle tones on a grey is grey: half way a quarter
// of the paper's tint is left (a choice; ISO 12647-2 lets it go evenly).
func fade(paper, depth spectrum.Lab, u float64) spectrum.Lab {
	left := (1 - u) * (1 - u)
	return spectrum.Lab{
		paper[0] + u*(depth[0]-paper[0]),
		depth[1] + left*(paper[1]-depth[1]),
		depth[2] + left*(paper[2]-depth[2]),
	}
}
