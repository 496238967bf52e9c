package fit

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// Gathered is what files hold.
type Gathered struct {
	Sheet    testsheet.Sheet // that the readings are of
	Readings []File
	Say      string // sentences on which sheet it is, to be read first; "" for none
}

// Gather sorts files that were given: a plan among them is the sheet's. Else the sheet is the one
// of known that the readings say they are of; where they do not say it, it is of. An error names
// the file, the reason and what to do.
func Gather(of testsheet.Sheet, known []testsheet.Sheet, files []File) (Gathered, error) {
	out := Gathered{Sheet: of}
	planned := ""
	for _, f := range files {
		if !json.Valid(f.Text) {
			out.Readings = append(out.Readings, f)
			continue
		}
		if planned != "" {
			return out, fmt.Errorf("both %s and %s are plans of a test sheet; name one", planned, f.Name)
		}
		sheet, _, err := testsheet.Read(f.Text)
		if err != nil {
			return out, fmt.Errorf("%s: %w", f.Name, err)
		}
		out.Sheet, planned = sheet, f.Name
	}
	said, by := "", "" // the code that readings say, and the file that says it
	for _, f := range out.Readings {
		code, says := testsheet.Named(string(f.Text[:min(len(f.Text), mostHead)]))
		switch {
		case !says:
		case code == "":
			if planned == "" {
				out.Say = fmt.Sprintf("%s was made for a test sheet of an earlier version, and is read as one of sheet %s: compare their plans. ", f.Name, out.Sheet.Code())
			}
		case said != "" && said != code:
			return out, fmt.Errorf("%s is of the test sheet %s, and %s of %s; fit one sheet at a time", by, said, f.Name, code)
		default:
			said, by = code, f.Name
		}
	}
	if said == "" || said == out.Sheet.Code() {
		return out, nil
	}
	i := slices.IndexFunc(known, func(s testsheet.Sheet) bool { return s.Code() == said })
	switch {
	case planned != "":
		return out, fmt.Errorf("%s is of the test sheet %s, and %s is the plan of %s; give the plan that was written with the sheet’s negatives", by, said, planned, out.Sheet.Code())
	case i < 0:
		return out, fmt.Errorf("%s is of the test sheet %s, whose plan is not at hand; give it too: test-sheet.json, as it was written with the sheet’s negatives", by, said)
	}
	out.Sheet = known[i]
	return out, nil
}

// mostHead is how many bytes of readings can say which sheet they are of.
const mostHead = 4096

// MeasuredPalette is what was found of a palette, as one of the user's own, with an id and
// a name made of its.
func (r *Result) MeasuredPalette(from pigment.Palette, how pigment.Measurement, at time.Time) pigment.Palette {
	const ending = "-measured"
	how.Date = at.Format(time.DateOnly)
	id := from.ID
	if len(id) < len(ending) || id[len(id)-len(ending):] != ending {
		id = id[:min(len(id), 40-len(ending))] + ending
	}
	by := "measured"
	if r.Way == pigment.Eye {
		by = "by eye"
	}
	name := from.Name + ", " + by + " " + how.Date
	if from.Measured != nil || !pigment.ValidName(name) {
		name = strings.ToUpper(by[:1]) + by[1:] + " " + how.Date
	}
	return r.Palette(id, name, from, how)
}

// Shown is a result as a page shows it.
type Shown struct {
	Sentence string          `json:"sentence"`
	Sheet    string          `json:"sheet"` // the code of the sheet that was read
	HeldOut  Errors          `json:"heldOut"`
	Fitted   Errors          `json:"fitted"`
	Rows     int             `json:"rows"`
	Cols     int             `json:"cols"`
	Cells    []Cell          `json:"cells"`
	Curves   []Curve         `json:"curves"`
	Left     []string        `json:"left"`    // what the readings did not tell
	LeftOut  []string        `json:"leftOut"` // patches, and why
	Notes    []string        `json:"notes"`
	Drifted  []string        `json:"drifted"` // since earlier measurements, a line each
	Ratio    string          `json:"ratio"`   // of the exposures, "" where it is not known
	Palette  pigment.Palette `json:"palette"`
}

// Cell is one patch of the sheet: how it was measured and how it is predicted, as colours
// of sRGB under D50 adapted to it, and the difference.
type Cell struct {
	ID        string  `json:"id"`
	Use       string  `json:"use"`
	Row       int     `json:"row"`
	Col       int     `json:"col"`
	Measured  string  `json:"measured"`
	Predicted string  `json:"predicted"`
	DE00      float64 `json:"de00"`
}

// Curve is what exposures leave of one layer.
type Curve struct {
	Printer string `json:"printer"`
	Steps   []Step `json:"steps"`
}

// Show makes a result ready for a page.
func (r *Result) Show(sheet testsheet.Sheet, p pigment.Palette) Shown {
	out := Shown{
		Sentence: r.Sentence, Sheet: sheet.Code(), HeldOut: r.HeldOut, Fitted: r.Fitted, Rows: sheet.Rows, Cols: sheet.Cols,
		Left: r.LeftAtPrior, LeftOut: r.LeftOut, Notes: append([]string{}, r.Notes...), Palette: p, Cells: []Cell{}, Curves: []Curve{}, Drifted: []string{}, Ratio: r.RatioWords(),
	}
	for _, d := range r.Drift {
		out.Drifted = append(out.Drifted, d.Words())
	}
	for _, one := range r.Patches {
		at, _ := sheet.Find(one.ID)
		out.Cells = append(out.Cells, Cell{one.ID, one.Use, at.Row, at.Col, hex(one.Measured), hex(one.Predicted), one.DE00})
	}
	for _, printer := range pigment.Printers() {
		out.Curves = append(out.Curves, Curve{printer.String(), r.Layers[printer.String()].Curve})
	}
	return out
}

// hex is a colour under D50 as a display of sRGB shows it, as near as it can.
func hex(lab spectrum.Lab) string {
	d50, _ := spectrum.LightByID("D50")
	return spectrum.HexSRGB(spectrum.LinearSRGB(lab.XYZ(d50.White), d50.White))
}
