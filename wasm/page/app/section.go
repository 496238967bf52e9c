package app

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/wasm/page/prints"
)

// Section is the cut through the print along the session's line.
type Section struct {
	Um       [3][]float32 // dry height of each printer's layer, at equal steps
	MostUm   float64      // highest relief of the whole stack on the line
	LengthMm float64      // of the line on the print
	Swatches [3]string    // of the layers, by printer
	Paper    string       // its colour
}

// Cut computes the section at n places, 2 to 4000. Thicknesses are read from the
// untouched scans through the same curves as the print.
func (a *App) Cut(n int) Section {
	n = min(max(n, 2), 4000)
	likely := a.Prints.Likely()
	out := Section{Paper: prints.Swatch(likely.Printing, likely.Recipe, -1)}
	for i := range out.Um {
		out.Um[i] = make([]float32, n)
		out.Swatches[i] = prints.Swatch(likely.Printing, likely.Recipe, i)
	}
	if !a.Plates.Open() {
		return out
	}
	pic := a.Prints.Picture(&a.State, a.Plates)
	w, h := a.Frame()
	line := a.State.Section
	x0, y0 := line.X0*float64(w-1), line.Y0*float64(h-1)
	x1, y1 := line.X1*float64(w-1), line.Y1*float64(h-1)
	out.LengthMm = math.Hypot(x1-x0, y1-y0) * a.PixelMicrons() / 1000
	for j := range n {
		f := float64(j) / float64(n-1)
		sum := 0.0
		for i, q := range pic.Coordinates(x0+(x1-x0)*f, y0+(y1-y0)*f) {
			um := cube.Thickness(float64(q)) * likely.Recipe.Palette.Layer(pigment.Printer(i)).CoatMicron
			out.Um[i][j] = float32(um)
			sum += um
		}
		out.MostUm = max(out.MostUm, sum)
	}
	return out
}
