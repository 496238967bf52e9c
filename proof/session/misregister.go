package session

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/pigment"
)

// Misregister is how far two layers of the print lie apart over the picture.
type Misregister struct {
	Largest, P95   float64         // µm on the print, over a grid of the picture, any two layers
	First, Second  pigment.Printer // the two layers of Largest
	X, Y           float64         // its place, in key pixels
	Moved          float64         // the same by the offsets alone, µm
	Left           float64         // what register itself leaves, median of the worse plate, pixels
	Threshold      float64         // µm: the user's own tolerance, or the eye's
	FromTolerance  bool            // Threshold is the user's
	Sign           string          // "in", "near" or "out"
	Sentence       string
	LeastConfident float64 // of the automatic register, 0 … 1
}

// grid is the number of places a side at which layers are compared. Affine
// offsets differ most at the corners, which a grid from edge to edge includes.
const grid = 9

// Misregister compares the offsets of the three layers with each other over
// the picture. What the automatic register left (Found.Median of each plate) is
// added in quadrature, since a layer that lies where register put it still
// carries register's own residual.
func (s *State) Misregister() Misregister {
	w, h := s.Frame()
	um := s.PixelMicrons()
	var maps [3]affine.Matrix
	for p := range maps {
		maps[p] = s.OffsetMatrix(pigment.Printer(p))
	}
	m := Misregister{Threshold: s.EyeMicrons(), LeastConfident: 1, First: pigment.Yellow, Second: pigment.Cyan}
	if s.Tolerance > 0 {
		m.Threshold, m.FromTolerance = s.Tolerance, true
	}
	var all []float64
	for j := range grid {
		for i := range grid {
			x, y := float64(w-1)*float64(i)/(grid-1), float64(h-1)*float64(j)/(grid-1)
			worst := 0.0
			for a := range 3 {
				for b := a + 1; b < 3; b++ {
					ax, ay := maps[a].Apply(x, y)
					bx, by := maps[b].Apply(x, y)
					left := math.Hypot(s.residual(pigment.Printer(a)), s.residual(pigment.Printer(b)))
					moved := math.Hypot(ax-bx, ay-by) * um
					d := math.Hypot(moved, left*um)
					worst = max(worst, d)
					m.Moved = max(m.Moved, moved)
					if d > m.Largest {
						m.Largest, m.First, m.Second, m.X, m.Y = d, pigment.Printer(a), pigment.Printer(b), x, y
					}
				}
			}
			all = append(all, worst)
		}
	}
	slices.Sort(all)
	m.P95 = all[len(all)*95/100]
	for p := range 3 {
		src := s.SourceOf(pigment.Printer(p))
		m.Left = max(m.Left, s.residual(pigment.Printer(p)))
		m.LeastConfident = min(m.LeastConfident, s.confidence(src))
	}
	m.Sign, m.Sentence = s.say(m)
	return m
}

// residual is what register left at the layer's plate, in pixels: the median of
// its patches. Their 95th percentile holds the noise of single patches, several
// times what the fit itself is off (the demo's known matrices show it), and
// what moved in the scene. The plate that was registered to has none. Of a plate
// that marks lay it is what they leave by themselves.
func (s *State) residual(p pigment.Printer) float64 {
	i := s.SourceOf(p)
	if s.ByMarksAlone(i) {
		return s.MarksSay(i).Residual
	}
	return s.Found[i].Median
}

// SureFrom is the confidence from which an automatic register is spoken of
// without doubt.
const SureFrom = 0.6

// scanLimit is the residual, in pixels, below which a scan no longer tells
// misregister from its own grain and resampling: half a pixel, between the
// three and four stars that the federal still-image guideline gives a scan.
const scanLimit = 0.5

func (s *State) say(m Misregister) (sign, sentence string) {
	if !s.Laid() {
		return "out", "Not registered yet: the plates lie as they were scanned."
	}
	limit, wanted := fmt.Sprintf("the %s that the eye sees at %s", Microns(m.Threshold), Millimetres(s.ViewingDist)), "the eye sees "+Microns(m.Threshold)
	if m.FromTolerance {
		limit, wanted = "your tolerance of "+Microns(m.Threshold), "your tolerance is "+Microns(m.Threshold)
	}
	switch {
	case s.unchecked():
		sign, sentence = "out", "Laid by marks that leave nothing to check them by: pin a fourth one in every plate, and look at the edges."
	case m.LeastConfident < SureFrom:
		sign, sentence = "out", fmt.Sprintf("Register is not sure (confidence %.0f %%): look at the edges before you trust it. By its own figures two layers lie up to %s apart.",
			100*m.LeastConfident, Microns(m.Largest))
	case m.Largest <= m.Threshold:
		sign, sentence = "in", fmt.Sprintf("In register: at most %s between two layers, within %s.", Microns(m.Largest), limit)
	case m.Moved <= m.Threshold && m.Left <= scanLimit:
		sign, sentence = "near", fmt.Sprintf("In register as near as these scans can tell: what is left, %.1f px, is %s on a print %s wide, and %s. A larger scan or a smaller print would settle it.",
			m.Left, Microns(m.Largest), Millimetres(s.PrintWidth), wanted)
	case m.P95 <= m.Threshold:
		sign, sentence = "near", fmt.Sprintf("Nearly in register: up to %s between %s and %s at the worst place, beyond %s.",
			Microns(m.Largest), m.First, m.Second, limit)
	default:
		sign, sentence = "out", fmt.Sprintf("Out of register: %s and %s lie up to %s apart, %.1f times %s.",
			m.First, m.Second, Microns(m.Largest), m.Largest/m.Threshold, limit)
	}
	return sign, sentence
}

// Microns writes a length on the print: whole µm, mm from 1 mm on.
func Microns(um float64) string {
	if math.Abs(um) >= 1000 {
		return fmt.Sprintf("%.2f mm", um/1000)
	}
	return fmt.Sprintf("%.0f µm", um)
}

// Millimetres writes a distance.
func Millimetres(mm float64) string {
	if mm >= 1000 {
		return fmt.Sprintf("%.1f m", mm/1000)
	}
	return fmt.Sprintf("%.0f mm", mm)
}
