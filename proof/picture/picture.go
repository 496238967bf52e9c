// Package picture puts a session and its plates together: what the render
// looks up, at any size, from what the user has decided.
package picture

import (
	"fmt"

	"threeply/proof/affine"
	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/tone"
)

// CubeNodes is the number of nodes an axis of the cube that pictures are looked
// up in.
const CubeNodes = 33

// Recipe reads the session's tissues, order, paper, surface and light. It
// fails only on a state that session's own check has not seen.
func Recipe(s *session.State) (stack.Recipe, spectrum.Light, error) {
	palette, ok := pigment.PaletteByID(s.Palette)
	if !ok {
		return stack.Recipe{}, spectrum.Light{}, fmt.Errorf("no palette “%s”", s.Palette)
	}
	order, err := stack.ParseOrder(s.Order)
	if err != nil {
		return stack.Recipe{}, spectrum.Light{}, err
	}
	paper, ok := stack.PaperByID(s.Paper)
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
	return stack.Recipe{Palette: palette, Order: order, Paper: paper, Surface: finish.Surface}, light, nil
}

// Printing is what depends on the recipe and the light alone.
type Printing struct {
	Recipe stack.Recipe
	Light  spectrum.Light
	Cube   *cube.Cube
	Scale  balance.Scale // the neutral scale from paper to depth
	Table  []uint16      // Cube.Encoded
}

// Prepare computes the optics of a session's recipe.
func Prepare(s *session.State) (*Printing, error) {
	recipe, light, err := Recipe(s)
	if err != nil {
		return nil, err
	}
	c := cube.New(recipe, light, CubeNodes)
	return &Printing{
		Recipe: recipe, Light: light, Cube: c,
		Scale: balance.Neutral(recipe, light, balance.DefaultLimit),
		Table: c.Encoded(),
	}, nil
}

// Curves are the two curves of one layer.
type Curves struct{ Print, Reference *tone.Curve }

// Curves returns the curves of each printer: its plate's film, then the layer's
// own thickness along the neutral scale, so that a neutral of the plates prints
// neutral.
func (p *Printing) Curves(s *session.State) [3]Curves {
	var out [3]Curves
	for i := range out {
		film := s.Sources[s.SourceOf(pigment.Printer(i))].Film
		out[i] = Curves{
			Print:     tone.PrintCurve(film, func(u float64) float64 { return p.Scale.Thickness(u)[i] }),
			Reference: tone.ReferenceCurve(film),
		}
	}
	return out
}

// Assemble returns the picture as seen through view, which takes an output
// pixel to the key's pixel. planes are level l of each source's pyramid, by
// source.
func Assemble(s *session.State, p *Printing, curves [3]Curves, planes [3]*plane.Plane, view affine.Matrix, level int) *render.Picture {
	out := &render.Picture{Table: p.Table, N: p.Cube.N}
	for i := range out.Layers {
		printer := pigment.Printer(i)
		out.Layers[i] = render.Layer{
			Plane:  planes[s.SourceOf(printer)],
			Matrix: LevelMatrix(s.LayerMatrix(printer).Mul(view), level),
			Print:  curves[i].Print, Reference: curves[i].Reference, Hidden: s.Hidden[i],
		}
	}
	return out
}

// LevelMatrix carries a map that ends in a plane's full-size pixels on to the
// pixels of level l of its pyramid.
func LevelMatrix(m affine.Matrix, l int) affine.Matrix {
	k := 1 / float64(int(1)<<l)
	return affine.Matrix{k, 0, (k - 1) / 2, 0, k, (k - 1) / 2}.Mul(m)
}
