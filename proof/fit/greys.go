package fit

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
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

// GreysOf are the neutral ones of the light, the middle and the deep block.
func GreysOf(seen pigment.Seen) [3]string { return [3]string{seen.Light, seen.Neutral, seen.Deep} }

// grey takes those of a block that look neutral. What is told is that they look more neutral
// than the others: how likely an eye that is off by eyeGrey is to choose just these, so that one
// at the end of a block says nothing of how far beyond the neutral lies.
func (g *glance) grey(b *testsheet.Block, name, places string) (ends bool, err error) {
	var chosen []int
	for _, id := range strings.FieldsFunc(places, func(r rune) bool { return strings.ContainsRune(" ,;+/", r) }) {
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
	ends = true
	for _, i := range chosen {
		ends = ends && b.Ends(b.Patches[i])
	}
	if !ends {
		sigma := math.Hypot(eyeGrey, eyeStep*b.Step) * math.Sqrt(float64(len(chosen)))
		for _, at := range []int{1, 2} {
			g.facts = append(g.facts, func(x []float64, l *stack.Layers) float64 {
				sum := 0.0
				for _, i := range chosen {
					sum += g.tint(g.light.Lab(see(x, l, b.Patches[i])))[at-1]
				}
				return sum / sigma
			})
		}
		return false, nil
	}
	g.facts = append(g.facts, func(x []float64, l *stack.Layers) float64 {
		sum, of := 0.0, 0.0
		squares := make([]float64, len(b.Patches))
		for i, p := range b.Patches {
			tint := g.tint(g.light.Lab(see(x, l, p)))
			squares[i] = (tint[0]*tint[0] + tint[1]*tint[1]) / (eyeGrey * eyeGrey)
		}
		for _, i := range chosen {
			of += squares[i] / float64(len(chosen))
		}
		for _, s := range squares {
			sum += math.Exp((of - s) / 2)
		}
		return math.Sqrt(2 * float64(len(chosen)) * max(math.Log(sum), 1e-6))
	})
	return ends, nil
}

// tint is how far a colour is from a grey in a* and b*: the eye takes the paper for white, whose
// tint goes with the square of what is left of the way to the black.
func (g *glance) tint(lab spectrum.Lab) [2]float64 {
	left := max(lab[0]-g.black, 0) / (g.paper[0] - g.black)
	return [2]float64{lab[1] - g.paper[1]*left*left, lab[2] - g.paper[2]*left*left}
}
