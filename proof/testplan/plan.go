// Package testplan makes the page that goes with a test sheet: where each patch lies,
// how it is printed and measured, and what each way of measuring can tell.
package testplan

import (
	_ "embed"
	"fmt"
	"io"
	"strings"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/leaf"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/table"
	"threeply/proof/testsheet"
)

//go:embed plan.html
var body string

//go:embed plan.css
var style string

var page = leaf.Parse(body)

// Plan is what the page shows.
type Plan struct {
	label.Made
	Palette pigment.Palette
	Own     bool // the palette has a name of the user's own
	Rows    []Row
	Columns []int
	Lies    []string // which way file and film lie
	Notes   []string
	Seed    int
	Code    string   // of the sheet
	Count   int      // patches
	DarkRow string   // the first row that lies on black
	Toxic   []string // names the toxic pigments of the palette
	Wedges  []Wedge
	Greys   []Greys
}

// Greys is a block of greys: the log exposure between its neighbours, and where it lies.
type Greys struct {
	Name string
	Step float64
	IDs  []string
}

// Wedge is where the steps of a layer alone lie, the most light first, and the filter that
// the layer is looked at through.
type Wedge struct {
	Layer, Filter string
	IDs           []string
}

// Row is a row of the sheet.
type Row struct {
	Name  string
	Dark  bool // it lies on black
	Cells []Cell
}

// Cell is one place of the sheet; ID is empty where no patch lies.
type Cell struct {
	ID, Mark string
	Light    []string // log exposures, such as "Y −0.35"
	Colour   string   // as the palette is known, #rrggbb
	Pale     bool     // dark letters are read on it
}

// Of makes the plan. lies and notes are those of the negatives.
func Of(s testsheet.Sheet, p pigment.Palette, lies, notes []string, made label.Made) Plan {
	out := Plan{Made: made, Palette: p, Lies: lies, Notes: notes, Seed: testsheet.Seed, Code: s.Code(), Count: len(s.Patches), DarkRow: rowName(s.DarkRow), Toxic: export.ToxicNotes(p)}
	_, builtIn := pigment.PaletteByID(p.ID)
	out.Own = !builtIn
	recipe := stack.DefaultRecipe(p)
	on := map[string]*stack.Layers{testsheet.White: recipe.Layers()}
	recipe.Paper.R = spectrum.Sample(func(float64) float64 { return blackCard })
	on[testsheet.Dark] = recipe.Layers()
	out.Rows = make([]Row, s.Rows)
	for c := range s.Cols {
		out.Columns = append(out.Columns, c+1)
	}
	for i := range out.Rows {
		out.Rows[i] = Row{rowName(i), i >= s.DarkRow, make([]Cell, s.Cols)}
	}
	inBlock := map[string]bool{}
	blocks := s.Blocks()
	for i, b := range blocks {
		if len(blocks) == 1 {
			i = 1
		}
		g := Greys{Name: testsheet.BlockNames()[min(i, 2)], Step: b.Step}
		for _, p := range b.Patches {
			g.IDs = append(g.IDs, p.ID)
			inBlock[p.ID] = true
		}
		out.Greys = append(out.Greys, g)
	}
	for _, patch := range s.Patches {
		out.Rows[patch.Row].Cells[patch.Col] = cell(patch, inBlock[patch.ID], p, on[patch.Ground])
	}
	for _, printer := range pigment.Printers() {
		w := Wedge{Layer: printer.String(), Filter: filter.Of(printer).String()}
		for _, patch := range s.Wedge(printer) {
			w.IDs = append(w.IDs, patch.ID)
		}
		out.Wedges = append(out.Wedges, w)
	}
	return out
}

// blackCard is the reflectance of black card (common practice: 0.04 to 0.05).
const blackCard = 0.045

func cell(patch testsheet.Patch, inBlock bool, p pigment.Palette, on *stack.Layers) Cell {
	c := Cell{ID: patch.ID}
	switch {
	case patch.Use == testsheet.HeldOut:
		c.Mark = "test"
	case patch.Use == testsheet.Repeat:
		c.Mark = "even"
	case inBlock:
		c.Mark = "grey"
	}
	var t [3]float64
	for _, printer := range pigment.Printers() {
		if !patch.Has[printer] {
			continue
		}
		c.Light = append(c.Light, fmt.Sprintf("%c\u00a0%.2f", printer.String()[0]-'a'+'A', patch.LogE[printer]))
		t[printer] = testsheet.ScaleOf(p.Layer(printer)).Share(patch.LogE[printer])
	}
	light, _ := spectrum.LightByID("D50")
	xyz := light.XYZ(on.Reflectance(t))
	c.Colour = spectrum.HexSRGB(spectrum.LinearSRGB(xyz, light.White))
	c.Pale = xyz[1] > 20
	return c
}

// rowName is the letter of a row, from 0.
func rowName(row int) string { return string(rune('A' + row)) }

// Write writes the page. Its errors are those of out and of the template.
func (p Plan) Write(out io.Writer) error {
	return leaf.Write(out, "Test sheet of "+p.Palette.Name, style, page, p)
}

// Table is a table to type the readings of a densitometer into: a row a patch. Its first line is a
// remark, which readers of readings pass over.
func Table(s testsheet.Sheet, p pigment.Palette, made label.Made) []byte {
	const mark = "\ufeff"
	var out table.Table
	out.Head("SAMPLE_ID", "D_RED", "D_GREEN", "D_BLUE")
	for _, p := range s.Patches {
		out.Add(table.Text(p.ID), table.Cell{}, table.Cell{}, table.Cell{})
	}
	return []byte(mark + Remark(s, p, made) + "\r\n" + strings.TrimPrefix(out.CSV(), mark))
}

// Remark is the first line of the tables of a test sheet: of which sheet they are, made by what and
// when. It holds no comma or semicolon, so that spreadsheets keep it as one cell.
func Remark(s testsheet.Sheet, p pigment.Palette, made label.Made) string {
	plain := strings.NewReplacer(",", " ", ";", " ", `"`, "", "\n", " ", "\r", " ", "\t", " ")
	return plain.Replace(strings.Join([]string{"# " + s.Name(p), made.Tool, made.Time()}, " · "))
}
