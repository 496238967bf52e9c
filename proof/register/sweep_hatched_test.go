package register

import (
	"math"
	"testing"
)

// ruled draws a scene as an engraver would, in lines that are the broader the darker it is
// there: a few pixels apart, slanting, straight or waved, and crossed by others in half of
// the scenes. What repeats itself so fits itself a few pixels further on.
func (h *heldOut) ruled(s *scene) *scene {
	out := &scene{name: s.name + ", ruled", w: s.w, h: s.h}
	for c := range out.rgb {
		out.rgb[c] = make([]float32, len(s.rgb[c]))
	}
	period, waves, crossed := h.between(4, 12), h.between(0, 3), h.rnd.IntN(2) == 0
	if h.rnd.IntN(3) == 0 {
		waves = 0
	}
	type family struct{ sin, cos, phase float64 }
	slant := math.Pi * h.rnd.Float64()
	var lines []family
	for _, turn := range []float64{0, h.between(0.8, 1.6)} {
		sin, cos := math.Sincos(slant + turn)
		lines = append(lines, family{sin, cos, h.between(0, 2*math.Pi)})
	}
	const paper, ink, deepest = 0.85, 0.03, 0.9 // light, and the share of ink in black
	edge := math.Pi / period                    // of the cosine over half a pixel or so
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			light := 0.3*s.rgb[0][i] + 0.5*s.rgb[1][i] + 0.2*s.rgb[2][i]
			dark := deepest * (1 - math.Pow(min(max(float64(light), 0), 1), 1/2.2))
			inked := 0.0
			for k, l := range lines {
				if k > 0 && !crossed {
					break
				}
				along, across := float64(x)*l.cos+float64(y)*l.sin, float64(y)*l.cos-float64(x)*l.sin
				line := math.Cos(2*math.Pi*across/period + waves*math.Sin(along/40) + l.phase)
				inked = max(inked, min(max((line-math.Cos(math.Pi*dark))/(2*edge)+0.5, 0), 1))
			}
			for c := range out.rgb {
				out.rgb[c][i] = float32(paper + (ink-paper)*inked)
			}
		}
	}
	return out
}

// TestSweepRuled has pictures that are all lines, as engravings and textiles: no plate is
// believed that is not where it is found, whole ones are not called parted, and of those
// that are found parts that moved are said and the range holds the truth.
func TestSweepRuled(t *testing.T) {
	sweeps(t)
	h := newHeldOut(t, 6)
	h.draw = h.ruled
	const sets = 20
	still := h.maps(t, sets)
	moved := h.movedParts(t, sets)
	bent := h.ranges(t, sets)
	if still.wrong+moved.wrong > 0 || moved.alarms > 0 || moved.unsaid > 0 || bent.held < bent.found*19/20 {
		t.Errorf("%d and %d are believed and wrong, %d moved parts are not said, %d whole plates are called parted, the range holds %d of %d", still.wrong, moved.wrong, moved.unsaid, moved.alarms, bent.held, bent.found)
	}
}
