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

// Lines and Dots are the layer's hatching, as it stands on its negative: dots for yellow,
// upright lines for magenta, level ones for cyan; see negative.Frame.
func (l Layer) Lines() []Line {
	var out []Line
	switch l.Printer {
	case pigment.Magenta:
		for x := hatchPitch; x < hatchWide; x += hatchPitch {
			out = append(out, Line{x, 0, x, hatchHigh})
		}
	case pigment.Cyan:
		for y := hatchPitch; y < hatchHigh; y += hatchPitch {
			out = append(out, Line{0, y, hatchWide, y})
		}
	}
	return out
}

func (l Layer) Dots() []Dot {
	var out []Dot
	if l.Printer != pigment.Yellow {
		return nil
	}
	for y := hatchPitch / 2; y < hatchHigh; y += hatchPitch {
		for x := hatchPitch / 2; x < hatchWide; x += hatchPitch {
			out = append(out, Dot{x, y})
		}
	}
	return out
}
