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
	w, h     int     // of the picture
	margin   *margin // nil for none
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
	about := About(s, printing, kind)
	return newProof(s, planes, printing, kind, space, label.Of(s, made, about)), nil
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
	p.picture = picture.Assemble(s, p.printing, p.printing.Curves(s), planes, affine.Matrix{1, 0, left, 0, 1, top}, 0)
	p.label.Says += fmt.Sprintf(" Cropped to the picture: its first pixel is %g, %g of the key plate.", left, top)
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
	return &Proof{
		kind: kind, space: space, printing: printing, w: w, h: h, ppi: 25400 / s.PixelMicrons(), label: says,
		picture: picture.Assemble(s, printing, printing.Curves(s), planes, affine.Identity, 0),
	}
}

// About is the text that the file carries.
func (p *Proof) About() string { return p.label.Says }

// Image renders the proof, 8 bits a channel.
func (p *Proof) Image() *image.NRGBA {
	img := p.picture.Image(p.kind, p.w, p.h, func(share float64) bool {
		if p.Progress != nil {
			p.Progress(0.7 * share)
		}
		return true
	})
	if p.margin != nil {
		return p.margin.around(img)
	}
	return img
}

// WritePNG writes the proof as a PNG of 8 bits a channel.
func (p *Proof) WritePNG(out io.Writer) error { return p.WriteImage(out, p.Image()) }

// WriteImage is WritePNG for who has rendered the proof already; img is its Image.
func (p *Proof) WriteImage(out io.Writer, img *image.NRGBA) error {
	l := p.label
	head := sheet.PNG{
		PPI: p.ppi, Profile: icc.Display(p.space), ProfileName: p.space.Name, Description: l.Says, XMP: l.XMP("image/png"),
		Texts: []sheet.Text{
			{Keyword: "Title", Says: l.Title}, {Keyword: "Author", Says: l.Identity.Creator}, {Keyword: "Copyright", Says: l.Identity.Rights},
			{Keyword: "Creation Time", Says: l.Time()}, {Keyword: "Software", Says: l.Tool},
		},
	}
	err := head.Write(out, img)
	if err == nil && p.Progress != nil {
		p.Progress(1)
	}
	return err
}

// WriteTIFF writes the proof as a TIFF of 16 bits a channel.
func (p *Proof) WriteTIFF(out io.Writer) error {
	w, h, row := p.w, p.h, p.row
	if m := p.margin; m != nil {
		w, h, row = m.w, m.h, func(y int, row []uint16) { m.row(y, row, p.row) }
	}
	return sheet.TIFF{
		W: w, H: h, Samples: 3, PPI: p.ppi, Profile: icc.Display(p.space), Description: Plain(p.label.Says), Words: TIFFWords(p.label), Progress: p.Progress,
		Row: row,
	}.Write(out)
}

// row is a row of the picture, three values of 16 bits a pixel.
func (p *Proof) row(y int, row []uint16) {
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
