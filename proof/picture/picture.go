// Package picture puts a session and its plates together into what package render
// looks up, at any size.
package picture

import (
	"fmt"
	"math"
	"reflect"

	"threeply/proof/affine"
	"threeply/proof/appearance"
	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/fade"
	"threeply/proof/gamut"
	"threeply/proof/mask"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/screen"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
)

// CubeNodes is the number of nodes on each axis of the cube that pictures are looked up
// in.
const CubeNodes = 33

// ThumbSide is the most pixels that the longer side of the smallest level of a plate's
// pyramid has; that level is also its thumbnail.
const ThumbSide = 320

// Recipe reads the session's tissues, order, paper, surface and light. It
// fails only on a state that session's own check has not seen.
func Recipe(s *session.State) (stack.Recipe, spectrum.Light, error) {
	palette, ok := s.PaletteByID(s.Palette)
	if !ok {
		return stack.Recipe{}, spectrum.Light{}, fmt.Errorf("no palette “%s”", s.Palette)
	}
	order, err := stack.ParseOrder(s.Order)
	if err != nil {
		return stack.Recipe{}, spectrum.Light{}, err
	}
	paper, ok := s.PaperByID(s.Paper)
	if !ok {
		return stack.Recipe{}, spectrum.Light{}, fmt.Errorf("no paper “%s”", s.Paper)
	}
	finish, ok := stack.FinishByID(s.Finish)
	if !ok {
		return stack.Recipe{}, spectrum.Light{}, fmt.Errorf("no finish “%s”", s.Finish)
	}
	light, ok := spectrum.LightByID(s.Light)
	if !ok {
		return stack.Recipe{}, spectrum.Light{}, fmt.Errorf("no light “%s”", s.Light)
	}
	if m := palette.Measured; m != nil && m.Finish == s.Finish && m.K0 > 0 {
		finish.Surface.K0 = m.K0
	}
	return stack.Recipe{Palette: palette, Order: order, Paper: paper, Surface: finish.Surface}, light, nil
}

// Printing is what depends on the recipe, the light and the room alone.
type Printing struct {
	Recipe stack.Recipe
	Light  spectrum.Light
	Dim    bool
	Limit  float64 // thickest layer that the scale takes, 1 for the whole coat
	Cube   *cube.Cube
	Scale  balance.Scale // the neutral scale from paper to depth
	Table  []uint16      // the cube as a display shows it, as seen in the room: an sRGB display, or the one that In was given; see gamut
	Masks  *mask.Matrix  // nil for an unmasked print; see FindMasks

	space   spectrum.RGBSpace           // of Table
	decoded []float32                   // Table, for render
	dots    *screen.Scale               // of a print of dots; nil for a continuous one
	hardens [3]relief.Response          // of the tissues that the negatives are drawn for, by printer
	turned  func(relief.Way) relief.Way // makes a variant's way of printing of the session's; nil for the same
	show    func(render.RGB) render.RGB // takes the reference to the space of Table; nil where that is sRGB
}

// Prepare computes the optics of a session's recipe. It fails as Recipe does.
func Prepare(s *session.State) (*Printing, error) { return PrepareByPieces(s, func() {}) }

// PrepareByPieces is Prepare with a pause between pieces of the work.
func PrepareByPieces(s *session.State, pause func()) (*Printing, error) {
	recipe, light, err := Recipe(s)
	if err != nil {
		return nil, err
	}
	p := &Printing{Recipe: recipe, Light: light, Dim: s.Dim, Limit: min(s.Limit, cube.Max), Cube: cube.NewByPieces(recipe, light, CubeNodes, pause)}
	pause()
	p.Scale = balance.NeutralByPieces(recipe, light, s.Limit, pause)
	pause()
	for i := range p.hardens {
		p.hardens[i] = relief.Of(recipe.Palette.Layer(pigment.Printer(i)))
	}
	p.encodeByPieces(spectrum.SRGB, pause)
	return p, nil
}

// PrepareFor is Prepare with the masks of the session's own picture where it prints
// masked. planes are at full size, by source. It fails as Prepare and FindMasks do.
func PrepareFor(s *session.State, planes [3]*plane.Plane) (*Printing, error) {
	p, err := Prepare(s)
	if err != nil || !s.Masked {
		return p, err
	}
	var levels [3][]*plane.Plane
	for i, full := range planes {
		levels[i] = full.Pyramid(ThumbSide)
	}
	small, level := Small(levels)
	m, err := p.FindMasks(s, small, level)
	p.Masks = &m
	return p, err
}

// Small returns the smallest level that all three pyramids have, and its number. Masks
// and figures of a picture are taken from it.
func Small(levels [3][]*plane.Plane) (planes [3]*plane.Plane, level int) {
	level = min(len(levels[0]), len(levels[1]), len(levels[2])) - 1
	for i, l := range levels {
		planes[i] = l[level]
	}
	return planes, level
}

// SmallLevel is the number of that level for the plates of a session.
func SmallLevel(s *session.State) int {
	least := math.MaxInt
	for _, src := range s.Sources {
		level := 0
		for side := max(src.W, src.H); side > ThumbSide; side = (side + 1) / 2 {
			level++
		}
		least = min(least, level)
	}
	return least
}

// encode makes the table of a display's space, as seen in the room.
func (p *Printing) encode(space spectrum.RGBSpace) { p.encodeByPieces(space, func() {}) }

// encodeByPieces is encode with a pause between pieces of the work.
func (p *Printing) encodeByPieces(space spectrum.RGBSpace, pause func()) {
	room, shown, adapt := p.inRoom(), gamut.Of(space), spectrum.Adapt(p.Light.White, spectrum.DisplayWhite)
	p.space = space
	p.Table = p.Cube.EncodedByPieces(func(x spectrum.XYZ) [3]float64 { return shown.Show(spectrum.Transform(adapt, room(x))) }, pause)
	pause()
	p.decoded = render.Decode(p.Table)
}

// TrueTable codes the same colours as they are, in the space of Table, whether its
// display has them or not: differences from a reference are taken from it, and
// where one of its codes lies below 0 or above 1 the colour is outside that display.
func (p *Printing) TrueTable() []uint16 { return p.Cube.EncodedIn(p.space, p.inRoom()) }

// OutsideDisplay is how far a display of a space misses a colour of the print, as
// CIEDE2000; 0 where the display has the colour. lab is as Cube gives it.
func (p *Printing) OutsideDisplay(space spectrum.RGBSpace, lab spectrum.Lab) float64 {
	x := p.inRoom()(lab.XYZ(p.Light.White))
	return gamut.Of(space).Miss(spectrum.Transform(spectrum.Adapt(p.Light.White, spectrum.DisplayWhite), x))
}

// inRoom takes a colour of the print, XYZ with Y to 100, to what is seen of it in the
// room.
func (p *Printing) inRoom() func(spectrum.XYZ) spectrum.XYZ {
	if !p.Dim {
		return func(x spectrum.XYZ) spectrum.XYZ { return x }
	}
	white := p.Light.White
	return appearance.NewMatch(appearance.Lit(white, session.GalleryLux), appearance.Lit(white, session.BenchLux)).XYZ
}

// SeenIn is the same print in the dim gallery or on the bench.
func (p *Printing) SeenIn(dim bool) *Printing {
	q := *p
	q.Dim = dim
	q.encode(spectrum.SRGB)
	return &q
}

// Fits tells whether the printing is still that of the session.
func (p *Printing) Fits(s *session.State) bool {
	recipe, light, err := Recipe(s)
	return err == nil && light.ID == p.Light.ID && s.Dim == p.Dim && min(s.Limit, cube.Max) == p.Limit && reflect.DeepEqual(recipe, p.Recipe)
}

// Lighter is the same print, from the same negatives, of a batch that went light: by u,
// its tissues hold less pigment and were exposed less.
func (p *Printing) Lighter(u spread.Unknowns) *Printing { return p.ofBatch(u.Lighter(p.Recipe)) }

// Heavier is the same print of a batch that went heavy.
func (p *Printing) Heavier(u spread.Unknowns) *Printing { return p.ofBatch(u.Heavier(p.Recipe)) }

// Faded is the same print after an exhibition, as faded as it may be where worst is set, else
// as little; see package fade.
func (p *Printing) Faded(e pigment.Exhibition, worst bool) *Printing {
	q := *p
	q.Recipe.Palette, _ = fade.Palette(p.Recipe.Palette, e, worst)
	q.Cube = cube.New(q.Recipe, p.Light, CubeNodes)
	q.encode(spectrum.SRGB)
	return &q
}

// ofBatch is the same print from tissues of recipe r, exposed by so many stops more.
func (p *Printing) ofBatch(r stack.Recipe, stops float64) *Printing {
	q := *p
	q.Recipe, q.Cube = r, cube.New(r, p.Light, CubeNodes)
	q.turned = func(w relief.Way) relief.Way { return w.Exposed(stops) }
	q.encode(spectrum.SRGB)
	return &q
}

// WhatIf is how far a wrong exposure is off in VariantUnder and VariantOver, as a share of
// the normal one.
const WhatIf = 0.15

// Exposed is the same print with more light on every layer by a share of it, above -1; a
// share below 0 is less light.
func (p *Printing) Exposed(share float64) *Printing {
	q := *p
	q.turned = func(w relief.Way) relief.Way { return w.Exposed(math.Log2(1 + share)) }
	return &q
}

// Printed is the same print, straight or tuned whatever the session says.
func (p *Printing) Printed(straight bool) *Printing {
	q := *p
	q.turned = func(w relief.Way) relief.Way { w.Straight = straight; return w }
	return &q
}

// Assemble returns the picture as seen through view, which takes a pixel of the output to
// the key's pixel. The print has the offsets of its layers; the reference is of the
// plates in register. curves are by printer; planes are that level of each source's
// pyramid, by source.
func Assemble(s *session.State, p *Printing, curves [3]Curves, planes [3]*plane.Plane, view affine.Matrix, level int) *render.Picture {
	out := &render.Picture{Table: p.decoded, N: p.Cube.N, Show: p.show}
	if p.Masks != nil {
		out.Masks = new([9]float32)
		for i, v := range p.Masks {
			out.Masks[i] = float32(v)
		}
	}
	for i := range out.Layers {
		printer := pigment.Printer(i)
		source := s.SourceOf(printer)
		out.Layers[i] = render.Layer{
			Plane: planes[source], Hidden: s.Hidden[i],
			Laid: wayTo(place.Layer(s, printer), view, level), Scanned: wayTo(place.Plate(s, source), view, level),
			Print: curves[i].Print, Reference: curves[i].Reference, Tone: curves[i].Tone, Thickness: curves[i].Thickness,
		}
	}
	return out
}

// wayTo takes a pixel of the output, through view and along a path from the key to a
// plate, to a pixel of that level of the plate's pyramid.
func wayTo(path place.Path, view affine.Matrix, level int) render.Way {
	if path.Local == nil {
		return render.Way{Matrix: affine.ToLevel(level).Mul(path.Affine()).Mul(view)}
	}
	return render.Way{
		Matrix: affine.ToLevel(level).Mul(path.ToPlate),
		Warp:   &render.Warp{ToKey: path.ToKey.Mul(view), Shift: path.Local},
	}
}
