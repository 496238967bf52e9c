//go:build js

package screen

import (
	"image"
	"math"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/inspect"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/warp"
	"threeply/wasm/page/shader"
	"threeply/wasm/page/view"
)

// drawPane paints the part r of dst; toPixel takes pixels of dst to the pixels that the
// pane shows.
func (s *Screen) drawPane(dst *ebiten.Image, scene Scene, p view.Pane, r image.Rectangle, toPixel affine.Matrix) {
	level := levelFor(scene, p)
	warped := bent(scene.Session) && !p.OwnFrame
	u := shader.Uniforms{
		Shows: int32(p.Shows), PlateA: int32(scene.View.Edges[0]), PlateB: int32(scene.View.Edges[1]),
		Shown: shader.Vec3{1, 1, 1}, Warped: onOff(warped), Frame: shader.Vec2{1, 1}, Wide: onOff(s.Wide), Tones: shader.Vec4{0, 1, 0, 0},
	}
	switch p.Shows {
	case view.ShowsPlate:
		u.PlateA = int32(p.Plate)
	case view.ShowsLosses:
		u.PlateA = int32(p.Plate)
		losses, _ := scene.Prints.Losses(scene.Session)
		lost, blocked := losses[p.Plate].LostFrom, losses[p.Plate].BlockedFrom
		for i, d := range [4]float64{lost[0], lost[1], blocked[0], blocked[1]} {
			u.Tones[i] = float32(d / density.Max)
		}
	}
	var op ebiten.DrawTrianglesShaderOptions
	for i := range 3 {
		printer := pigment.Printer(i)
		source := scene.Session.SourceOf(printer)
		levels := scene.Plates[source]
		l := min(level, len(levels)-1)
		path, registered := pathsIn(scene.Session, p, printer)
		bend, slack := warp.Local{}, 0
		if path.Local != nil {
			bend = *path.Local
			u.Frame = shader.Vec2{float32(bend.W - 1), float32(bend.H - 1)}
			slack = int(math.Ceil(bend.Largest()/math.Exp2(float64(l)))) + 1
		}
		to, also := affine.ToLevel(l).Mul(path.Affine()).Mul(toPixel), affine.ToLevel(l).Mul(registered.Affine()).Mul(toPixel)
		w := &s.windows[windowsOf(p)][source]
		if !p.OwnFrame || p.Plate == printer || w.image == nil {
			s.hold(w, levels[l], l, reached(to, r).Union(reached(also, r)).Inset(-slack))
		}
		if p.Plate == printer && contrasted(scene, p) {
			ends := inspect.FullContrast(levels[l], scene.Prints.Likely().Curves[i].Reference, reached(to, r))
			u.Tones = shader.Vec4{float32(ends[0]), float32(ends[1])}
		}
		x, y := float64(w.part.Min.X), float64(w.part.Min.Y)
		inWindow := affine.Translate(-x, -y)
		if warped {
			shader.PutRows(&u.To, i, inWindow.Mul(affine.ToLevel(l).Mul(path.ToPlate)))
			shader.PutRows(&u.Key, i, path.ToKey.Mul(toPixel))
			shader.PutRows(&u.Also, i, registered.ToKey.Mul(toPixel))
		} else {
			shader.PutRows(&u.To, i, inWindow.Mul(to))
			shader.PutRows(&u.Also, i, inWindow.Mul(also))
		}
		shader.PutTerms(&u.BendX, i, bend.CX)
		shader.PutTerms(&u.BendY, i, bend.CY)
		u.Extent[i] = shader.Vec4{float32(-x), float32(-y), float32(float64(levels[l].W-1) - x), float32(float64(levels[l].H-1) - y)}
		u.Size[i] = shader.Vec2{float32(w.part.Dx()), float32(w.part.Dy())}
		op.Images[i] = w.image
		if hidden(scene.Session, p, printer) {
			u.Shown[i] = 0
		}
	}
	if p.Against == nil {
		op.Images[3] = s.tableOf(scene, p)
	} else {
		op.Images[3] = s.tablesApart(scene, p)
	}
	scale := scene.Prints.Likely().Scale
	u.Paper, u.Depth = shader.ToVec3(scale.Paper), shader.ToVec3(scale.Depth.Lab)
	if p.Shows == view.ShowsReach {
		u.Lightest = float32(scene.Prints.Shell().Lightest())
	}
	if m := scene.Prints.Masks(p.Masking); m != nil {
		u.Masked = 1
		for row := range 3 {
			for column := range 3 {
				u.Masks[3*column+row] = float32(m[3*row+column])
			}
		}
	}
	if p.Shows == view.ShowsDifference {
		u.PlateA, u.PlateB = 0, onOff(p.Against != nil)
	}
	if p.Against != nil {
		if m := scene.Prints.Masks(p.Against.Masking); m != nil {
			u.PlateA = 1
			for row := range 3 {
				u.Paper[row], u.Depth[row], u.Tones[row] = float32(m[3*row]), float32(m[3*row+1]), float32(m[3*row+2])
			}
		}
	}
	op.Uniforms = u.Map()
	op.Blend = ebiten.BlendCopy
	x0, y0, x1, y1 := float32(r.Min.X), float32(r.Min.Y), float32(r.Max.X), float32(r.Max.Y)
	corner := func(x, y float32) ebiten.Vertex { return ebiten.Vertex{DstX: x, DstY: y, ColorA: 1} }
	dst.DrawTrianglesShader([]ebiten.Vertex{corner(x0, y0), corner(x1, y0), corner(x0, y1), corner(x1, y1)}, []uint16{0, 1, 2, 1, 2, 3}, s.shader, &op)
}

// pathsIn returns where a layer lies in a pane, and where its plate lies in register:
// the reference leaves the offsets on the print alone.
func pathsIn(s *session.State, p view.Pane, printer pigment.Printer) (path, registered place.Path) {
	if p.OwnFrame {
		path = place.Path{ToKey: affine.Identity, ToPlate: affine.Identity}
		return path, path
	}
	registered = place.Plate(s, s.SourceOf(printer))
	switch p.Shows {
	case view.ShowsReference, view.ShowsReach, view.ShowsLosses:
		return registered, registered
	case view.ShowsDifference:
		return place.Layer(s, printer), registered
	}
	path = place.Layer(s, printer)
	return path, path
}

// bent tells whether a plate is shown through more than its matrix.
func bent(s *session.State) bool {
	return slices.ContainsFunc([]int{0, 1, 2}, func(i int) bool { return place.Local(s, i) != nil })
}

// hidden tells whether a layer is left out of a pane's print.
func hidden(s *session.State, p view.Pane, printer pigment.Printer) bool {
	if p.Only != "" {
		return p.Only != printer.String()
	}
	return s.Hidden[printer]
}

// contrasted tells whether a pane's tones go over the whole scale.
func contrasted(scene Scene, p view.Pane) bool {
	return scene.View.Contrast && p.Shows == view.ShowsPlate && p.Enlarged()
}

func onOff(on bool) int32 {
	if on {
		return 1
	}
	return 0
}

// reached is the part of a plane that m reaches from r, with a pixel to spare for the
// interpolation and the two of the edges.
func reached(m affine.Matrix, r image.Rectangle) image.Rectangle {
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
