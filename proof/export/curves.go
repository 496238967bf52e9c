package export

import (
	"fmt"

	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/table"
)

// curveSteps is how many steps a layer's curve is written in.
const curveSteps = 100

// CurvesCSV is the layers' curves as a table: a row for each tone of the scene, with what
// the negative of each layer has there and what prints. Its columns are
//
//	scene_L            L* of the scene's grey, 100 white to 0 black
//	plate_density_…    density of the layer's plate there
//	negative_density_… UV density of its printing negative, above the clear film
//	negative_code_…    the file's code of 16 bits on this film
//	coat_pct_…         what stays of the layer after the wash, in % of its coat
//	print_L, _a, _b    CIELAB of the print under its light
//	printed, palette
//	title … made_at    the label of the set, the same in every row; see label.Columns
//
// A masked print goes by tones, of which 0 is the scene's white and 1 its black: that of
// each layer is a sum of those of all three plates. Its shares, the same in every row,
// follow as
//
//	mask_LAYER_from_PLATE
//
// and a neutral, of which all three tones are the same, prints as without masks.
//
// Screened negatives have file_area_pct_…, the dots' clear area in the file, and
// dot_area_pct_…, that on the print, in place of density, code and coat.
func CurvesCSV(s *session.State, p *picture.Printing, made label.Made) string {
	dots := s.Setup().Screen > 0
	names := []string{"plate_density", "negative_density", "negative_code", "coat_pct"}
	at := continuousCurves(s, p)
	if dots {
		names = []string{"plate_density", "file_area_pct", "dot_area_pct"}
		at = dottedCurves(s, p)
	}
	var t table.Table
	head := []string{"scene_L"}
	for _, name := range names {
		for _, printer := range pigment.Printers() {
			head = append(head, name+"_"+printer.String())
		}
	}
	head = append(head, "print_L", "print_a", "print_b")
	var masks []table.Cell
	if p.Masks != nil {
		for i, share := range p.Masks {
			head = append(head, fmt.Sprintf("mask_%s_from_%s", pigment.Printer(i/3), pigment.Printer(i%3)))
			masks = append(masks, table.Number(share, 5))
		}
	}
	head = append(head, "printed", "palette")
	printed := WayWords(p.Way(s)) + " " + MaskWords(p)
	if dots {
		printed = fmt.Sprintf("Screened, dots of %g µm. ", s.Setup().Screen) + printed
	}
	same := append(masks, table.Text(printed), table.Text(p.Recipe.Palette.Name))
	for _, part := range label.Of(s, made, "").Columns() {
		head, same = append(head, part.Name), append(same, table.Text(part.Says))
	}
	t.Head(head...)
	for i := range curveSteps + 1 {
		u := float64(i) / curveSteps
		row := []table.Cell{table.Number(100*(1-u), 4)}
		for _, printer := range pigment.Printers() {
			row = append(row, table.Number(relief.DensityOf(s.Sources[s.SourceOf(printer)].Film, u), 4))
		}
		layers, lab := at(u)
		for _, figures := range layers {
			for _, v := range figures {
				row = append(row, table.Number(v, 5))
			}
		}
		for _, v := range lab {
			row = append(row, table.Number(v, 4))
		}
		t.Add(append(row, same...)...)
	}
	return t.CSV()
}

// continuousCurves gives for a tone negative densities, codes and what stays of the coats,
// by printer, and the colour that prints.
func continuousCurves(s *session.State, p *picture.Printing) func(u float64) (layers [][3]float64, lab spectrum.Lab) {
	way := p.Way(s)
	reliefs, coder := p.Relief(s, way), s.Setup().Film.Coder()
	return func(u float64) ([][3]float64, spectrum.Lab) {
		out := make([][3]float64, 3)
		for i, l := range reliefs {
			x := u
			if way.Straight {
				x = relief.DensityOf(s.Sources[s.SourceOf(pigment.Printer(i))].Film, u)
			}
			density := l.Negative(x)
			out[0][i], out[1][i], out[2][i] = density, float64(coder.Code(density)), 100*l.Amount(x)
		}
		return out, p.Grey(s, way, u)
	}
}

// dottedCurves gives the dots' areas in the file and on the print, in %.
func dottedCurves(s *session.State, p *picture.Printing) func(u float64) (layers [][3]float64, lab spectrum.Lab) {
	dotted, scale := p.Dotted()
	shape, growth := dotted.Way(s).Shape, s.Setup().Growth()
	return func(u float64) ([][3]float64, spectrum.Lab) {
		var file, print [3]float64
		for i := range print {
			tint := growth.Film(scale.Area(pigment.Printer(i), shape.Tone(u, i)))
			file[i], print[i] = 100*tint, growth.Print(tint)
		}
		lab := dotted.Cube.At(print)
		for i := range print {
			print[i] *= 100
		}
		return [][3]float64{file, print}, lab
	}
}
