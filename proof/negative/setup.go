// Package negative lays out printing negatives: the picture at its size with trim,
// register marks, scale bars, wedges and letter in a window, the opaque safe edge around
// it, and a strip for the label and the punch. The three negatives of a set have the
// same layout, so their marks lie at the same pixels.
//
// A file shows the film as it is seen from its emulsion side, which is the ink side of an
// inkjet film. Pixels count from the file's upper left corner.
package negative

import (
	"fmt"
	"math"

	"threeply/proof/film"
	"threeply/proof/transfer"
)

// Sides of the film that can lie on the tissue.
const (
	Emulsion = "emulsion"
	Base     = "base"
)

// What the print is trimmed to.
const (
	TrimPlate   = "plate"   // the whole of the key plate's scan
	TrimPicture = "picture" // the picture within the borders of its scan
)

// Setup is what a person decides of the printing negatives of a set.
type Setup struct {
	PPI       float64   `json:"ppi"`          // pixels an inch of the files
	Side      string    `json:"side"`         // which lies on the tissue: Emulsion or Base
	Trim      string    `json:"trim"`         // TrimPlate or TrimPicture
	Allowance float64   `json:"allowance_mm"` // from the trim to the marks; the plates go on in it, where they reach
	Marks     bool      `json:"marks"`        // with register marks, scale bars and wedges
	SafeEdge  float64   `json:"safe_edge_mm"` // opaque, around the window
	Punch     float64   `json:"punch_mm"`     // height of the strip for a punch; 0 for the label alone
	Sheet     string    `json:"sheet"`        // id of the film sheet; "" for the smallest that holds it
	Offsets   bool      `json:"offsets"`      // the layers' offsets on the print are kept; else the plates lie in register
	Film      film.Film `json:"film"`

	Screen float64 `json:"screen_um,omitzero"` // the size of a dot in µm for screened negatives; 0 for continuous ones
	Gain   float64 `json:"dot_gain,omitzero"`  // area that a dot area of a half prints more than it has

	Dots film.Dots `json:"dots,omitzero"` // as measured
}

// Usual is what a set begins with. The safe edge is common practice; handbooks want
// 1/8 inch, LeastSafeEdge, as “an absolute necessity” (Sinclair Handbook).
var Usual = Setup{PPI: 360, Side: Emulsion, Trim: TrimPlate, Allowance: 3, Marks: true, SafeEdge: 10, Film: film.Usual}

// LeastSafeEdge is in mm.
const LeastSafeEdge = 3

// The sizes of dots that can be asked for, in µm, and that which is usual (common
// practice).
const FinestDot, CoarsestDot, UsualDot = 20.0, 60.0, 40.0

// Growth is how dots of the film print.
func (s Setup) Growth() film.Growth { return film.Growth{Gain: s.Gain, Dots: s.Dots} }

// Dot is how many pixels of the file a dot is wide, and its size in µm, as near to what was
// asked for as the pixels allow.
func (s Setup) Dot() (pixels int, micron float64) {
	per := 25400 / s.PPI
	pixels = max(int(math.Round(s.Screen/per)), 1)
	return pixels, float64(pixels) * per
}

// Check returns why negatives cannot be made so, or nil. Numbers and names are held to
// their ranges elsewhere.
func (s Setup) Check() error {
	if _, micron := s.Dot(); s.Screen > 0 && micron > 1.05*CoarsestDot {
		return fmt.Errorf("dots of %.0f µm need %.0f pixels an inch or more: at %g a pixel is %.0f µm wide, and dots over %.0f µm are seen", s.Screen, math.Ceil(25400/s.Screen), s.PPI, 25400/s.PPI, CoarsestDot)
	}
	if err := s.Dots.Check(); err != nil {
		return err
	}
	return s.Film.Check()
}

// Mirrored tells whether the picture lies mirrored in the file, which is seen from the
// emulsion side. A negative whose emulsion lies on the tissue is met by the light from
// its base: what the tissue takes is what is seen from there. With the base on the tissue
// it is what is seen from the emulsion.
func (s Setup) Mirrored(r transfer.Route) bool { return r.Reversed() == (s.Side == Base) }

// Kind is what such a negative is called: an ordinary one reads right through its base,
// the emulsion away from the eye, as one from a camera does; a reversed one reads right
// from its emulsion.
func Kind(mirrored bool) string {
	if mirrored {
		return "ordinary"
	}
	return "reversed"
}

// SideName is the side as the bench calls it: the ink of an inkjet film lies where the
// emulsion of another lies.
func (s Setup) SideName() string {
	switch {
	case s.Side == Base:
		return "base"
	case s.Film.Kind == film.Inkjet:
		return "ink side"
	}
	return "emulsion side"
}

// Lies says, in the words that are used at the printer and at the frame, which way file
// and film lie.
func (s Setup) Lies(r transfer.Route) []string {
	emulsion := "ink"
	if s.Film.Kind == film.Silver {
		emulsion = "emulsion"
	}
	mirrored := s.Mirrored(r)
	reads, seen := "right", "reversed"
	if mirrored {
		reads, seen = "mirrored", "right"
	}
	times := [...]string{"not", "once", "twice", "three times"}
	turned := fmt.Sprintf("%d times", r.Transfers())
	if r.Transfers() < len(times) {
		turned = times[r.Transfers()]
	}
	return []string{
		fmt.Sprintf("As seen from the %s side, the picture in the file reads %s.", emulsion, reads),
		"Print the file as it is: mirroring off in the driver, 100 %, not borderless, no colour management.",
		fmt.Sprintf("The %s goes to the tissue. The label then reads right from the lamp.", s.SideName()),
		fmt.Sprintf("It is %s negative: held with its %s away from you it reads %s. The picture is turned %s on its way to the paper.", article(Kind(mirrored)), emulsion, seen, turned),
	}
}

func article(word string) string {
	if word[0] == 'o' {
		return "an " + word
	}
	return "a " + word
}

// Sheet is a size in which film is sold.
type Sheet struct {
	ID, Name string
	W, H     float64 // mm, upright
}

const inch = 25.4

// Sheets are the named sizes, the smallest first: ISO 216 and the sizes in inches in
// which film and paper are sold.
func Sheets() []Sheet {
	return []Sheet{
		{"8x10", "8 × 10 in", 8 * inch, 10 * inch},
		{"a4", "A4", 210, 297},
		{"11x14", "11 × 14 in", 11 * inch, 14 * inch},
		{"a3", "A3", 297, 420},
		{"13x19", "13 × 19 in", 13 * inch, 19 * inch},
		{"16x20", "16 × 20 in", 16 * inch, 20 * inch},
		{"17x22", "17 × 22 in", 17 * inch, 22 * inch},
		{"a2", "A2", 420, 594},
		{"20x24", "20 × 24 in", 20 * inch, 24 * inch},
		{"a1", "A1", 594, 841},
		{"24x36", "24 × 36 in", 24 * inch, 36 * inch},
		{"a0", "A0", 841, 1189},
	}
}

// SheetByID returns one of Sheets.
func SheetByID(id string) (Sheet, bool) {
	for _, s := range Sheets() {
		if s.ID == id {
			return s, true
		}
	}
	return Sheet{}, false
}

// Margin is what a printer that is not borderless leaves blank along each edge of a
// sheet, in mm: common practice, for most less.
const Margin = 5

// Holds tells whether a negative of w × h mm can be printed on the sheet, upright or
// lying.
func (s Sheet) Holds(w, h float64) bool {
	short, long := min(w, h), max(w, h)
	return short <= s.W-2*Margin && long <= s.H-2*Margin
}

// SheetFor finds the sheet that a negative of w × h mm goes on: that of the setup, or
// the smallest. ok is false where it does not fit, with the words for it.
func (s Setup) SheetFor(w, h float64) (sheet Sheet, words string, ok bool) {
	size := fmt.Sprintf("%.0f × %.0f mm", math.Ceil(w), math.Ceil(h))
	smallest := Sheet{}
	for _, one := range Sheets() {
		if one.Holds(w, h) {
			smallest = one
			break
		}
	}
	if s.Sheet == "" {
		if smallest.ID == "" {
			return Sheet{}, fmt.Sprintf("The negative is %s, and no named sheet holds it: take film from a roll, or make the print smaller.", size), false
		}
		return smallest, fmt.Sprintf("The negative is %s: it goes on a sheet of %s, with %d mm left blank around it.", size, smallest.Name, Margin), true
	}
	sheet, _ = SheetByID(s.Sheet)
	if sheet.Holds(w, h) {
		return sheet, fmt.Sprintf("The negative is %s and goes on a sheet of %s.", size, sheet.Name), true
	}
	words = fmt.Sprintf("The negative is %s and does not go on a sheet of %s, of which %d mm stay blank along each edge", size, sheet.Name, Margin)
	if smallest.ID == "" {
		return sheet, words + ": no named sheet holds it. Make the print smaller.", false
	}
	return sheet, words + fmt.Sprintf(": take %s, or make the print, its safe edge or its trim allowance smaller.", smallest.Name), false
}
