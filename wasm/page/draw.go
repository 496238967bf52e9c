//go:build js

package main

import (
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/warp"
)

// drawPane paints the part r of dst, whose pixel (0, 0) view takes to the key;
// a pane of one plate in its own frame, to that plate.
func (a *app) drawPane(dst *ebiten.Image, p pane, r image.Rectangle, view affine.Matrix) {
	level := a.levelFor(p)
	var op ebiten.DrawTrianglesShaderOptions
	var to, key, also rows
	var bendX, bendY, reached, size []float32
	shown := []float32{1, 1, 1}
	warped, frame, tones := a.warped() && !p.direct, []float32{1, 1}, [2]float32{0, 1}
	for i := range 3 {
		printer := pigment.Printer(i)
		source := a.SourceOf(printer)
		levels := a.plates[source]
		l := min(level, len(levels)-1)
		path, lies := a.placesIn(p, printer)
		bend, slack := warp.Local{}, 0
		if path.Local != nil {
			bend = *path.Local
			frame = []float32{float32(bend.W - 1), float32(bend.H - 1)}
			slack = int(math.Ceil(bend.Largest()/math.Exp2(float64(l)))) + 1
		}
		straight, other := picture.LevelMatrix(path.Affine(), l).Mul(view), picture.LevelMatrix(lies.Affine(), l).Mul(view)
		w := &a.screen.windows[p.slot][source]
		if !p.direct || p.plate == i || w.image == nil {
			a.screen.look(w, levels[l], l, bounds(straight, r).Union(bounds(other, r)).Inset(-slack))
		}
		if p.plate == i {
			tones = a.tonesSeen(p, levels[l], bounds(straight, r))
		}
		inWindow := affine.Translate(float64(-w.part.Min.X), float64(-w.part.Min.Y))
		if warped {
			to.add(inWindow.Mul(picture.LevelMatrix(path.ToPlate, l)))
			key.add(path.ToKey.Mul(view))
			also.add(lies.ToKey.Mul(view))
		} else {
			to.add(inWindow.Mul(straight))
			key.add(affine.Matrix{})
			also.add(inWindow.Mul(other))
		}
		bendX, bendY = joined(joined(bendX, bend.CX[:]...), 0), joined(joined(bendY, bend.CY[:]...), 0)
		reached = joined(reached, float64(-w.part.Min.X), float64(-w.part.Min.Y),
			float64(levels[l].W-1-w.part.Min.X), float64(levels[l].H-1-w.part.Min.Y))
		size = joined(size, float64(w.part.Dx()), float64(w.part.Dy()))
		op.Images[i] = w.image
		if a.Hidden[i] && p.only == "" || p.only != "" && p.only != printer.String() {
			shown[i] = 0
		}
	}
	op.Images[3] = a.tableOf(p)
	edges := a.edges
	if p.show == showPlate {
		edges[0] = p.plate
	}
	scale := a.printing.Scale
	op.Uniforms = map[string]any{
		"Look": lookOf[p.show], "EdgeA": edges[0], "EdgeB": edges[1],
		"To": to.all(), "Also": also.all(), "Reach": reached, "Size": size, "Shown": shown,
		"Warped": onOff(warped), "Key": key.all(), "BendX": bendX, "BendY": bendY, "Frame": frame,
		"Paper": vec(scale.Paper), "Depth": vec(scale.Depth.Lab), "Wide": onOff(a.screen.wide), "Tones": tones[:],
	}
	if m := a.masksIn(p); m != nil {
		op.Uniforms["Masked"] = 1
		var columns []float32
		for i := range 3 {
			columns = append(columns, float32(m[i]), float32(m[3+i]), float32(m[6+i]))
		}
		op.Uniforms["Masks"] = columns
	}
	op.Blend = ebiten.BlendCopy
	x0, y0, x1, y1 := float32(r.Min.X), float32(r.Min.Y), float32(r.Max.X), float32(r.Max.Y)
	v := func(x, y float32) ebiten.Vertex { return ebiten.Vertex{DstX: x, DstY: y, ColorA: 1} }
	dst.DrawTrianglesShader([]ebiten.Vertex{v(x0, y0), v(x1, y0), v(x0, y1), v(x1, y1)}, []uint16{0, 1, 2, 1, 2, 3}, a.screen.shader, &op)
}

// placesIn returns where a layer lies in a pane, and where its plate lies in
// register: the reference leaves the offsets on the print alone.
func (a *app) placesIn(p pane, printer pigment.Printer) (path, lies place.Path) {
	if p.direct {
		path = place.Path{ToKey: affine.Identity, ToPlate: affine.Identity}
		return path, path
	}
	lies = place.Plate(&a.State, a.SourceOf(printer))
	switch p.show {
	case showReference, showReach:
		return lies, lies
	case showDifference:
		return place.Layer(&a.State, printer), lies
	}
	path = place.Layer(&a.State, printer)
	return path, path
}

// rows are matrices as the shader takes them: their upper rows, then their lower.
type rows struct{ x, y []float32 }

func (r *rows) add(m affine.Matrix) { r.x, r.y = joined(r.x, m[:3]...), joined(r.y, m[3:]...) }

func (r *rows) all() []float32 { return append(r.x, r.y...) }

func joined(to []float32, v ...float64) []float32 {
	for _, x := range v {
		to = append(to, float32(x))
	}
	return to
}

// warped tells whether a plate is shown through more than its matrix.
func (a *app) warped() bool {
	return place.Local(&a.State, 0) != nil || place.Local(&a.State, 1) != nil || place.Local(&a.State, 2) != nil
}

func onOff(on bool) int {
	if on {
		return 1
	}
	return 0
}

func vec[T ~[3]float64](v T) []float32 {
	return []float32{float32(v[0]), float32(v[1]), float32(v[2])}
}

// lookOf is the shader's Look of what a pane shows.
var lookOf = map[int]int{showReference: 0, showPrint: 1, showEdges: 2, showDifference: 3, showPlate: 4, showReach: 5}

// bounds is the part of a plane that m reaches from r, with a pixel to spare
// for the interpolation and the two of the edges.
func bounds(m affine.Matrix, r image.Rectangle) image.Rectangle {
	var out image.Rectangle
	for i, c := range [4]image.Point{r.Min, r.Max, {X: r.Min.X, Y: r.Max.Y}, {X: r.Max.X, Y: r.Min.Y}} {
		x, y := m.Apply(float64(c.X), float64(c.Y))
		x, y = min(max(x, -1e6), 1e6), min(max(y, -1e6), 1e6)
		one := image.Rect(int(math.Floor(x))-3, int(math.Floor(y))-3, int(math.Ceil(x))+4, int(math.Ceil(y))+4)
		if i == 0 {
			out = one
		} else {
			out = out.Union(one)
		}
	}
	return out
}
