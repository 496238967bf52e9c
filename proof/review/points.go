package review

import (
	"fmt"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/reach"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// Point is a place whose colours were read.
type Point struct {
	N                int
	Reference, Print Swatch
	DeltaE           string
	Density          string // visual, of the print
	Heights          string // of the layers, dry
	Reach            string // whether the reference can be printed there, else by how much not and why
}

// Swatch is a colour as it is shown, #rrggbb, and in words.
type Swatch struct{ Shown, Words string }

// reading is what is read at a pixel of the key.
type reading struct {
	reference, printed spectrum.Lab
	shown              [2]string // of reference and print, #rrggbb
	thickness          [3]float64
	reflectance        spectrum.Curve
}

// read reads reference and print at a pixel of the key.
func (d *drawer) read(p *print, x, y float64) reading {
	pic := d.assemble(p, affine.Identity, 1)
	var out reading
	for k, kind := range []render.Kind{render.Reference, render.Print} {
		out.shown[k] = spectrum.HexSRGB(linearOf(pic.At(kind, x, y)))
	}
	for i, q := range pic.Coordinates(x, y) {
		out.thickness[i] = cube.Thickness(float64(q))
	}
	out.reflectance = p.printing.Recipe.Reflectance(out.thickness)
	out.reference, out.printed = spectrum.SRGBLab(linearOf(pic.At(render.Reference, x, y))), p.printing.Light.Lab(out.reflectance)
	return out
}

func linearOf(c render.RGB) (linear [3]float64) {
	for i, v := range c {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	return linear
}

// points reads the session's points on a print, those that lie on what is shown.
func (d *drawer) points(s *session.State, p *print) []Point {
	var out []Point
	shell := reach.New(p.printing.Cube, p.printing.Limit).Shell(p.printing.Scale)
	for _, at := range s.Points {
		x, y, ok := d.at(s, at.Source, at.X, at.Y)
		if !ok {
			continue
		}
		r := d.read(p, x, y)
		var heights []string
		for _, printer := range pigment.Printers() {
			heights = append(heights, fmt.Sprintf("%s %.1f µm", printer, r.thickness[printer]*p.printing.Recipe.Palette.Layer(printer).CoatMicron))
		}
		out = append(out, Point{
			N: at.N, Reference: Swatch{r.shown[0], labWords(r.reference)}, Print: Swatch{r.shown[1], labWords(r.printed)},
			DeltaE:  fmt.Sprintf("%.1f", spectrum.DeltaE00(r.reference, r.printed)),
			Density: fmt.Sprintf("%.2f", spectrum.VisualDensity(r.reflectance)), Heights: strings.Join(heights, ", "),
			Reach: picture.ReachWords(p.printing.Scale.Onto(r.reference), shell),
		})
	}
	return out
}

// at is the key's pixel of a pixel of a source; ok is false where it lies outside of what is
// shown.
func (d *drawer) at(s *session.State, source int, px, py float64) (x, y float64, ok bool) {
	x, y, ok = place.OnKey(s, source, px, py)
	w := d.whole
	return x, y, ok && x >= w.x0 && x <= w.x1 && y >= w.y0 && y <= w.y1
}

// dot is a place on the whole picture.
func (d *drawer) dot(n int, x, y float64, isPoint bool) Dot {
	return Dot{n, 100 * (x + 0.5 - d.whole.x0) / d.whole.w(), 100 * (y + 0.5 - d.whole.y0) / d.whole.h(), isPoint}
}

// dots are the places of notes and points on the whole picture.
func (d *drawer) dots(s *session.State) []Dot {
	var out []Dot
	for _, n := range s.Notes {
		if x, y, ok := d.at(s, n.Source, n.X, n.Y); ok {
			out = append(out, d.dot(n.N, x, y, false))
		}
	}
	for _, p := range s.Points {
		if x, y, ok := d.at(s, p.Source, p.X, p.Y); ok {
			out = append(out, d.dot(p.N, x, y, true))
		}
	}
	return out
}
