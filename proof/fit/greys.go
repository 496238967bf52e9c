package fit

import (
	"fmt"
	"math"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// toldGreys is what was told of the blocks of greys of a sheet.
type toldGreys struct {
	missing bool // of a block nothing was told
	ends    bool // a neutral lies at the end of its block, and may lie beyond
	wide    bool // a block has wide steps
}

// neutrals takes the greys that look neutral, by the blocks that the plan has.
func (g *glance) neutrals(seen pigment.Seen) (told toldGreys, err error) {
	blocks, given := g.sheet.Blocks(), GreysOf(seen)
	if len(blocks) == 1 { // plans that were written before there were three
		blocks = []testsheet.Block{{}, blocks[0], {}}
	}
	named := testsheet.BlockNames()
	for i, places := range given {
		if i >= len(blocks) || len(blocks[i].Patches) == 0 {
			if places != "" {
				return told, fmt.Errorf("“%.10s”: the plan has no %s", places, named[i])
			}
			continue
		}
		told.wide = told.wide || blocks[i].Step > testsheet.GreyStep
		g.greyBefore(&blocks[i], againGrey[i])
		if places == "" {
			told.missing = true
			continue
		}
		ends, err := g.grey(&blocks[i], named[i], places)
		if err != nil {
			return told, err
		}
		told.ends = told.ends || ends
	}
	return told, nil
}

// sheetsBefore is how many sheets the palette rests on that were judged by eye.
func (g *glance) sheetsBefore() int {
	m := g.recipe.Palette.Measured
	if m == nil || m.Way != pigment.Eye {
		return 0
	}
	return max(m.Sheets, 1)
}

// nearer is by how much nearer the truth lies to what earlier sheets told by eye than to what one
// told, as a share: coats differ from sheet to sheet, and what all of them told is their mean.
func (g *glance) nearer() float64 { return 1 / math.Sqrt(float64(max(g.sheetsBefore(), 1))) }

// greyBefore takes into account what earlier sheets told by eye of the greys of a block: the middle
// one is that which came of them as neutral, after one sheet off by sigma.
func (g *glance) greyBefore(b *testsheet.Block, sigma float64) {
	if g.sheetsBefore() == 0 || b.Step > testsheet.GreyStep {
		return
	}
	sigma *= g.nearer()
	middle := b.Middle()
	g.facts = append(g.facts, func(_ []float64, l *likeness) []float64 {
		tint := g.tint(l.see(middle))
		return []float64{tint[0] / sigma, tint[1] / sigma}
	})
}

// moved is by how much a* and b* of the greys in the middle of the blocks, which the sheet before
// told to be neutral, are off by what was found, at most.
func (g *glance) moved(x []float64) (most float64) {
	l := g.print(x)
	for _, b := range g.sheet.Blocks() {
		tint := g.tint(l.see(b.Middle()))
		most = max(most, math.Hypot(tint[0], tint[1]))
	}
	return most
}

// GreysOf are the neutral ones of the light, the middle and the deep block.
func GreysOf(seen pigment.Seen) [3]string { return [3]string{seen.Light, seen.Neutral, seen.Deep} }

// grey takes those of a block that look neutral: together they are, for the eye looks for those
// that the neutral lies between. Of one at the end of the block nothing more is told than that it
// looks less coloured than those beside it, for how far beyond the neutral lies is not seen.
func (g *glance) grey(b *testsheet.Block, name, places string) (ends bool, err error) {
	var chosen []int
	for _, id := range pigment.Places(places) {
		at := -1
		for i, p := range b.Patches {
			if p.ID == id {
				at = i
			}
		}
		if at < 0 {
			return false, fmt.Errorf("“%.10s” is none of the %s, which the plan marks ◇", id, name)
		}
		chosen = append(chosen, at)
	}
	if len(chosen) == 0 || len(chosen) > pigment.MostNeutral {
		return false, fmt.Errorf("%s: “%.20s”; name the one that looks neutral, or up to %d that it lies between", name, places, pigment.MostNeutral)
	}
	ends = len(chosen) == 1 && b.Ends(b.Patches[chosen[0]])
	if !ends {
		sigma := math.Hypot(eyeGrey, eyeStep*b.Step) * math.Sqrt(float64(len(chosen)))
		g.facts = append(g.facts, func(_ []float64, l *likeness) []float64 {
			var sum [2]float64
			for _, i := range chosen {
				tint := g.tint(l.see(b.Patches[i]))
				sum[0], sum[1] = sum[0]+tint[0], sum[1]+tint[1]
			}
			return []float64{sum[0] / sigma, sum[1] / sigma}
		})
		return false, nil
	}
	named := b.Patches[chosen[0]]
	coloured := func(l *likeness, p testsheet.Patch) float64 {
		tint := g.tint(l.see(p))
		return math.Hypot(tint[0], tint[1])
	}
	g.facts = append(g.facts, func(_ []float64, l *likeness) (misses []float64) {
		is := coloured(l, named)
		for _, p := range b.Patches {
			if p.Beside(named) {
				misses = append(misses, max(is-coloured(l, p), 0)/eyeGrey)
			}
		}
		return misses
	})
	return true, nil
}

// tint is how far a colour is from a grey in a* and b*: the eye takes the paper for white, whose
// tint goes with the square of what is left of the way to the black.
func (g *glance) tint(r spectrum.Curve) [2]float64 {
	lab := g.light.Lab(r)
	left := max(lab[0]-g.black, 0) / (g.paper[0] - g.black)
	return [2]float64{lab[1] - g.paper[1]*left*left, lab[2] - g.paper[2]*left*left}
}
