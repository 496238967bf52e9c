// Package export makes what leaves the tool as a file: proofs, plates in register
// and the picture they make, with the words that they carry.
package export

import (
	"fmt"
	"image"
	"io"
	"math"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/screen"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/spectrum"
)

// SpaceOf reads "srgb" or "p3".
func SpaceOf(id string) (spectrum.RGBSpace, error) {
	switch id {
	case "srgb":
		return spectrum.SRGB, nil
	case "p3":
		return spectrum.DisplayP3, nil
	}
	return spectrum.RGBSpace{}, fmt.Errorf("no colour space “%s”: there are srgb and p3 (Display P3)", id)
}

// Proof is a whole print, or its reference, in the key's frame, on its way to a
// file: PNG of 8 bits or TIFF of 16 with the space's profile, the resolution
// that the print's width gives, and what it rests on.
type Proof struct {
	kind     render.Kind
	printing *picture.Printing
	space    spectrum.RGBSpace
	picture  *render.Picture
	rows     func(y int, rgba []byte) // of the picture
	w, h     int                      // of the picture
	behind   [3]Behind                // by source: the plate behind a pixel of the picture
	margin   *margin                  // nil for none
	ppi      float64
	label    label.Label

	// Progress, when set, is told the share done, 0 … 1, never twice at a time.
	Progress func(share float64)
}

// NewProof makes a proof ready. planes are at full size, by source. The error is
// Prepare's, or that of masks that cannot be found.
func NewProof(s *session.State, planes [3]*plane.Plane, kind render.Kind, space spectrum.RGBSpace, made label.Made) (*Proof, error) {
	printing, err := picture.PrepareFor(s, planes)
	if err != nil {
		return nil, err
	}
	return ProofOf(s, printing, planes, kind, space, made), nil
}

// ProofOf makes a proof ready of what the session prints. planes are at full size, by source,
// and need hold no rows before they are drawn from; see Needs.
func ProofOf(s *session.State, printing *picture.Printing, planes [3]*plane.Plane, kind render.Kind, space spectrum.RGBSpace, made label.Made) *Proof {
	return newProof(s, planes, printing, kind, space, label.Of(s, made, About(s, printing, kind)))
}

// NewDotProof makes the proof ready of a print from screened negatives, as the session's
// setup has them. It fails as NewProof does.
func NewDotProof(s *session.State, planes [3]*plane.Plane, space spectrum.RGBSpace, made label.Made) (*Proof, error) {
	printing, err := picture.PrepareFor(s, planes)
	if err != nil {
		return nil, err
	}
	dotted, _ := printing.Dotted()
	_, micron := s.Setup().Dot()
	about := fmt.Sprintf("Of screened negatives: dots of %.0f µm, full or not there, averaged over the areas that they cover with an optical spread n of %g (Yule and Nielsen). %s", micron, screen.Spread, About(s, dotted, render.Print))
	return newProof(s, planes, dotted, render.Print, space, label.Of(s, made, about)), nil
}

// NewFadedProof makes the proof ready of a print after an exhibition, as faded as it may be
// where worst is set, else as little; see package fade. It fails as NewProof does.
func NewFadedProof(s *session.State, planes [3]*plane.Plane, e pigment.Exhibition, worst bool, space spectrum.RGBSpace, made label.Made) (*Proof, error) {
	printing, err := picture.PrepareFor(s, planes)
	if err != nil {
		return nil, err
	}
	about := FadedWords(printing.Recipe.Palette, e, worst) + " " + About(s, printing, render.Print)
	return newProof(s, planes, printing.Faded(e, worst), render.Print, space, label.Of(s, made, about)), nil
}

// Crop cuts the proof to the picture that all three plates hold within their borders. It
// takes what the proof was made of.
func (p *Proof) Crop(s *session.State, planes [3]*plane.Plane) {
	x0, y0, x1, y1 := picture.Overlap(s)
	left, top := math.Ceil(x0), math.Ceil(y0)
	p.w, p.h = int(x1-left)+1, int(y1-top)+1
	p.lay(s, planes, affine.Translate(left, top))
	p.label.Says += fmt.Sprintf(" Trimmed to the picture: its first pixel is %g, %g of the key plate.", left, top)
}

// lay makes the picture as it is seen through view, from its own pixels to the key's.
func (p *Proof) lay(s *session.State, planes [3]*plane.Plane, view affine.Matrix) {
	p.picture = picture.Assemble(s, p.printing, p.printing.Curves(s), planes, view, 0)
	p.rows = p.picture.Rows(p.kind, p.w, p.h)
	for _, printer := range pigment.Printers() {
		source := s.SourceOf(printer)
		path := place.Layer(s, printer)
		if p.kind == render.Reference {
			path = place.Plate(s, source)
		}
		path.ToKey = path.ToKey.Mul(view)
		p.behind[source] = Behind{Path: &path, Reach: 1, H: planes[source].H} // between a row and the next
	}
}

// Needs are the rows of each source's plane, from … to-1, that rows y0 … y1-1 of the file
// are drawn from.
func (p *Proof) Needs(y0, y1 int) [3][2]int {
	if p.margin != nil {
		y0, y1 = y0-p.margin.proof.Min.Y, y1-p.margin.proof.Min.Y
	}
	return Needs(p.behind, p.w, max(y0, 0), min(y1, p.h))
}

// Mount lays the proof on a white margin, on which stand below it its title, what it is, that
// it is an estimate, and what it is made of. The error is one of the letters.
func (p *Proof) Mount() (err error) {
	title := p.label.Title
	if n := p.label.Identity.Number; n != "" {
		title += " · " + n
	}
	p.margin, err = newMargin(p.w, p.h, title, p.label.Says)
	return err
}

func newProof(s *session.State, planes [3]*plane.Plane, printing *picture.Printing, kind render.Kind, space spectrum.RGBSpace, says label.Label) *Proof {
	if space.Name != spectrum.SRGB.Name {
		printing = printing.In(space)
	}
	w, h := s.Frame()
	p := &Proof{kind: kind, space: space, printing: printing, w: w, h: h, ppi: 25400 / s.PixelMicrons(), label: says}
	p.lay(s, planes, affine.Identity)
	return p
}

// About is the text that the file carries.
func (p *Proof) About() string { return p.label.Says }

// Image renders the proof, 8 bits a channel, without its margin.
func (p *Proof) Image() *image.NRGBA { return p.picture.Image(p.kind, p.w, p.h, nil) }

// Size is the proof's in pixels, without a margin.
func (p *Proof) Size() (w, h int) { return p.w, p.h }

// PNG is the proof as a PNG of 8 bits a channel, drawn as it is written.
func (p *Proof) PNG() sheet.PNG {
	l := p.label
	w, h, row := p.w, p.h, p.rows
	if m := p.margin; m != nil {
		w, h, row = m.w, m.h, func(y int, rgba []byte) { m.row(y, rgba, p.rows) }
	}
	return sheet.PNG{
		W: w, H: h, Row: row,
		PPI: p.ppi, Profile: icc.Display(p.space), ProfileName: p.space.Name, Description: l.Says, XMP: l.XMP("image/png"), Progress: p.Progress,
		Texts: []sheet.Text{
			{Keyword: "Title", Says: l.Title}, {Keyword: "Author", Says: l.Identity.Creator}, {Keyword: "Copyright", Says: l.Identity.Rights},
			{Keyword: "Creation Time", Says: l.Time()}, {Keyword: "Software", Says: l.Tool},
		},
	}
}

// WritePNG writes the proof as a PNG of 8 bits a channel.
func (p *Proof) WritePNG(out io.Writer) error { return p.PNG().Write(out) }

// WriteImage is WritePNG, without a margin, for who has rendered the proof already; img is
// its Image.
func (p *Proof) WriteImage(out io.Writer, img *image.NRGBA) error {
	bare := *p
	bare.margin, bare.rows = nil, func(y int, rgba []byte) { copy(rgba, img.Pix[y*img.Stride:]) }
	return bare.WritePNG(out)
}

// TIFF is the proof as a TIFF of 16 bits a channel, drawn as it is written.
func (p *Proof) TIFF() sheet.TIFF {
	w, h, row := p.w, p.h, p.fineRow
	if m := p.margin; m != nil {
		w, h, row = m.w, m.h, func(y int, row []uint16) { m.fineRow(y, row, p.fineRow) }
	}
	return sheet.TIFF{
		W: w, H: h, Samples: 3, PPI: p.ppi, Profile: icc.Display(p.space), Description: Plain(p.label.Says), Words: TIFFWords(p.label), Progress: p.Progress,
		Row: row,
	}
}

// WriteTIFF writes the proof as a TIFF of 16 bits a channel.
func (p *Proof) WriteTIFF(out io.Writer) error { return p.TIFF().Write(out) }

// fineRow is a row of the picture, three values of 16 bits a pixel.
func (p *Proof) fineRow(y int, row []uint16) {
	for x := range p.w {
		for ch, v := range p.picture.At(p.kind, float64(x), float64(y)) {
			row[3*x+ch] = uint16(math.Round(65535 * float64(v)))
		}
	}
}

// TIFFWords are a label as TIFF has it.
func TIFFWords(l label.Label) sheet.Words {
	return sheet.Words{
		Name: Plain(l.Title), Software: Plain(l.Tool), Artist: Plain(l.Identity.Creator), Copyright: Plain(l.Identity.Rights),
		At: l.At, XMP: l.XMP("image/tiff"),
	}
}

// Plain writes a text in seven bits, as TIFF wants it.
func Plain(text string) string {
	text = strings.NewReplacer("“", `"`, "”", `"`, "’", "'", "–", "-", "−", "-", "·", ",", "…", "...", "µ", "u", "×", "x", "²", "2", "°", " degrees", "ΔE00", "Delta E00").Replace(text)
	return strings.Map(func(r rune) rune {
		if r > 126 {
			return '?'
		}
		return r
	}, text)
}
