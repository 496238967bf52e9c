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

	sheets [3]float64 // how many tell which grey of the light, the middle and the deep block is neutral
}

// neutrals takes the greys that look neutral, by the blocks that the plan has.
func (g *glance) neutrals(seen pigment.Seen) (told toldGreys, err error) {
	blocks, given := g.sheet.Blocks(), GreysOf(seen)
	if len(blocks) == 1 { // plans that were written before there were three
		blocks = []testsheet.Block{{}, blocks[0], {}}
	}
	named := testsheet.BlockNames()
	told.sheets = [3]float64{hardlyTold, hardlyTold, hardlyTold}
	for i, places := range given {
		if i >= len(blocks) || len(blocks[i].Patches) == 0 {
			if places != "" {
				return told, fmt.Errorf("“%.10s”: the plan has no %s", places, named[i])
			}
			told.sheets[i] = max(g.toldBefore(i), hardlyTold)
			continue
		}
		told.wide = told.wide || blocks[i].Step > testsheet.GreyStep
		if places == "" { // all are coloured, those too that earlier sheets told to be neutral
			told.missing = true
			continue
		}
		ends, err := g.grey(&blocks[i], named[i], places)
		if err != nil {
			return told, err
		}
		before := g.toldBefore(i)
		told.sheets[i] = min(before+tells(blocks[i].Step), pigment.MostCounted)
		if ends {
			told.ends = true
			before *= keptAtEnd
			told.sheets[i] = max(before, hardlyTold)
		}
		g.greyBefore(&blocks[i], before, againGrey[i])
	}
	return told, nil
}

// toldBefore is how many sheets tell which grey of a block, from the light to the deep one, is
// neutral: those of the palette that were judged by eye. Palettes that say only how many there were
// count all of them.
func (g *glance) toldBefore(block int) float64 {
	m := g.recipe.Palette.Measured
	switch {
	case m == nil || m.Way != pigment.Eye:
		return 0
	case m.Told == [3]float64{}:
		return float64(max(m.Sheets, 1))
	}
	return m.Told[block]
}

// How much a sheet tells of a block of greys, as a number of sheets.
const (
	hardlyTold = 0.02 // where nothing was told, or what was told was contradicted
	endWide    = 1.5  // as many times a grey is off that looks neutral at the end of its block
	keptAtEnd  = 0.3  // share that is left of what earlier sheets told where a neutral lies at the end of its block
)

// tells is how much a sheet tells whose block has such a step, against one of the finest: the wider
// it is, the less it tells.
func tells(step float64) float64 {
	off := greySigma(step) / greySigma(testsheet.GreyStep)
	return 1 / (off * off)
}

// greySigma is how far a* and b* of a grey are off that looks neutral, in a block of such a step.
func greySigma(step float64) float64 { return math.Hypot(eyeGrey, eyeStep*step) }

// nearer is by how much nearer the truth lies to the curves of earlier sheets than to those of one,
// as a share: coats differ from sheet to sheet, and what all of them told is their mean. The block
// of which least was told counts, for the curves must be free to follow it.
func (g *glance) nearer() float64 {
	return 1 / math.Sqrt(max(min(g.toldBefore(0), g.toldBefore(1), g.toldBefore(2)), 1))
}

// greyBefore takes into account what earlier sheets told by eye of the greys of a block: the middle
// one is that which came of them as neutral, after one sheet off by sigma.
func (g *glance) greyBefore(b *testsheet.Block, sheets, sigma float64) {
	if sheets == 0 || b.Step > testsheet.GreyStep {
		return
	}
	sigma /= math.Sqrt(max(sheets, hardlyTold))
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

// spread is how far the deep greys may still be off: the standard deviation of a* and b*, in the
// middle of their block or beyond it, whichever is larger.
func (g *glance) spread(x, cov []float64) (most float64) {
	blocks := g.sheet.Blocks()
	if len(blocks) == 0 {
		return 0
	}
	middle := blocks[len(blocks)-1].Middle()
	for _, beyond := range []float64{0, deeper} {
		grey := middle
		for i := range grey.LogE {
			grey.LogE[i] = min(grey.LogE[i]+beyond, 0)
		}
		of := func(axis int) float64 {
			return deviation(x, cov, func(x []float64) float64 { return g.tint(g.print(x).see(grey))[axis] })
		}
		most = max(most, math.Hypot(of(0), of(1))/math.Sqrt2)
	}
	return most
}

// GreysOf are the neutral ones of the light, the middle and the deep block.
func GreysOf(seen pigment.Seen) [3]string { return [3]string{seen.Light, seen.Neutral, seen.Deep} }

// grey takes those of a block that look neutral: together they are, for the eye looks for those
// that the neutral lies between. Of one at the end of the block nothing more is told than that it
// looks less coloured than those beside it, and roughly neutral, for how far beyond the neutral lies
// is not seen.
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
		sigma := greySigma(b.Step) * math.Sqrt(float64(len(chosen)))
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
		tint, sigma := g.tint(l.see(named)), endWide*greySigma(b.Step)
		return append(misses, tint[0]/sigma, tint[1]/sigma)
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
