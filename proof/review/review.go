// Package review makes the sheet that a review of a print ends with: reference and print,
// what was noted and where, figures with their ranges, register, the decision and what it
// rests on, and room to sign. It is one self-contained page, to be printed and kept.
package review

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	_ "embed"

	"threeply/proof/balance"
	"threeply/proof/export"
	"threeply/proof/fade"
	"threeply/proof/figures"
	"threeply/proof/inspect"
	"threeply/proof/label"
	"threeply/proof/leaf"
	"threeply/proof/origin"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/verdict"
	"threeply/proof/words"
)

// Options say what a sheet shows beyond the usual.
type Options struct {
	Edges bool // the plates' edges too, not the picture within them alone
}

// Sizes of the pictures, in pixels of their longer sides: about 300 to the inch where
// they are printed in two columns, and what shows a feature about a note.
const (
	largeSide = 1000
	cropSide  = 360
)

// cropShare is how much of the picture's longer side a crop shows.
const cropShare = 0.16

// mostCrops bounds the notes that have pictures: the file of a sheet is to be sent by mail.
const mostCrops = 60

// Sheet is all that the page shows.
type Sheet struct {
	label.Label
	Estimate  string
	Reference Shown
	Prints    []Shown
	Notes     []Note
	Points    []Point
	Left      int // notes that have no pictures, for there are too many
	Figures   []Figure
	Register  Register
	Decision  session.Decision
	States    map[string]string
	Log       []origin.Part
}

// Shown is a picture with the words under it.
type Shown struct {
	Picture
	What  string // such as “Decided for”
	Words string // the recipe
	Dots  []Dot
}

// Dot is where a note or a point lies on a picture, in per cent of its width and height.
type Dot struct {
	N     int
	X, Y  float64
	Point bool
}

// Note is a note with what it is about.
type Note struct {
	session.Note
	Crops            []Picture // reference and print as it was seen; none where that print is gone, or the place lies outside
	Gone             string    // why there are none
	Reference, Print string    // the colours there
	DeltaE           string
}

// Figure is a figure with its range.
type Figure struct{ Name, Says, Range string }

// Register is how the plates lie on each other.
type Register struct {
	Sentence string
	Crops    []Captioned
}

// Captioned is a picture with a line under it.
type Captioned struct {
	Picture
	Caption string
}

// Of gathers a sheet. planes are at full size, by source. progress may be nil. It fails
// where the session's own print cannot be made.
func Of(s *session.State, planes [3]*plane.Plane, made label.Made, opt Options, progress func(share float64)) (*Sheet, error) {
	if progress == nil {
		progress = func(float64) {}
	}
	d := newDrawer(s, planes, opt.Edges)
	palette, _ := s.PaletteByID(s.Palette)
	sheet := &Sheet{
		Label: label.Of(s, made, "Review sheet"), Estimate: export.RestsOn(palette), Decision: s.Decision, Log: origin.Parts(s),
		States: map[string]string{session.NoteOpen: "open", session.NoteAgreed: "agreed", session.NotePrinter: "for the printmaker"},
	}
	shown, err := d.print(s, s.Shown())
	if err != nil {
		return nil, err
	}
	if sheet.Reference.Picture, err = d.part(shown, render.Reference, d.whole, largeSide, false); err != nil {
		return nil, err
	}
	sheet.Reference.What, sheet.Reference.Words = "Reference", "The three plates added as red, green and blue light. "+export.NeutralWords(s)
	sheet.Reference.Dots = d.dots(s)
	progress(0.2)
	if err := sheet.prints(d, s); err != nil {
		return nil, err
	}
	progress(0.4)
	for i, n := range s.Notes {
		note, err := d.note(s, n, i < mostCrops)
		if err != nil {
			return nil, err
		}
		sheet.Notes = append(sheet.Notes, note)
		progress(0.4 + 0.4*float64(i+1)/float64(len(s.Notes)))
	}
	sheet.Left = max(len(s.Notes)-mostCrops, 0)
	decided := shown
	if seen := s.Decision.Seen; seen != nil {
		if p, err := d.print(s, *seen); err == nil {
			decided = p
		}
	}
	sheet.Points = d.points(s, decided)
	if sheet.Figures, err = figuresOf(&decided.state, decided.printing, d.planes); err != nil {
		return nil, err
	}
	progress(0.95)
	sheet.Register, err = d.register(s, shown)
	return sheet, err
}

// prints draws the print that was decided for, and the one that is chosen now where that is
// another one.
func (sheet *Sheet) prints(d *drawer, s *session.State) error {
	draw := func(what string, seen session.Seen) error {
		p, err := d.print(s, seen)
		if err != nil {
			sheet.Prints = append(sheet.Prints, Shown{What: what, Words: err.Error()})
			return nil
		}
		made, err := d.part(p, render.Print, d.whole, largeSide, false)
		if err != nil {
			return err
		}
		words := seen.Words
		for _, printer := range pigment.Printers() {
			if s.Hidden[printer] {
				words += fmt.Sprintf("; the %s layer is hidden and left out", printer)
			}
		}
		sheet.Prints = append(sheet.Prints, Shown{made, what, words, d.dots(s)})
		return nil
	}
	now, decided := s.Shown(), s.Decision.Seen
	if decided == nil {
		return draw("Likely print, an estimate", now)
	}
	if err := draw("Decided for, an estimate", *decided); err != nil || *decided == now {
		return err
	}
	return draw("Shown last, not decided for, an estimate", now)
}

func (d *drawer) note(s *session.State, n session.Note, pictured bool) (Note, error) {
	out := Note{Note: n}
	x, y, ok := d.at(s, n.Source, n.X, n.Y)
	if !ok {
		out.Gone = "Its place lies outside of the picture."
		return out, nil
	}
	p, err := d.print(s, n.Seen)
	if err != nil {
		out.Gone = "The print that it was noted on can not be shown: " + err.Error() + "."
		return out, nil
	}
	r := d.read(p, x, y)
	out.Reference, out.Print, out.DeltaE = labWords(r.reference), labWords(r.printed), fmt.Sprintf("%.1f", spectrum.DeltaE00(r.reference, r.printed))
	if !pictured {
		return out, nil
	}
	side := max(cropShare*max(d.whole.w(), d.whole.h()), 8)
	crop := d.whole.around(x, y, side, side*0.75)
	for _, kind := range []render.Kind{render.Reference, render.Print} {
		part, err := d.part(p, kind, crop, cropSide, true)
		if err != nil {
			return out, err
		}
		out.Crops = append(out.Crops, part)
	}
	return out, nil
}

func labWords(l spectrum.Lab) string {
	return strings.ReplaceAll(fmt.Sprintf("L* %.0f a* %.0f b* %.0f", l[0], l[1], l[2]), "-", "−")
}

// figuresOf are the figures of a print, with how far they may be off.
func figuresOf(s *session.State, p *picture.Printing, levels [3][]*plane.Plane) ([]Figure, error) {
	var out []Figure
	sure, err := figures.SureOfGreys(s)
	if err != nil {
		return nil, err
	}
	for _, one := range sure {
		out = append(out, Figure{strings.ToUpper(one.Name[:1]) + one.Name[1:], fmt.Sprintf("L* %.0f", one.Lab[0]), fmt.Sprintf("nine of ten prints: L* %.0f to %.0f", one.L[0], one.L[1])})
	}
	small, level := picture.Small(levels)
	m := p.Measure(s, small, level)
	out = append(out,
		Figure{"Likeness to the reference", fmt.Sprintf("ΔE00 %.1f in the mean", m.Mean), fmt.Sprintf("95 %% of the picture within %.1f; after white and black of both were brought together", m.P95)},
		Figure{"Out of reach of these tissues", fmt.Sprintf("%.0f %% of the picture", 100*m.Beyond), "colours that no mixture of the three gives on this paper"})
	worst, in := 0.0, ""
	for _, drift := range balance.DriftsFrom(p.Light, p.Recipe, p.Scale.Depth.Thickness)[1:] {
		if drift.DeltaE > worst {
			light, _ := spectrum.LightByID(drift.Light)
			worst, in = drift.DeltaE, light.Name
		}
	}
	out = append(out, Figure{"The black in other light", fmt.Sprintf("moves by ΔE00 %.1f at most", worst), in})
	for _, printer := range pigment.Printers() {
		for _, share := range p.Recipe.Palette.Layer(printer).Pigments {
			g, _ := pigment.PigmentByCI(share.CI)
			years := "its years are not known"
			classes, _ := g.Classes()
			if least, most, ok := classes.Years(session.GalleryLux, 8); ok {
				years = fmt.Sprintf("%s to %s years at %d lx, 8 hours a day, without UV, until it has faded noticeably", words.Two(least), words.Two(most), session.GalleryLux)
			}
			out = append(out, Figure{"Permanence of the " + printer.String(), g.Name + ", " + g.CI + ": " + g.Lightfastness, years})
		}
	}
	_, fading := fade.Palette(p.Recipe.Palette, s.OnShow(), true)
	for _, printer := range pigment.Printers() {
		rests := "assumed, by the blue wool classes of its pigments"
		if fading[printer].Measured {
			rests = "measured, by a strip"
		}
		out = append(out, Figure{"Left of the " + printer.String() + " on show", fading[printer].Words(), s.OnShow().Words() + "; " + rests})
	}
	return out, nil
}

// shownWorst bounds the places that are shown of register.
const shownWorst = 3

// register shows the places where two layers lie worst, none beside another.
func (d *drawer) register(s *session.State, p *print) (Register, error) {
	v, laid := verdict.OfScan(s), verdict.OfPrint(s)
	r := Register{Sentence: v.Sentence}
	type place struct {
		first, second pigment.Printer
		x, y          float64
	}
	worst := place{v.First.Printer(), v.Second.Printer(), v.X, v.Y}
	if !v.Measured || laid.Largest > v.Largest*s.PixelMicrons() {
		worst = place{laid.First, laid.Second, laid.X, laid.Y}
	}
	if laid.Sign == "out" {
		r.Sentence += " " + laid.Sentence
	}
	if note := export.NotInRegister(s); note != "" {
		r.Sentence = note + " " + r.Sentence
	}
	side := max(cropShare*max(d.whole.w(), d.whole.h())/2, 8)
	places := []place{worst}
	if v.Measured {
		for _, at := range v.Worst(len(v.Cells)) {
			near := func(o place) bool { return math.Hypot(o.x-at.X, o.y-at.Y) < 2*side }
			if len(places) < shownWorst && !slices.ContainsFunc(places, near) {
				places = append(places, place{at.First.Printer(), at.Second.Printer(), at.X, at.Y})
			}
		}
	}
	for i, at := range places {
		crop := d.whole.around(min(max(at.x, d.whole.x0), d.whole.x1), min(max(at.y, d.whole.y0), d.whole.y1), side, side*0.75)
		reference, err := d.part(p, render.Reference, crop, cropSide, true)
		if err != nil {
			return r, err
		}
		edges, err := d.edges(p, func(pic *render.Picture, x, y float64) render.RGB {
			return inspect.Edges(pic, at.first, at.second, x, y)
		}, crop, cropSide)
		if err != nil {
			return r, err
		}
		says := "Reference where %s lie farthest apart, %s"
		if i > 0 {
			says = "Reference where %s lie far apart too, %s"
		}
		where := fmt.Sprintf("about the key's pixel %.0f, %.0f", (crop.x0+crop.x1)/2, (crop.y0+crop.y1)/2)
		r.Crops = append(r.Crops,
			Captioned{reference, fmt.Sprintf(says, layersOf(at.first, at.second), where)},
			Captioned{edges, fmt.Sprintf("Edges of the two there: of the %s layer light, of the %s one dark", at.first, at.second)})
	}
	return r, nil
}

//go:embed sheet.html
var body string

//go:embed sheet.css
var style string

var sheetTemplate = leaf.Parse(body)

// Title is the page's title.
func (sheet *Sheet) Title() string {
	parts := []string{"Review"}
	for _, part := range []string{sheet.Label.Title, sheet.Identity.Number} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " · ")
}

// Write writes the page. Its errors are those of out.
func (sheet *Sheet) Write(out io.Writer) error {
	return leaf.Write(out, sheet.Title(), style, sheetTemplate, sheet)
}
