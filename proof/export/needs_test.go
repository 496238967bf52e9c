package export

import (
	"bytes"
	"io"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/sheet/sheettest"
	"threeply/proof/spectrum"
	"threeply/proof/warp"
)

// fineWaves are scans of the scene, a little turned, so tall that files of them have several
// strips.
func fineWaves(t *testing.T) (session.State, [3]*plane.Plane) {
	t.Helper()
	s, _ := waves(t)
	var planes [3]*plane.Plane
	for i, m := range [3]affine.Matrix{
		affine.Compose(affine.Parts{DX: 3.3, DY: -5.6, Turn: 2, StretchX: 1.003, StretchY: 0.998}, 150, 600),
		affine.Identity,
		affine.Compose(affine.Parts{DX: -21.4, DY: 40, Turn: -1, StretchX: 1, StretchY: 1}, 150, 600),
	} {
		p := plane.New(300, 1200-10*i)
		for j := range p.Pix {
			p.Pix[j] = density.Code(scene(float64(j%p.W), float64(j/p.W)))
		}
		planes[i] = p
		s.Found[i].Matrix = m
		s.Sources[i].W, s.Sources[i].H, s.Sources[i].Area = p.W, p.H, [4]int{10, 10, 290, 1100}
	}
	s.Offsets[pigment.Yellow] = session.Offset{DX: 900, DY: -1700, Turn: 0.2}
	return s, planes
}

// A file whose strips are drawn apart, each from no more rows of the plates than it says that
// it needs, is the file that is written in one go, byte by byte.
func TestFilesDrawnApart(t *testing.T) {
	bend := func(s *session.State) {
		s.LocalOn = true
		s.Local[2] = warp.Local{W: 300, H: 1190, CX: [7]float64{2, 1, 0.5}, CY: [7]float64{3, -1, 0.5, 1}}
	}
	for name, c := range map[string]struct {
		change func(s *session.State)
		file   func(s *session.State, p *Proof) sheet.Strips
		kind   render.Kind
	}{
		"print":          {func(*session.State) {}, func(_ *session.State, p *Proof) sheet.Strips { return p.PNG() }, render.Print},
		"reference":      {func(*session.State) {}, func(_ *session.State, p *Proof) sheet.Strips { return p.PNG() }, render.Reference},
		"bent, fine":     {bend, func(_ *session.State, p *Proof) sheet.Strips { return p.TIFF() }, render.Print},
		"cropped, words": {func(*session.State) {}, nil, render.Print},
	} {
		s, planes := fineWaves(t)
		c.change(&s)
		printing, err := picture.Prepare(&s)
		if err != nil {
			t.Fatal(err)
		}
		p := ProofOf(&s, printing, planes, c.kind, spectrum.SRGB, label.Made{})
		if c.file == nil {
			p.Crop(&s, planes)
			if err := p.Mount(); err != nil {
				t.Fatal(err)
			}
			c.file = func(_ *session.State, p *Proof) sheet.Strips { return p.PNG() }
		}
		sameApart(t, name, c.file(&s, p), planes, p.Needs)
	}
	s, planes := fineWaves(t)
	bend(&s)
	reference, plate := ReferencePicture(&s, planes, label.Made{}), RegisteredPlate(&s, planes, filter.Blue, label.Made{})
	sameApart(t, "reference in register", reference, planes, reference.Needs)
	sameApart(t, "plate in register", plate, planes, plate.Needs)
	if rows := plate.Needs(100, 200); rows[0] != [2]int{} || rows[1] != [2]int{} || rows[2][1]-rows[2][0] > 140 {
		t.Errorf("a hundred rows of one plate need %v", rows)
	}
}

func sameApart(t *testing.T, name string, s sheet.Strips, planes [3]*plane.Plane, needs func(y0, y1 int) [3][2]int) {
	t.Helper()
	var whole bytes.Buffer
	if err := s.(interface{ Write(io.Writer) error }).Write(&whole); err != nil {
		t.Fatal(err)
	}
	if n := s.Strips(); n < 3 {
		t.Fatalf("%s: %d strips are too few to tell", name, n)
	}
	if !bytes.Equal(sheettest.Apart(t, s, planes, needs), whole.Bytes()) {
		t.Errorf("%s: drawn apart it is another file", name)
	}
}
