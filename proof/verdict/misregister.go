// Package verdict judges what a session holds: how far two layers of the print lie
// apart, whether that can be seen, and what cannot be judged, in figures and in words.
package verdict

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
)

// Verdict is how far two layers of the print lie apart over the picture.
type Verdict struct {
	Largest, P95   float64         // µm on the print, over a grid of the picture, any two layers, by the medians of what register leaves
	PlacesP95      float64         // the same by 95 % of the single places that register measured, at the worst of the grid
	PlacesLargest  float64         // and by the largest of them
	First, Second  pigment.Printer // the two layers of Largest
	X, Y           float64         // its place, in key pixels
	Moved          float64         // the same by the offsets alone, µm
	Left           float64         // what register itself leaves, median of the worse plate, pixels
	Apart          float64         // what it leaves between the two plates that lie worst, pixels
	Stars          int             // that the guideline gives Apart, 0 where nothing was measured; see Stars
	Threshold      float64         // µm: the user's own tolerance, or the eye's
	FromTolerance  bool            // Threshold is the user's
	Sign           string          // "in", "near", "out" or "unsure"
	Sentence       string
	LeastConfident float64 // of the automatic register, 0 … 1, where plates lie by it
	Unsure         string  // why nothing can be said, or ""
	Parted         string  // which plates lie elsewhere in part, or ""
}

// grid is the number of places a side at which layers are compared. Affine
// offsets differ most at the corners, which a grid from edge to edge includes.
const grid = 9

// Of compares the offsets of the three layers with each other over
// the picture. What register left (Rest of each plate) is added in quadrature,
// since a layer that lies where register put it still carries register's own
// residual.
func Of(s *session.State) Verdict {
	w, h := s.Frame()
	um := s.PixelMicrons()
	var maps [3]affine.Matrix
	var rests [3]Rest
	m := Verdict{Threshold: s.EyeMicrons(), LeastConfident: 1, First: pigment.Yellow, Second: pigment.Cyan}
	if s.Tolerance > 0 {
		m.Threshold, m.FromTolerance = s.Tolerance, true
	}
	for p := range maps {
		maps[p] = place.Offset(s, pigment.Printer(p))
		rests[p] = RestOf(s, s.SourceOf(pigment.Printer(p)))
		m.Left = max(m.Left, rests[p].Median)
		m.LeastConfident = min(m.LeastConfident, rests[p].Confidence)
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
					left := math.Hypot(rests[a].Median, rests[b].Median)
					moved := math.Hypot(ax-bx, ay-by) * um
					d := math.Hypot(moved, left*um)
					worst = max(worst, d)
					m.Moved, m.Apart = max(m.Moved, moved), max(m.Apart, left)
					m.PlacesP95 = max(m.PlacesP95, math.Hypot(moved, um*math.Hypot(rests[a].P95, rests[b].P95)))
					m.PlacesLargest = max(m.PlacesLargest, math.Hypot(moved, um*math.Hypot(rests[a].Max, rests[b].Max)))
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
	m.Unsure = unsure(s, rests)
	if m.Unsure == "" {
		m.Parted = parted(s, rests)
	}
	if m.Unsure == "" && m.Parted == "" {
		m.Stars = Stars(m.Apart)
	}
	m.Sign, m.Sentence = say(s, m)
	if m.Unsure == "" {
		m.Sentence += alike(s)
		for _, i := range s.Assign {
			if words := Opposed(s, i); words != "" {
				m.Sentence += " But " + words
			}
		}
	}
	return m
}
