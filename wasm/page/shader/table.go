package shader

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/reach"
	"threeply/proof/tone"
)

// The table's image, from the top: the cube as Nodes slices side by side, high bytes
// above low bytes; the curves, by kind and then by printer, each in rows of CurveRun
// knots, high byte in red and low byte in green, and those of the knot that follows in
// blue and alpha, so that both are read at once; the shell of what can be printed, a
// row a hue, coded as the curves: its chroma by level of lightness, then the darkest
// lightness at the hue.
const (
	Nodes       = picture.CubeNodes
	TableWidth  = Nodes * Nodes
	CurveRun    = 1024
	CurveRows   = tone.Knots/CurveRun + 1 // of one curve
	curvesRow   = 2 * Nodes
	ShellRow    = curvesRow + CurveKinds*3*CurveRows
	TableHeight = ShellRow + reach.Hues
	MostChroma  = 256 // what the largest code of the shell's chroma stands for
	MostLight   = 100 // and of its lightness

	DarkestColumn = reach.Levels
)

// The kinds of curves; see render.Layer.
const (
	PrintCurve = iota
	ReferenceCurve
	ToneCurve
	ThicknessCurve
	CurveKinds
)

// CurveRow is the first row of a curve in the table's image.
func CurveRow(kind int, printer pigment.Printer) int {
	return curvesRow + (3*kind+int(printer))*CurveRows
}

// The cube's codes stand for CodeMin … CodeMin+CodeSpan.
const (
	CodeMin  = cube.EncodedMin
	CodeSpan = cube.EncodedSpan
)

// Table writes the table's image into px, four bytes a pixel, row by row. shell is nil
// where it is not looked up.
func Table(px []byte, table []uint16, curves [3]picture.Curves, shell *reach.Shell) {
	for c := range Nodes {
		for m := range Nodes {
			for y := range Nodes {
				v := table[3*((c*Nodes+m)*Nodes+y):]
				high := 4 * (m*TableWidth + c*Nodes + y)
				low := high + 4*Nodes*TableWidth
				for ch := range 3 {
					px[high+ch], px[low+ch] = byte(v[ch]>>8), byte(v[ch])
				}
				px[high+3], px[low+3] = 255, 255
			}
		}
	}
	for i, c := range curves {
		for kind, curve := range [CurveKinds]*tone.Curve{PrintCurve: c.Print, ReferenceCurve: c.Reference, ToneCurve: c.Tone, ThicknessCurve: c.Thickness} {
			row := CurveRow(kind, pigment.Printer(i))
			for k, v := range curve {
				put(px, k%CurveRun, row+k/CurveRun, v, curve[min(k+1, tone.Knots)])
			}
		}
	}
	for k := 0; shell != nil && k < reach.Hues; k++ {
		levels := shell.Slice(360 * float64(k) / reach.Hues)
		for l, chroma := range levels {
			put(px, l, ShellRow+k, coded(chroma, MostChroma), coded(levels[min(l+1, reach.Levels-1)], MostChroma))
		}
		darkest := coded(shell.Darkest(k), MostLight)
		put(px, DarkestColumn, ShellRow+k, darkest, darkest)
	}
}

// coded is a number from 0 to most as a code of 16 bits.
func coded(v, most float64) uint16 { return uint16(math.Round(min(max(v/most, 0), 1) * 65535)) }

// put writes a code of 16 bits and the one that follows it.
func put(px []byte, x, y int, code, next uint16) {
	at := 4 * (y*TableWidth + x)
	px[at], px[at+1], px[at+2], px[at+3] = byte(code>>8), byte(code), byte(next>>8), byte(next)
}
