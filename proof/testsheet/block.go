package testsheet

import (
	"math"
	"slices"

	"threeply/proof/pigment"
)

// GreyStep is by how much neighbours in a block of greys differ, in log exposure: yellow from
// column to column, magenta from row to row. It is wideStep in the light and the deep block of
// tissues that nobody has measured, and where the neutral lay beyond the block of an earlier
// sheet, for there is no telling where it lies.
const (
	GreyStep = 0.05
	wideStep = 0.1
)

// blockPlan is where a block of greys lies: row and column of its middle, and its shape.
type blockPlan struct {
	row, col  int
	lightness float64 // L* that its middle is meant to have
	shape     [5]string
	told      func(s *pigment.Seen) string
}

// The shapes: more yellow to the right, more magenta downwards. Where cyan alone is off, yellow
// and magenta are off against it in one sense, so that the larger one reaches farther that way.
var (
	of13 = [5]string{"..x..", ".xxx.", "xxxxx", ".xxx.", "..x.."}
	of19 = [5]string{"xxx..", "xxxx.", "xxxxx", ".xxxx", "..xxx"}
)

// blocks lie about a light, a middle and a deep tone. A print by eye may come out ten L* lighter than
// its palette says: the deep block lies low, for what is darker than it is not seen but worked out.
var blocks = [...]blockPlan{
	{lightRow, 3, 78, of13, func(s *pigment.Seen) string { return s.Light }},
	{middleRow, 8, 57, of19, func(s *pigment.Seen) string { return s.Neutral }},
	{2, 2, 31, of13, func(s *pigment.Seen) string { return s.Deep }},
}

// Rows of the middles.
const (
	lightRow  = 7
	middleRow = 4
)

// step is by how much its neighbours differ, as the tissues were measured.
func (b *blockPlan) step(m *pigment.Measurement) float64 {
	switch {
	case m == nil && b.row == middleRow, m != nil && (m.Seen == nil || b.within(b.told(m.Seen))):
		return GreyStep
	}
	return wideStep
}

// within tells whether the greys that were named lie within the block: several, or one with
// others of the block all around.
func (b *blockPlan) within(named string) bool {
	has := func(row, col int) bool {
		j, i := row-b.row+len(b.shape)/2, col-b.col+len(b.shape[0])/2
		return j >= 0 && j < len(b.shape) && i >= 0 && i < len(b.shape[j]) && b.shape[j][i] == 'x'
	}
	ids := pigment.Places(named)
	for j, row := range b.shape {
		for i := range row {
			r, c := b.row+j-len(b.shape)/2, b.col+i-len(row)/2
			if len(ids) == 1 && ids[0] == ID(r, c) {
				return has(r, c+1) && has(r, c-1) && has(r+1, c) && has(r-1, c)
			}
		}
	}
	return len(ids) > 1
}

// block is a block of greys by their places.
func (l *layer) block(b *blockPlan) map[[2]int]Patch {
	step := b.step(l.palette.Measured)
	middle := l.middle(b)
	out := map[[2]int]Patch{}
	for j, row := range b.shape {
		for i, here := range row {
			if here != 'x' {
				continue
			}
			right, down := i-len(row)/2, j-len(b.shape)/2
			if b.row == lightRow && !l.measured() && (right*right > 1 || down*down > 1) { // without its tips
				continue
			}
			p := middle
			p.LogE[pigment.Yellow] += step * float64(right)
			p.LogE[pigment.Magenta] += step * float64(down)
			out[[2]int{b.row + down, b.col + right}] = p
		}
	}
	return out
}

// middle is the grey in the middle of a block.
func (l *layer) middle(b *blockPlan) Patch { return l.patch(Fit, White, l.grey(l.tone(b.lightness))) }

// Block is a block of greys: patches of three layers that have the same of cyan.
type Block struct {
	Patches []Patch // by row, then by column
	Step    float64 // log exposure between neighbours
}

// BlockNames are what the blocks of a sheet are called; one alone is the middle one.
func BlockNames() [3]string { return [3]string{"light greys", "middle greys", "deep greys"} }

// leastBlock is the least number of greys of the same cyan that make a block.
const leastBlock = 7

// Blocks are the blocks of greys of a sheet, the lightest first, found by what their patches
// hold: plans that were written before there were three have one.
func (s *Sheet) Blocks() (out []Block) {
	same := map[float64][]Patch{}
	for _, p := range s.Patches {
		if p.Use == Fit && p.Ground == White && p.Layers() == len(p.Has) {
			same[p.LogE[pigment.Cyan]] = append(same[p.LogE[pigment.Cyan]], p)
		}
	}
	var cyan []float64
	for logE := range same {
		cyan = append(cyan, logE)
	}
	slices.Sort(cyan)
	for _, logE := range cyan {
		patches := same[logE]
		if len(patches) < leastBlock {
			continue
		}
		b := Block{Patches: patches, Step: math.Inf(1)}
		for _, p := range patches {
			if d := p.LogE[pigment.Yellow] - patches[0].LogE[pigment.Yellow]; d != 0 {
				b.Step = min(b.Step, math.Round(100*math.Abs(d))/100)
			}
		}
		out = append(out, b)
	}
	return out
}

// Has tells whether a patch is one of the block.
func (b *Block) Has(id string) bool {
	return slices.ContainsFunc(b.Patches, func(p Patch) bool { return p.ID == id })
}

// Middle is the grey in the middle of the block, the one that its palette prints neutral.
func (b *Block) Middle() Patch { return b.Patches[len(b.Patches)/2] }

// Ends tells whether the block ends at a patch of it: what lies beyond was not printed.
func (b *Block) Ends(p Patch) bool {
	for _, d := range [][2]int{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
		if !b.Has(ID(p.Row+d[0], p.Col+d[1])) {
			return true
		}
	}
	return false
}

// Beside tells whether two patches touch along a side.
func (p Patch) Beside(o Patch) bool {
	dr, dc := p.Row-o.Row, p.Col-o.Col
	return dr*dr+dc*dc == 1
}
