package setter

import (
	"fmt"
	"math"
	"time"

	"threeply/proof/export"
	"threeply/proof/film"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/pigment"
	"threeply/proof/sheet"
	"threeply/proof/testsheet"
	"threeply/proof/transfer"
)

// The patches of a test sheet, in mm: from middle to middle, and the part of it that is
// printed. Between them the paper shows.
const (
	patchPitch = 10.0
	patchSide  = 9.0
)

// TestNegatives are the three printing negatives of a test sheet.
type TestNegatives struct {
	negative.Layout
	Setup negative.Setup
	Notes []string // what to mind, for the user to read

	sheet   testsheet.Sheet
	palette pigment.Palette
	route   transfer.Route
	coder   film.Coder
	made    label.Made
}

// NewTest makes the negatives of a palette's test sheet ready. Marks, bars and letters
// are always drawn where TestPlaces has them: the sheet is found again by them. The error is that of a film sheet
// that was chosen and is too small.
func NewTest(s testsheet.Sheet, p pigment.Palette, setup negative.Setup, route transfer.Route, made label.Made) (*TestNegatives, error) {
	setup.Marks, setup.Screen, setup.Allowance = true, 0, negative.Usual.Allowance
	n := &TestNegatives{
		Layout: negative.Of(setup, patchPitch*float64(s.Cols), patchPitch*float64(s.Rows), setup.Mirrored(route)),
		Setup:  setup, sheet: s, palette: p, route: route, coder: setup.Film.Coder(), made: made,
	}
	w, h := n.SizeMM()
	_, words, ok := setup.SheetFor(w, h)
	if !ok && setup.Sheet != "" {
		return nil, fmt.Errorf("%s", words)
	}
	n.Notes = append(n.Notes, words)
	if len(setup.Film.Table) == 0 {
		n.Notes = append(n.Notes, fmt.Sprintf("The film was not measured. It is taken to be linear from clear to a UV density of %.4g, and any error of that goes into the tissues' curves. Enter its table first, or print the negatives of pictures on the same film in the same way.", setup.Film.Max))
	}
	for _, p := range pigment.Printers() {
		if least := s.Threshold[p]; -least > setup.Film.Max-0.1 {
			n.Notes = append(n.Notes, fmt.Sprintf("The %s layer is taken to begin at a density of %.2f, and the film reaches %.2f: where the layer should be absent it may leave a veil. Look at the bare patches.", p, -least, setup.Film.Max))
		}
	}
	return n, nil
}

// TestPlaces is where things lie on the print of a test sheet, in mm from the upper left of
// its patches: the middles of its register marks, corners first, and of its patches.
func TestPlaces(s testsheet.Sheet) (marks [][2]float64, patch func(p testsheet.Patch) [2]float64) {
	const ppi = 2540
	setup := negative.Usual
	setup.PPI = ppi
	l := negative.Of(setup, patchPitch*float64(s.Cols), patchPitch*float64(s.Rows), false)
	for _, m := range l.Marks {
		marks = append(marks, [2]float64{(float64(m[0]-l.Trim.X0) + 0.5) * 25.4 / ppi, (float64(m[1]-l.Trim.Y0) + 0.5) * 25.4 / ppi})
	}
	return marks, func(p testsheet.Patch) [2]float64 {
		return [2]float64{patchPitch * (float64(p.Col) + 0.5), patchPitch * (float64(p.Row) + 0.5)}
	}
}

// The marks on the print, in mm: the radius of a ring, and how far the arms of a cross reach.
const MarkRing, MarkArm = markRing, negative.MarkArm

// PatchSide is the side of a patch in mm.
const PatchSide = patchSide

// box is where a patch lies in the file.
func (n *TestNegatives) box(p testsheet.Patch) negative.Box {
	px := func(mm float64) int { return int(math.Round(mm * n.PPI / 25.4)) }
	gap := (patchPitch - patchSide) / 2
	x, y := patchPitch*float64(p.Col)+gap, patchPitch*float64(p.Row)+gap
	b := negative.Box{X0: n.Trim.X0 + px(x), Y0: n.Trim.Y0 + px(y), X1: n.Trim.X0 + px(x+patchSide), Y1: n.Trim.Y0 + px(y+patchSide)}
	if n.Mirrored {
		b.X0, b.X1 = n.Trim.X0+n.Trim.X1-b.X1, n.Trim.X0+n.Trim.X1-b.X0
	}
	return b
}

// TIFF is the negative of a layer, of 16 bits, grey, with its density stated by its
// profile. Where the layer is absent, and between the patches, it is as dense as the
// film gets.
func (n *TestNegatives) TIFF(p pigment.Printer) (sheet.TIFF, error) {
	frame, err := NewFrame(n.Layout, n.Setup, n.coder, -n.sheet.Threshold[p], n.label(p))
	if err != nil {
		return sheet.TIFF{}, err
	}
	for _, patch := range n.sheet.Patches {
		if patch.Has[p] {
			frame.add(n.box(patch), n.coder.Code(-patch.LogE[p]), nil)
		}
	}
	f := n.Setup.Film
	return sheet.TIFF{
		W: n.W, H: n.H, Samples: 1, Plain: true, PPI: n.PPI,
		Profile:     icc.Film(fmt.Sprintf("Film, density 0 to %.2f", f.Max), func(code float64) float64 { return n.coder.Density(uint16(math.Round(65535 * code))) }),
		Description: export.Plain(fmt.Sprintf("Test sheet of the palette %s, printing negative of the %s layer. Clear film lets the base exposure through. Identity: %s; made by %s at %s.", n.palette.Name, p, n.sheet.Name(n.palette), n.made.Tool, n.made.Time())),
		Words:       sheet.Words{Name: export.Plain("Test sheet " + n.sheet.Code() + " " + n.palette.Name), Software: export.Plain(n.made.Tool), At: n.made.At},
		Row:         frame.Row,
	}, nil
}

// label is what stands on the film.
func (n *TestNegatives) label(p pigment.Printer) Label {
	return Label{Layer: p, Lines: []string{
		fmt.Sprintf("Test sheet %s · %s · places by seed %d", n.sheet.Code(), n.palette.Name, testsheet.Seed),
		fmt.Sprintf("%s to the tissue: this line then reads right from the lamp · base exposure · %s", n.Setup.SideName(), n.made.At.Format(time.DateOnly)),
	}}
}

// Lies says which way file and film lie.
func (n *TestNegatives) Lies() []string { return n.Setup.Lies(n.route) }
