package register

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// words says in one sentence what was found of a plate.
func words(key, other *plane.Plane, m affine.Matrix, v verdict) string {
	if v.confidence < FoundFrom {
		switch {
		case flat(key):
			return "The key shows nothing to register by: it is all one grey or nearly so; choose another key."
		case flat(other):
			return "Nothing to register by: this plate is all one grey or nearly so; place it by hand or pin marks."
		}
		if v.repeats {
			return "The picture repeats itself and fits in more than one place: place it by hand or pin marks."
		}
		if a, b := slimness(key), slimness(other); max(a, b) > 1.5*min(a, b) {
			return fmt.Sprintf("No agreement with the key, and another shape: its long side is %.1f times the short one, the key's %.1f. Another picture or a part of it; place it by hand or pin marks.", b, a)
		}
		return "No agreement with the key: another picture, too damaged, or it lies in a way that was not looked for. " + Tried + " were tried; place it by hand or pin marks."
	}
	p := m.Decompose(float64(key.W-1)/2, float64(key.H-1)/2)
	var parts []string
	turn := p.Turn
	if m.Det() < 0 {
		parts = append(parts, "mirrored")
		turn += 180 // left to right, not top to bottom
		if turn > 180 {
			turn -= 360
		}
	}
	quarter := math.Round(turn / 90)
	turn -= 90 * quarter
	switch int(math.Abs(quarter)) {
	case 1:
		parts = append(parts, "a quarter turn")
	case 2:
		parts = append(parts, "a half turn")
	}
	if math.Abs(turn) >= 0.05 {
		parts = append(parts, fmt.Sprintf("tilted %.1f°", math.Abs(turn)))
	}
	parts = append(parts, sizes(p)...)
	x, y := m.Apply(float64(key.W-1)/2, float64(key.H-1)/2)
	if d := math.Hypot(x-float64(other.W-1)/2, y-float64(other.H-1)/2); d >= 0.5 {
		parts = append(parts, fmt.Sprintf("shifted %.0f px", d))
	}
	found := "Lies as the key does"
	if len(parts) > 0 {
		found = "Against the key: " + strings.Join(parts, ", ")
	}
	switch {
	case v.outvoted > Moved:
		return found + "; but " + Elsewhere(v.outvoted, v.farthest) + "."
	case v.confidence < 0.7:
		return found + fmt.Sprintf("; but only %.0f %% of the patches agree: check it by eye.", 100*v.share)
	}
	return found + "."
}

// Tried says what was looked for when a plate is not found.
const Tried = "Turns to 15° off upright, on its side, upside down or mirrored, and 0.8 to 1.25 of the size"

// Moved is the share of outvoted places from which a plate is not in register as a
// whole, whatever the rest does. Sets of real separations left up to 0.044 on water,
// smoke and people (figures of our own).
const Moved = 0.06

// Elsewhere says that a share of the places lies elsewhere, by up to px pixels, and
// what to do.
func Elsewhere(share, px float64) string {
	var places string
	switch {
	case share > 0.55:
		places = "most of the places lie"
	case share > 0.42:
		places = "half of the places lie"
	case share > 0.29:
		places = "a third of the places lie"
	case share > 0.22:
		places = "a quarter of the places lie"
	default:
		places = fmt.Sprintf("one place in %.0f lies", 1/max(share, 0.001))
	}
	return fmt.Sprintf("%s elsewhere by up to %.0f px: the subject moved, or the film is torn; look at the edges", places, px)
}

// sizes says how much larger or smaller a plate is, both ways where they differ,
// and how it is sheared, which old film is too.
func sizes(p affine.Parts) (parts []string) {
	sx, sy := p.StretchX, math.Abs(p.StretchY)
	if across, down := 100*(sx-1), 100*(sy-1); math.Abs(across-down) >= 0.1 {
		way := func(v float64, where string) {
			if math.Abs(v) >= 0.05 {
				parts = append(parts, fmt.Sprintf("%s by %.1f %% %s", map[bool]string{true: "shrunk", false: "stretched"}[v < 0], math.Abs(v), where))
			}
		}
		way(across, "across")
		way(down, "down")
	} else if grow := 100 * (math.Sqrt(sx*sy) - 1); math.Abs(grow) >= 0.05 {
		parts = append(parts, fmt.Sprintf("%.1f %% %s", math.Abs(grow), map[bool]string{true: "smaller", false: "larger"}[grow < 0]))
	}
	if shear := math.Abs(math.Atan(p.Shear)) * 180 / math.Pi; shear >= 0.1 {
		parts = append(parts, fmt.Sprintf("sheared by %.1f°", shear))
	}
	return parts
}

// slimness is the long side over the short one.
func slimness(p *plane.Plane) float64 { return float64(max(p.W, p.H)) / float64(min(p.W, p.H)) }

// flat says whether a plate carries no more than noise of one step in 64.
func flat(p *plane.Plane) bool {
	lo, hi := uint16(math.MaxUint16), uint16(0)
	step := max(len(p.Pix)/4096, 1)
	for i := 0; i < len(p.Pix); i += step {
		lo, hi = min(lo, p.Pix[i]), max(hi, p.Pix[i])
	}
	return hi-lo < 256
}
