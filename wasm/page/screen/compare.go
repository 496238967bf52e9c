//go:build js

package screen

import (
	"fmt"
	"image"
	"math"

	"threeply/proof/affine"
	"threeply/proof/inspect"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/render"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Comparison is how far the shader's picture in a pane lies from the one that Go
// defines.
type Comparison struct {
	Pane    string  `json:"pane"`
	Pixels  int     `json:"pixels"`
	Colours int     `json:"colours"` // different ones that Go defines, to 8 bits
	Share2  float64 `json:"share2"`  // of the pixels within 2/255 in every channel
	Worst   int     `json:"worst"`   // largest distance of any channel, in 255ths
	Where   string  `json:"where"`
}

// Compare has the panes drawn once more with the next frame, where the pixels can be
// read, and compared. ok is false where there is nothing to compare, no shader draws, or a comparison is
// under way.
func (s *Screen) Compare() (answer <-chan []Comparison, ok bool) {
	if s.plain != nil || s.compare != nil || !s.Scene().Plates.Open() {
		return nil, false
	}
	wanted := make(chan []Comparison, 1)
	s.compare = wanted
	s.Schedule()
	return wanted, true
}

// answerCompare runs inside a frame: outside one the graphics card cannot be read.
func (s *Screen) answerCompare(scene Scene) {
	if s.compare == nil {
		return
	}
	out := []Comparison{}
	loupe, _ := scene.View.LoupePanes(scene.Session)
	for _, p := range append(scene.View.Panes(), loupe...) {
		if covered := scene.View.Covered(p); !covered.Empty() {
			out = append(out, s.comparePane(scene, p, covered))
		}
	}
	s.compare <- out
	s.compare = nil
}

// comparePane draws a pane where its pixels can be read, and compares them.
func (s *Screen) comparePane(scene Scene, p view.Pane, covered image.Rectangle) Comparison {
	r := image.Rectangle{Max: covered.Size()}
	toPixel := scene.View.ToPixel(p).Mul(affine.Translate(float64(covered.Min.X), float64(covered.Min.Y)))
	shot := unmanaged(r.Dx(), r.Dy())
	defer shot.Deallocate()
	at := shown{p, r, toPixel}
	s.bring(scene, []shown{at})
	one := s.strokeOf(scene, at)
	s.paint(shot, &one, r)
	got := make([]byte, 4*r.Dx()*r.Dy())
	shot.ReadPixels(got)
	colour := defined(scene, p, toPixel, r)
	out := Comparison{Pane: p.ID, Pixels: len(got) / 4}
	within, seen := 0, map[[3]uint8]bool{}
	for i := range out.Pixels {
		x, y := i%r.Dx(), i/r.Dx()
		d, want := 256, [3]uint8{}
		for _, c := range colour(float64(x), float64(y)) {
			if one, codes := apart(got[4*i:4*i+3], c); one < d {
				d, want = one, codes
			}
		}
		seen[want] = true
		if d <= 2 {
			within++
		}
		if d > out.Worst {
			out.Worst, out.Where = d, fmt.Sprintf("%d,%d: shader %v, Go %v", x, y, got[4*i:4*i+3], want)
		}
	}
	out.Colours, out.Share2 = len(seen), float64(within)/float64(out.Pixels)
	return out
}

// apart is the largest distance of a channel, and the codes of the colour.
func apart(got []byte, c render.RGB) (d int, codes [3]uint8) {
	for ch, v := range c {
		codes[ch] = uint8(v*255 + 0.5)
		d = max(d, int(got[ch])-int(codes[ch]), int(codes[ch])-int(got[ch]))
	}
	return d, codes
}

// How near to the jump of its colour a place may be read as either side, for the shader
// computes in 32 bits: a distance out of reach, a density, a channel.
const (
	nearReach   = 0.05
	nearDensity = 2e-4
	nearChannel = 2e-4
)

// defined gives the colours that Go defines for a pixel of a pane: one, or two where the
// picture jumps from one to the other. r is what is drawn, of which toPixel takes the
// pixels.
func defined(scene Scene, p view.Pane, toPixel affine.Matrix, r image.Rectangle) func(x, y float64) []render.RGB {
	level := levelFor(scene, p)
	print := scene.Prints.Of(scene.Session, p.Variant)
	planes := scene.Plates.Level(level)
	assemble := func(print prints.Print, masking picture.Masking) *render.Picture {
		pic := picture.Assemble(scene.Session, print.Masked(scene.Prints.Masks(masking)), print.Curves, planes, toPixel, level)
		for i := range pic.Layers {
			pic.Layers[i].Hidden = hidden(scene.Session, p, pigment.Printer(i))
			if p.OwnFrame {
				pic.Layers[i].Laid = render.Way{Matrix: affine.ToLevel(level).Mul(toPixel)}
			}
		}
		return pic
	}
	pic := assemble(print, p.Masking)
	one := func(f func(x, y float64) render.RGB) func(x, y float64) []render.RGB {
		return func(x, y float64) []render.RGB { return []render.RGB{f(x, y)} }
	}
	jumping := func(f func(x, y float64) (c, across render.RGB, at float64), jump, slack float64) func(x, y float64) []render.RGB {
		return func(x, y float64) []render.RGB {
			c, across, at := f(x, y)
			if math.Abs(at-jump) > slack {
				return []render.RGB{c}
			}
			return []render.RGB{c, across}
		}
	}
	switch p.Shows {
	case view.ShowsPrint:
		return one(func(x, y float64) render.RGB { return pic.At(render.Print, x, y) })
	case view.ShowsEdges:
		a, b := pigment.Printer(scene.View.Edges[0]), pigment.Printer(scene.View.Edges[1])
		return one(func(x, y float64) render.RGB { return inspect.Edges(pic, a, b, x, y) })
	case view.ShowsDifference:
		if p.Against != nil {
			other := assemble(scene.Prints.Of(scene.Session, p.Against.Variant), p.Against.Masking)
			return one(func(x, y float64) render.RGB { return inspect.Apart(pic, other, x, y) })
		}
		return one(func(x, y float64) render.RGB { return inspect.Difference(pic, x, y) })
	case view.ShowsPlate:
		ends := [2]float64{0, 1}
		if contrasted(scene, p) {
			path, _ := pathsIn(scene.Session, p, p.Plate)
			plane := planes[scene.Session.SourceOf(p.Plate)]
			ends = inspect.FullContrast(plane, print.Curves[p.Plate].Reference, reached(affine.ToLevel(level).Mul(path.Affine()).Mul(toPixel), r))
		}
		return one(func(x, y float64) render.RGB { return inspect.Plate(pic, p.Plate, ends, x, y) })
	case view.ShowsReach:
		shell := scene.Prints.Shell(scene.Session, p.Variant)
		return jumping(func(x, y float64) (c, across render.RGB, far float64) {
			return inspect.Reach(pic, shell, print.Scale, x, y)
		}, picture.OutOfReach, nearReach)
	case view.ShowsLosses:
		losses, _ := scene.Prints.Losses(scene.Session)
		return jumping(func(x, y float64) (c, across render.RGB, near float64) {
			return inspect.Losses(pic, p.Plate, losses[p.Plate], x, y)
		}, 0, nearDensity)
	case view.ShowsOutside:
		return jumping(func(x, y float64) (c, across render.RGB, by float64) {
			return inspect.Outside(pic, scene.Prints.Space(), x, y)
		}, inspect.OutsideFrom, nearChannel)
	}
	return one(func(x, y float64) render.RGB { return pic.At(render.Reference, x, y) })
}
