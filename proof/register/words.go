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
	if v.confidence < 0.3 {
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
		return "No agreement with the key: another picture, or too damaged; place it by hand or pin marks."
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
	if grow := 100 * (math.Sqrt(math.Abs(m.Det())) - 1); math.Abs(grow) >= 0.05 {
		way := "larger"
		if grow < 0 {
			way = "smaller"
		}
		parts = append(parts, fmt.Sprintf("%.1f %% %s", math.Abs(grow), way))
	}
	x, y := m.Apply(float64(key.W-1)/2, float64(key.H-1)/2)
	if d := math.Hypot(x-float64(other.W-1)/2, y-float64(other.H-1)/2); d >= 0.5 {
		parts = append(parts, fmt.Sprintf("shifted %.0f px", d))
	}
	found := "Lies as the key does"
	if len(parts) > 0 {
		found = "Against the key: " + strings.Join(parts, ", ")
	}
	if v.confidence < 0.7 {
		return found + fmt.Sprintf("; but only %.0f %% of the patches agree: check it by eye.", 100*v.share)
	}
	return found + "."
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
