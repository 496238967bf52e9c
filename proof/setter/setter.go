package setter

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/export"
	"threeply/proof/film"
	"threeply/proof/filter"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/resample"
	"threeply/proof/screen"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/tone"
)

// Negatives are the three printing negatives of a session.
type Negatives struct {
	negative.Layout
	Setup negative.Setup
	Notes []string // what is lost and what to mind, for the user to read

	session    *session.State
	planes     [3]*plane.Plane // by source
	printing   *picture.Printing
	continuous *picture.Printing // the same, where printing is of dots
	layers     [3]relief.Layer
	printed    relief.Way
	coder      film.Coder
	dots       *screen.Scale // of screened negatives; nil for continuous ones
	made       label.Made
}

// New makes the negatives of a session ready, to be drawn layer by layer. planes
// are at full size, by source. made is what stands on them. The error is
// Prepare's, that of masks that cannot be found, or Of's.
func New(s *session.State, planes [3]*plane.Plane, made label.Made) (*Negatives, error) {
	printing, err := picture.PrepareFor(s, planes)
	if err != nil {
		return nil, err
	}
	return Of(s, printing, planes, made)
}

// Of makes the negatives ready of what the session prints. planes are at full size, by
// source, and need hold no rows before they are drawn from; see Needs. The error is a film
// sheet that was chosen and is too small, or a file that is too large.
func Of(s *session.State, printing *picture.Printing, planes [3]*plane.Plane, made label.Made) (*Negatives, error) {
	n := &Negatives{Layout: export.NegativeLayout(s), Setup: s.Setup(), session: s, planes: planes, printing: printing, made: made}
	w, h := n.SizeMM()
	if _, words, ok := n.Setup.SheetFor(w, h); !ok && n.Setup.Sheet != "" {
		return nil, fmt.Errorf("%s", words)
	}
	if pixels := float64(n.W) * float64(n.H); 2*pixels > math.MaxUint32-1<<20 {
		return nil, fmt.Errorf("negatives of %.0f × %.0f mm at %g pixels an inch have %d × %d pixels, more than the 4 GB that a TIFF can hold; take fewer pixels an inch", w, h, n.PPI, n.W, n.H)
	}
	n.continuous = n.printing
	n.printed = n.printing.Way(s)
	if n.Setup.Screen > 0 {
		n.printed.Straight = false
		n.printing, n.dots = n.printing.Dotted()
	}
	n.layers = n.printing.Relief(s, n.printed)
	n.coder = n.Setup.Film.Coder()
	n.Notes = export.NegativeNotes(s, n.printing)
	return n, nil
}

// TIFF is the negative of a layer, of 16 bits, grey, with its density stated by its
// profile. It is drawn as it is written.
func (n *Negatives) TIFF(p pigment.Printer) (sheet.TIFF, error) {
	threshold := export.ThresholdDensity(n.layers[p])
	frame, err := NewFrame(n.Layout, n.Setup, n.coder, threshold, n.label(p))
	if err != nil {
		return sheet.TIFF{}, err
	}
	codes := n.codesOf(p)
	if n.dots != nil {
		return n.screened(p, frame, codes), nil
	}
	f := n.Setup.Film
	return sheet.TIFF{
		W: n.W, H: n.H, Samples: 1, Plain: true, PPI: n.PPI,
		Profile:     icc.Film(fmt.Sprintf("Film, density 0 to %.2f", f.Max), func(code float64) float64 { return n.coder.Density(uint16(math.Round(65535 * code))) }),
		Description: export.Plain(n.about(p)), Words: export.TIFFWords(label.Of(n.session, n.made, n.about(p))),
		Row: func(y int, row []uint16) {
			frame.Row(y, row)
			if y >= n.Picture.Y0 && y < n.Picture.Y1 {
				codes(y, row)
			}
		},
	}, nil
}

// CurvesCSV is export.CurvesCSV of these negatives.
func (n *Negatives) CurvesCSV() string { return export.CurvesCSV(n.session, n.continuous, n.made) }

// codesOf draws the picture's part of a row of a layer's negative. What a plate does not
// reach stays as it is.
func (n *Negatives) codesOf(p pigment.Printer) func(y int, row []uint16) {
	read := [3]func(x, y int) (uint16, bool){}
	for i := range read {
		read[i] = n.reader(pigment.Printer(i))
	}
	var table [film.Codes]uint16
	m := n.printing.Masks
	if m == nil {
		along := n.along(p)
		for code := range table {
			table[code] = n.code(p, along(density.Of(uint16(code))))
		}
		return func(y int, row []uint16) {
			for x := n.Picture.X0; x < n.Picture.X1; x++ {
				if code, ok := read[p](x, y); ok {
					row[x] = table[code]
				}
			}
		}
	}
	// Masked: tones of all three plates make the tone of this one.
	var tones [3][film.Codes]float32
	for i := range tones {
		along := n.along(pigment.Printer(i))
		for code := range tones[i] {
			tones[i][code] = float32(along(density.Of(uint16(code))))
		}
	}
	for code := range table {
		table[code] = n.code(p, float64(code)/(film.Codes-1))
	}
	return func(y int, row []uint16) {
		for x := n.Picture.X0; x < n.Picture.X1; x++ {
			var v float32
			all := true
			for i := range read {
				code, ok := read[i](x, y)
				all = all && ok
				v += float32(m[3*int(p)+i]) * tones[i][code]
			}
			if all {
				row[x] = table[uint16(min(max(v, 0), 1)*(film.Codes-1)+0.5)]
			}
		}
	}
}

// code is what the film gets where a layer is printed along x: the code of its density,
// or, of a screened negative, the dot area of the film, 65535 for all of it.
func (n *Negatives) code(p pigment.Printer, x float64) uint16 {
	if n.dots == nil {
		return n.coder.Code(n.layers[p].Negative(x))
	}
	return uint16(math.Round((film.Codes - 1) * n.Setup.Growth().Film(n.dots.Area(p, n.printed.Shape.Tone(x, int(p))))))
}

// screened is the negative of a layer in dots, one bit a pixel: clear where a dot is to
// print. The steps of the wedges are dots of the same effect as their density.
func (n *Negatives) screened(p pigment.Printer, frame *Frame, areas func(y int, row []uint16)) sheet.TIFF {
	array := screen.Of(p)
	wide, _ := n.Setup.Dot()
	var clear [film.Codes]uint16 // area by the code of a density
	for code := range clear {
		if d := n.coder.Density(uint16(code)); d < n.Setup.Film.Max {
			clear[code] = uint16(math.Round((film.Codes - 1) * math.Pow(10, -d)))
		}
	}
	return sheet.TIFF{
		W: n.W, H: n.H, Samples: 1, TwoLevel: true, PPI: n.PPI,
		Description: export.Plain(n.about(p)), Words: export.TIFFWords(label.Of(n.session, n.made, n.about(p))),
		Row: func(y int, row []uint16) {
			frame.Row(y, row)
			for x, code := range row {
				row[x] = clear[code]
			}
			if y >= n.Picture.Y0 && y < n.Picture.Y1 {
				areas(y, row)
			}
			for x, area := range row {
				row[x] = 0
				if array.At(x/wide, y/wide) < float64(area)/(film.Codes-1) {
					row[x] = film.Codes - 1
				}
			}
		},
	}
}

// along takes a density of a layer's plate to what the layer is printed along.
func (n *Negatives) along(p pigment.Printer) func(d float64) float64 {
	if n.printed.Straight {
		return func(d float64) float64 { return d }
	}
	f := n.session.Sources[n.session.SourceOf(p)].Film
	return func(d float64) float64 { return tone.Depth01(f.Exposure(d)) }
}

// way is that from a pixel of the file to the plate of a layer, of which so many pixels make
// one of the file.
func (n *Negatives) way(p pigment.Printer) (path place.Path, shrunk float64) {
	s := n.session
	path = place.Plate(s, s.SourceOf(p))
	if n.Setup.Offsets {
		path = place.Layer(s, p)
	}
	area, _, _ := export.PrintArea(s)
	perX := float64(area[2]-area[0]) / float64(n.Trim.W())
	perY := float64(area[3]-area[1]) / float64(n.Trim.H())
	frame := affine.Matrix{
		perX, 0, float64(area[0]) - 0.5 + (0.5-float64(n.Trim.X0))*perX,
		0, perY, float64(area[1]) - 0.5 + (0.5-float64(n.Trim.Y0))*perY,
	}
	if n.Mirrored {
		frame[0], frame[2] = -perX, float64(area[0])-0.5+(float64(n.Trim.X1)-0.5)*perX
	}
	path.ToKey = path.ToKey.Mul(frame)
	return path, perX * math.Sqrt(math.Abs(path.ToPlate.Det()))
}

// reader reads the plate of a layer at a pixel of the file.
func (n *Negatives) reader(p pigment.Printer) func(x, y int) (uint16, bool) {
	path, shrunk := n.way(p)
	plate := resample.NewSampler(n.planes[n.session.SourceOf(p)], shrunk)
	if path.Local == nil { // most plates: one map for the whole way
		whole := path.Affine()
		return func(x, y int) (uint16, bool) { return plate.At(whole.Apply(float64(x), float64(y))) }
	}
	return func(x, y int) (uint16, bool) { return plate.At(path.Apply(float64(x), float64(y))) }
}

// Needs tells of the negative of a layer which rows of each source's plane, from … to-1,
// rows y0 … y1-1 of the file are drawn from.
func (n *Negatives) Needs(p pigment.Printer) func(y0, y1 int) [3][2]int {
	var behind [3]export.Behind
	for _, other := range pigment.Printers() {
		if other != p && n.printing.Masks == nil {
			continue
		}
		path, shrunk := n.way(other)
		source := n.session.SourceOf(other)
		behind[source] = export.Behind{Path: &path, Reach: resample.Reach(shrunk), H: n.planes[source].H}
	}
	return func(y0, y1 int) [3][2]int {
		return export.Needs(behind, n.W, max(y0, n.Picture.Y0), min(y1, n.Picture.Y1))
	}
}

// label is what stands on the film.
func (n *Negatives) label(p pigment.Printer) Label {
	s := n.session
	source := s.SourceOf(p)
	src, id := s.Sources[source], s.PlateIdentities[source]
	first := []string{s.Title}
	if s.Identity.Number != "" {
		first = append(first, s.Identity.Number)
	}
	plate := fmt.Sprintf("plate %s (%s filter)", src.File, filter.Of(p))
	if id.Letter != "" {
		plate = fmt.Sprintf("plate %s, %s (%s filter)", id.Letter, src.File, filter.Of(p))
	}
	first = append(first, plate)
	if src.SHA256 != "" {
		first = append(first, "scan "+src.SHA256[:12])
	}
	second := []string{n.Setup.SideName() + " to the tissue: this line then reads right from the lamp", "exposure " + export.ExposureWords(s, p)}
	if len(n.Bars) > 0 {
		second = append(second, fmt.Sprintf("bars %g mm", n.Bars[0].Length))
	}
	second = append(second, n.made.At.Format(time.DateOnly))
	lines := []string{strings.Join(first, " · "), strings.Join(second, " · ")}
	if export.NotInRegister(s) != "" {
		lines = append(lines, "NOT IN REGISTER: these plates were not registered with any confidence")
	}
	return Label{Layer: p, Lines: lines}
}

// about describes a negative in sentences.
func (n *Negatives) about(p pigment.Printer) string {
	s := n.session
	f := n.Setup.Film
	rests := fmt.Sprintf("The film was not measured: code is taken to be linear in UV density, from 0 at 65535 to %.4g at 0.", f.Max)
	if len(f.Table) > 0 {
		rests = fmt.Sprintf("Codes follow the film's own table of %d steps (%s density), from 0 at 65535 to %.4g at 0.", len(f.Table), f.Measured, f.Max)
	}
	if n.dots != nil {
		_, micron := n.Setup.Dot()
		grow := fmt.Sprintf("they are taken to gain %.0f %% at a half", 100*n.Setup.Gain)
		if k := len(n.Setup.Dots.Table); k > 0 {
			grow = fmt.Sprintf("they print by a measured table of %d tints", k)
		}
		if d := n.Setup.Dots; d.Least > 0 || d.Most > 0 {
			grow += fmt.Sprintf("; tints are kept between %.3g %% and %.3g %%, bare and whole aside", 100*d.Least, 100*cmp.Or(d.Most, 1))
		}
		rests = fmt.Sprintf("Screened: dots of %.0f um, of blue noise, clear where they print; %s. The film must stop the light wherever it is black.", micron, grow)
	}
	parts := []string{
		fmt.Sprintf("Printing negative of the %s layer, from the plate of the %s filter.", p, filter.Of(p)),
		strings.Join(n.Setup.Lies(s.Transfer()), " "), rests, export.WayWords(n.printed), export.MaskWords(n.printing), export.NeutralWords(s),
	}
	if note := export.NotInRegister(s); note != "" {
		parts = append(parts, note)
	}
	return strings.Join(parts, " ")
}
