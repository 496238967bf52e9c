//go:build js

package main

import (
	_ "embed"
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/tone"
)

//go:embed proof.kage
var proofShader []byte

// The table's image: the cube as nodes slices side by side, high bytes above
// low bytes, below them the print curves and the reference curves by printer,
// high byte in red and low byte in green, each in rows of curveRun knots.
const (
	nodes        = picture.CubeNodes
	tableWidth   = nodes * nodes
	curveRun     = 1024
	curveRows    = tone.Knots/curveRun + 1
	printRow     = 2 * nodes
	referenceRow = printRow + 3*curveRows
	tableHeight  = referenceRow + 3*curveRows
)

// maxWindow bounds a window's side: every WebGL device takes 4096.
const maxWindow = 4096

// screen holds what lies on the graphics card: a window of each plate at the
// level of its pyramid that the zoom asks for, and the table.
type screen struct {
	shader     *ebiten.Shader
	table      *ebiten.Image
	tableStale bool
	windows    [3]window // by source
	pixels     []byte    // reused for uploads
}

// window is the part of one level of a plate that is on the graphics card.
type window struct {
	image *ebiten.Image
	level int
	part  image.Rectangle // in the level's pixels; empty for none
}

func (s *screen) prepare() (err error) {
	s.shader, err = ebiten.NewShader(proofShader)
	s.tableStale = true
	return err
}

// forget drops the windows of the set before.
func (s *screen) forget() {
	for i := range s.windows {
		s.windows[i].part = image.Rectangle{}
	}
}

func unmanaged(w, h int) *ebiten.Image {
	return ebiten.NewImageWithOptions(image.Rect(0, 0, w, h), &ebiten.NewImageOptions{Unmanaged: true})
}

// room returns n bytes that the next call may overwrite.
func (s *screen) room(n int) []byte {
	if cap(s.pixels) < n {
		s.pixels = make([]byte, n)
	}
	return s.pixels[:n]
}

// writeTable puts the cube and the curves on the graphics card.
func (s *screen) writeTable(table []uint16, curves [3]picture.Curves) {
	if s.table == nil {
		s.table = unmanaged(tableWidth, tableHeight)
	}
	px := s.room(4 * tableWidth * tableHeight)
	for c := range nodes {
		for m := range nodes {
			for y := range nodes {
				v := table[3*((c*nodes+m)*nodes+y):]
				hi := 4 * (m*tableWidth + c*nodes + y)
				lo := hi + 4*nodes*tableWidth
				for ch := range 3 {
					px[hi+ch], px[lo+ch] = byte(v[ch]>>8), byte(v[ch])
				}
				px[hi+3], px[lo+3] = 255, 255
			}
		}
	}
	for i, c := range curves {
		writeCurve(px[4*tableWidth*(printRow+i*curveRows):], c.Print)
		writeCurve(px[4*tableWidth*(referenceRow+i*curveRows):], c.Reference)
	}
	s.table.WritePixels(px)
	s.tableStale = false
}

func writeCurve(rows []byte, c *tone.Curve) {
	for i, v := range c {
		at := 4 * (i/curveRun*tableWidth + i%curveRun)
		rows[at], rows[at+1], rows[at+2], rows[at+3] = byte(v>>8), byte(v), 0, 255
	}
}

// look makes the window of a source hold the part of its level that is asked
// for, and as much around it again, so that a pan seldom cuts a new one.
func (s *screen) look(source int, p *plane.Plane, level int, want image.Rectangle) *window {
	w := &s.windows[source]
	all := image.Rect(0, 0, p.W, p.H)
	want = want.Intersect(all)
	if want.Empty() {
		want = image.Rect(0, 0, 1, 1)
	}
	if w.level == level && want.In(w.part) {
		return w
	}
	dx := max(0, min(max(32, want.Dx()/4), (maxWindow-want.Dx())/2))
	dy := max(0, min(max(32, want.Dy()/4), (maxWindow-want.Dy())/2))
	part := image.Rect(want.Min.X-dx, want.Min.Y-dy, want.Max.X+dx, want.Max.Y+dy).Intersect(all)
	part.Max.X = min(part.Max.X, part.Min.X+maxWindow)
	part.Max.Y = min(part.Max.Y, part.Min.Y+maxWindow)
	if w.image == nil || w.image.Bounds().Size() != part.Size() {
		if w.image != nil {
			w.image.Deallocate()
		}
		w.image = unmanaged(part.Dx(), part.Dy())
	}
	px := s.room(4 * part.Dx() * part.Dy())
	i := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for _, v := range p.Row(y)[part.Min.X:part.Max.X] {
			px[i], px[i+1], px[i+2], px[i+3] = byte(v>>8), byte(v), 0, 255
			i += 4
		}
	}
	w.image.WritePixels(px)
	w.level, w.part = level, part
	return w
}

// levelFor is the level whose pixels come nearest to the screen's, coarser
// where a very large screen would need more of it than a window holds.
func (a *app) levelFor() int {
	l := int(math.Round(math.Log2(1 / a.zoom)))
	for max(a.w, a.h)*a.ratio/a.zoom/math.Exp2(float64(l)) > maxWindow*3/4 {
		l++
	}
	return min(max(l, 0), len(a.plates[0])-1)
}

// Update has nothing to do: the page's events change the session.
func (a *app) Update() error { return nil }

// Layout gives the canvas the device pixels of the stage.
func (a *app) Layout(w, h int) (int, int) {
	r := ebiten.Monitor().DeviceScaleFactor()
	return int(math.Round(float64(w) * r)), int(math.Round(float64(h) * r))
}

// Draw paints the panes.
func (a *app) Draw(dst *ebiten.Image) {
	dst.Fill(surround)
	if !a.has() {
		return
	}
	if a.screen.tableStale {
		a.screen.writeTable(a.printing.Table, a.curves)
	}
	for _, p := range a.panes() {
		x0, y0, x1, y1 := a.shown(p)
		if x1 > x0 && y1 > y0 {
			a.drawPane(dst, p, image.Rect(x0, y0, x1, y1), a.view(p))
		}
	}
	a.answerCompare()
	a.drawn()
}

// drawPane paints the part r of dst, whose pixel (0, 0) view takes to the key.
func (a *app) drawPane(dst *ebiten.Image, p pane, r image.Rectangle, view affine.Matrix) {
	level := a.levelFor()
	var op ebiten.DrawTrianglesShaderOptions
	var toX, toY, reach, size []float32
	shown := []float32{1, 1, 1}
	for i := range 3 {
		printer := pigment.Printer(i)
		source := a.SourceOf(printer)
		levels := a.plates[source]
		l := min(level, len(levels)-1)
		m := a.layerMap(printer, l).Mul(view)
		w := a.screen.look(source, levels[l], l, bounds(m, r))
		m = affine.Translate(float64(-w.part.Min.X), float64(-w.part.Min.Y)).Mul(m)
		toX = append(toX, float32(m[0]), float32(m[1]), float32(m[2]))
		toY = append(toY, float32(m[3]), float32(m[4]), float32(m[5]))
		reach = append(reach, float32(-w.part.Min.X), float32(-w.part.Min.Y),
			float32(levels[l].W-1-w.part.Min.X), float32(levels[l].H-1-w.part.Min.Y))
		size = append(size, float32(w.part.Dx()), float32(w.part.Dy()))
		op.Images[i] = w.image
		if a.Hidden[i] || (p.only != "" && p.only != printer.String()) {
			shown[i] = 0
		}
	}
	op.Images[3] = a.screen.table
	op.Uniforms = map[string]any{
		"Look": lookOf[p.show], "EdgeA": a.edges[0], "EdgeB": a.edges[1],
		"ToX": toX, "ToY": toY, "Reach": reach, "Size": size, "Shown": shown,
	}
	op.Blend = ebiten.BlendCopy
	x0, y0, x1, y1 := float32(r.Min.X), float32(r.Min.Y), float32(r.Max.X), float32(r.Max.Y)
	v := func(x, y float32) ebiten.Vertex { return ebiten.Vertex{DstX: x, DstY: y, ColorA: 1} }
	dst.DrawTrianglesShader([]ebiten.Vertex{v(x0, y0), v(x1, y0), v(x0, y1), v(x1, y1)}, []uint16{0, 1, 2, 1, 2, 3}, a.screen.shader, &op)
}

// lookOf is the shader's Look of what a pane shows.
var lookOf = map[int]int{showReference: 0, showPrint: 1, showEdges: 2, showDifference: 3}

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
