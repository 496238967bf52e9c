package process

import (
	_ "embed"
	"io"

	"threeply/proof/leaf"
	"threeply/proof/pigment"
)

//go:embed process.html
var text string

//go:embed process.css
var style string

var sheetTemplate = leaf.Parse(text)

// Write writes the sheet as a page that is printed. Its errors are those of out and of
// the template.
func (s *Sheet) Write(out io.Writer) error {
	return leaf.Write(out, s.Title+" · process sheet", style, sheetTemplate, s)
}

// Line is a line of a hatching, Dot a dot, in mm within a box of 14 × 9.
type Line struct{ X0, Y0, X1, Y1 float64 }
type Dot struct{ X, Y float64 }

const hatchWide, hatchHigh, hatchPitch = 14.0, 9.0, 1.8

// hatch draws the layer's hatching, as it stands on its negative: dots for yellow,
// upright lines for magenta, level ones for cyan; see negative.Frame.
func (l *Layer) hatch() {
	switch l.Printer {
	case pigment.Yellow:
		for y := hatchPitch / 2; y < hatchHigh; y += hatchPitch {
			for x := hatchPitch / 2; x < hatchWide; x += hatchPitch {
				l.Dots = append(l.Dots, Dot{x, y})
			}
		}
	case pigment.Magenta:
		for x := hatchPitch; x < hatchWide; x += hatchPitch {
			l.Lines = append(l.Lines, Line{x, 0, x, hatchHigh})
		}
	case pigment.Cyan:
		for y := hatchPitch; y < hatchHigh; y += hatchPitch {
			l.Lines = append(l.Lines, Line{0, y, hatchWide, y})
		}
	}
}
