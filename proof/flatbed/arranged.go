package flatbed

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/spectrum"
)

// arranged are the references in the order in which their patches lie on the scan: of the ways
// in which the target may be turned, or its corners be told in another order, that in which
// light and reference go together best. It says where that is another than was told.
func (t *Target) arranged(given [][3]float64) (patches []Reference, said string) {
	best := math.Inf(-1)
	for way := range 4 {
		order := t.turned(way)
		score := 0.0
		for ch, nm := range bandAt {
			score += together(order, given, ch, nm)
		}
		// The way that was told is taken where another is no better.
		if score > best+1e-3 {
			best, patches, said = score, order, ""
			if way > 0 {
				said = "The target lies turned against what was told; it was read as it lies."
			}
		}
	}
	return patches, said
}

// turned are the references that lie at each place of the grid when the target is turned by
// half, or mirrored across or down.
func (t *Target) turned(way int) []Reference {
	out := make([]Reference, len(t.Patches))
	for i, p := range t.Patches {
		row, col := p.Row, p.Col
		if way&1 != 0 {
			row = t.Rows - 1 - row
		}
		if way&2 != 0 {
			col = t.Cols - 1 - col
		}
		out[i] = t.Patches[row*t.Cols+col]
	}
	return out
}

// together is the rank correlation of what a channel gave and of the references at its
// wavelength (C. Spearman, Am. J. Psychol. 15, 1904, 72).
func together(patches []Reference, given [][3]float64, ch int, nm float64) float64 {
	n := len(patches)
	at := int(math.Round((nm - spectrum.First) / spectrum.Step))
	ranks := func(value func(i int) float64) []int {
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
		out := make([]int, n)
		for rank, i := range order {
			out[i] = rank
		}
		return out
	}
	a := ranks(func(i int) float64 { return given[i][ch] })
	b := ranks(func(i int) float64 { return patches[i].R[at] })
	squares := 0.0
	for i := range a {
		d := float64(a[i] - b[i])
		squares += d * d
	}
	return 1 - 6*squares/float64(n*(n*n-1))
}
