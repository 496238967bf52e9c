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
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/warp"
	"threeply/wasm/page/shader"
	"threeply/wasm/page/view"
	"threeply/wasm/page/window"
)

// stroke is all that decides how a pane looks: two that are equal paint the same.
type stroke struct {
	r        image.Rectangle // the part that is painted
	kind     shader.Kind
	uniforms shader.Uniforms
	images   [4]*ebiten.Image // the windows of the plates by printer, and the table
	written  [4]int           // how often each of them was written so far
}

// brush is what every stroke is painted with. The graphics library copies it while it is
// told to paint.
type brush struct {
	corners  [4]ebiten.Vertex
	uniforms shader.Uniforms
	options  ebiten.DrawTrianglesShaderOptions // its uniforms are those above
}

// rectangle is a rectangle as two triangles of its corners.
var rectangle = []uint16{0, 1, 2, 1, 2, 3}

// recolours tells whether a stroke shows what another one does, at the same places, in
// other colours: not where a picture moves, nor where one picture takes the place of another,
// as they do when two are compared by turns.
func (one *stroke) recolours(other *stroke) bool {
	a, b := &one.uniforms, &other.uniforms
	return one.r == other.r && one.kind == other.kind && one.images[3] == other.images[3] && a.To == b.To && a.Also == b.Also && a.Key == b.Key
}

// paint paints a part of a pane.
func (s *Screen) paint(dst *ebiten.Image, one *stroke, part image.Rectangle) {
	made := s.shaderOf(one.kind)
	if made == nil {
		return
	}
	b := &s.brush
	b.uniforms, b.options.Images = one.uniforms, one.images
	for i := range b.corners {
		at := part.Min
		if i&1 != 0 {
			at.X = part.Max.X
		}
		if i&2 != 0 {
			at.Y = part.Max.Y
		}
		b.corners[i] = ebiten.Vertex{DstX: float32(at.X), DstY: float32(at.Y), ColorA: 1}
	}
	dst.DrawTrianglesShader(b.corners[:], rectangle, made, &b.options)
}

// shown is a pane that shows something: the part r of a picture, whose pixels toPixel
// takes to those that the pane shows.
type shown struct {
	view.Pane
	r       image.Rectangle
	toPixel affine.Matrix
}

// lie is how a plate lies in a shown pane.
type lie struct {
	path, registered place.Path    // of the layer, and of its plate in register
	to, also         affine.Matrix // the picture's pixels to the plate's at a level, by either
	slack            int           // pixels that a bend may add to where they lead
}

func lieOf(scene Scene, p shown, printer pigment.Printer, level int) lie {
	out := lie{}
	out.path, out.registered = pathsIn(scene.Session, p.Pane, printer)
	if out.path.Local != nil {
		out.slack = int(math.Ceil(out.path.Local.Largest()/math.Exp2(float64(level)))) + 1
	}
	out.to = affine.ToLevel(level).Mul(out.path.Affine()).Mul(p.toPixel)
	out.also = affine.ToLevel(level).Mul(out.registered.Affine()).Mul(p.toPixel)
	return out
}

// bring brings the parts of the plates that panes reach onto the graphics card.
func (s *Screen) bring(scene Scene, panes []shown) { s.windowsFor(scene, panes, s.hold) }

// lacks tells whether a window has to be cut anew before the panes can be painted.
func (s *Screen) lacks(scene Scene, panes []shown) (lacks bool) {
	s.windowsFor(scene, panes, func(w *held, p *plane.Plane, level int, want image.Rectangle) {
		lacks = lacks || !w.holds(p, level, want)
	})
	return lacks
}

// windowsFor finds what the windows must hold for the panes, all of them at once: panes share
// windows.
func (s *Screen) windowsFor(scene Scene, panes []shown, do func(w *held, p *plane.Plane, level int, want image.Rectangle)) {
	for set := range s.windows {
		level, any := 0, false
		for _, p := range panes {
			if windowsOf(p.Pane) != set {
				continue
			}
			if l := levelFor(scene, p.Pane); !any || l < level {
				level, any = l, true
			}
		}
		if !any {
			continue
		}
		want := s.wanted(scene, panes, set, level)
		for level < len(scene.Plates[0])-1 && !(window.Fits(want[0]) && window.Fits(want[1]) && window.Fits(want[2])) { // a plate that was scanned finer than the key
			level++
			want = s.wanted(scene, panes, set, level)
		}
		for source, levels := range scene.Plates {
			if w := &s.windows[set][source]; !want[source].Empty() || w.image == nil {
				l := min(level, len(levels)-1)
				do(w, levels[l], l, want[source])
			}
		}
	}
}

// wanted are the parts of a level of the plates that the panes of a set of windows reach, by
// source.
func (s *Screen) wanted(scene Scene, panes []shown, set, level int) (want [3]image.Rectangle) {
	for _, p := range panes {
		if windowsOf(p.Pane) != set {
			continue
		}
		for i := range pigment.Printer(3) {
			source := scene.Session.SourceOf(i)
			if p.OwnFrame && p.Plate != i && s.windows[set][source].image != nil {
				continue // it shows that plate alone
			}
			levels := scene.Plates[source]
			l := lieOf(scene, p, i, min(level, len(levels)-1))
			reach := reached(l.to, p.r).Union(reached(l.also, p.r)).Inset(-l.slack)
			whole := levels[min(level, len(levels)-1)]
			want[source] = want[source].Union(reach.Intersect(image.Rect(0, 0, whole.W, whole.H)))
		}
	}
	return want
}

// strokeOf is how a pane is painted whose plates were brought, and brings its table.
func (s *Screen) strokeOf(scene Scene, p shown) stroke {
	u := shader.Uniforms{Shown: shader.Vec3{1, 1, 1}, Frame: shader.Vec2{1, 1}, Tones: shader.Vec4{0, 1, 0, 0}}
	kind := shader.Kind{Shows: p.Shows, Bent: bent(scene.Session) && !p.OwnFrame, Wide: s.wide}
	switch p.Shows {
	case view.ShowsEdges:
		kind.A, kind.B = pigment.Printer(scene.View.Edges[0]), pigment.Printer(scene.View.Edges[1])
	case view.ShowsPlate:
		kind.A = p.Plate
	case view.ShowsLosses:
		kind.A = p.Plate
		losses, _ := scene.Prints.Losses(scene.Session)
		lost, blocked := losses[p.Plate].LostFrom, losses[p.Plate].BlockedFrom
		unit := float64(density.Max)
		if losses[p.Plate].ByTone {
			unit = 1
		}
		for i, d := range [4]float64{lost[0], lost[1], blocked[0], blocked[1]} {
			u.Tones[i] = float32(d / unit)
		}
	}
	out := stroke{r: p.r}
	for i := range 3 {
		printer := pigment.Printer(i)
		source := scene.Session.SourceOf(printer)
		w := &s.windows[windowsOf(p.Pane)][source]
		pixels := scene.Plates[source][w.level]
		l := lieOf(scene, p, printer, w.level)
		bend := warp.Local{}
		if l.path.Local != nil {
			bend = *l.path.Local
			u.Frame = shader.Vec2{float32(bend.W - 1), float32(bend.H - 1)}
		}
		if p.Plate == printer && contrasted(scene, p.Pane) {
			ends := inspect.FullContrast(pixels, scene.Prints.Likely().Curves[i].Reference, reached(l.to, p.r))
			u.Tones = shader.Vec4{float32(ends[0]), float32(ends[1])}
		}
		x, y := float64(w.part.Min.X), float64(w.part.Min.Y)
		inWindow := affine.Translate(-x, -y)
		if kind.Bent {
			shader.PutRows(&u.To, i, inWindow.Mul(affine.ToLevel(w.level).Mul(l.path.ToPlate)))
			shader.PutRows(&u.Key, i, l.path.ToKey.Mul(p.toPixel))
			shader.PutRows(&u.Also, i, l.registered.ToKey.Mul(p.toPixel))
		} else {
			shader.PutRows(&u.To, i, inWindow.Mul(l.to))
			shader.PutRows(&u.Also, i, inWindow.Mul(l.also))
		}
		shader.PutTerms(&u.BendX, i, bend.CX)
		shader.PutTerms(&u.BendY, i, bend.CY)
		u.Extent[i] = shader.Vec4{float32(-x), float32(-y), float32(float64(pixels.W-1) - x), float32(float64(pixels.H-1) - y)}
		u.Size[i] = shader.Vec2{float32(w.part.Dx()), float32(w.part.Dy())}
		out.images[i], out.written[i] = w.image, w.written
		if hidden(scene.Session, p.Pane, printer) {
			u.Shown[i] = 0
		}
	}
	out.images[3], out.written[3] = s.bringTable(scene, p.Pane)
	if p.Shows == view.ShowsReach {
		scale := scene.Prints.Of(scene.Session, p.Variant).Scale
		u.Paper, u.Depth = shader.ToVec3(scale.Paper), shader.ToVec3(scale.Depth.Lab)
		u.Lightest = float32(scene.Prints.Shell(scene.Session, p.Variant).Lightest())
	}
	u.Masks, kind.Masked = masksOf(scene, p.Masking)
	if p.Against != nil {
		kind.Another = true
		u.AnotherMasks, kind.AnotherMasked = masksOf(scene, p.Against.Masking)
	}
	out.kind, out.uniforms = kind, u
	return out
}

// masksOf are the masks of a print; ok is false where it is printed without.
func masksOf(scene Scene, masking picture.Masking) (to shader.Mat3, ok bool) {
	m := scene.Prints.Masks(masking)
	if m == nil {
		return to, false
	}
	for i := range to {
		to[i] = float32(m[3*(i%3)+i/3]) // column by column
	}
	return to, true
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
