//go:build js

package main

import (
	_ "embed"
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/tone"
)

//go:embed proof.kage
var proofShader []byte

// The table's image: the cube as nodes slices side by side, high bytes above
// low bytes; below them the print, reference, tone and thickness curves by
// printer, high byte in red and low byte in green, each in rows of curveRun
// knots; below those the shell of what can be printed, a row a hue.
const (
	nodes        = picture.CubeNodes
	tableWidth   = nodes * nodes
	curveRun     = 1024
	curveRows    = tone.Knots/curveRun + 1
	curveRow     = 2 * nodes
	shellRow     = curveRow + 4*3*curveRows
	tableHeight  = shellRow + reach.Hues
	shellPerCode = 256.0 / 65535 // units of chroma
)

// maxWindow bounds a window's side: every WebGL device takes 4096.
const maxWindow = 4096

// screen holds what lies on the graphics card: a window of each plate at the
// level of its pyramid that the zoom asks for, and the tables of the print.
type screen struct {
	shader  *ebiten.Shader
	tables  [variants]table  // by variant of the print
	windows [slots][3]window // by slot of the pane and by source
	wide    bool             // the canvas is Display P3
	pixels  []byte           // reused for uploads
}

// Panes that are looked at with another zoom than the rest have windows of
// their own, lest both be cut anew each frame.
const (
	slotMain = iota
	slotLoupe
	slots
)

// table is what one variant of the print is looked up in.
type table struct {
	image *ebiten.Image
	fresh bool
	shell bool // its shell is written too
}

// stale has the tables written anew.
func (s *screen) stale() {
	for i := range s.tables {
		s.tables[i].fresh = false
	}
}

// window is the part of one level of a plate that is on the graphics card.
type window struct {
	image *ebiten.Image
	level int
	part  image.Rectangle // in the level's pixels; empty for none
}

func (s *screen) prepare() (err error) {
	s.shader, err = ebiten.NewShader(proofShader)
	return err
}

// forget drops the windows of the set before.
func (s *screen) forget() {
	for slot := range s.windows {
		for i := range s.windows[slot] {
			s.windows[slot][i].part = image.Rectangle{}
		}
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

// writeTable puts a cube and its curves on the graphics card, and the shell
// where that is asked for.
func (s *screen) writeTable(variant int, cube []uint16, curves [3]picture.Curves, shell *reach.Shell) {
	t := &s.tables[variant]
	if t.image == nil {
		t.image = unmanaged(tableWidth, tableHeight)
	}
	px := s.room(4 * tableWidth * tableHeight)
	for c := range nodes {
		for m := range nodes {
			for y := range nodes {
				v := cube[3*((c*nodes+m)*nodes+y):]
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
		for k, curve := range [4]*tone.Curve{c.Print, c.Reference, c.Tone, c.Thickness} {
			writeCurve(px[4*tableWidth*(curveRow+(3*k+i)*curveRows):], curve)
		}
	}
	for k := 0; shell != nil && k < reach.Hues; k++ {
		row := px[4*tableWidth*(shellRow+k):]
		for l, chroma := range shell.Slice(360 * float64(k) / reach.Hues) {
			v := uint16(math.Round(min(max(chroma, 0), 255) / shellPerCode))
			row[4*l], row[4*l+1], row[4*l+2], row[4*l+3] = byte(v>>8), byte(v), 0, 255
		}
	}
	t.image.WritePixels(px)
	t.fresh, t.shell = true, shell != nil
}

func writeCurve(rows []byte, c *tone.Curve) {
	for i, v := range c {
		at := 4 * (i/curveRun*tableWidth + i%curveRun)
		rows[at], rows[at+1], rows[at+2], rows[at+3] = byte(v>>8), byte(v), 0, 255
	}
}

// look makes a window hold the part of a plate's level that is asked for, and as much around it again, so that a pan seldom cuts a new one.
func (s *screen) look(w *window, p *plane.Plane, level int, want image.Rectangle) {
	all := image.Rect(0, 0, p.W, p.H)
	want = want.Intersect(all)
	if want.Empty() {
		want = image.Rect(0, 0, 1, 1)
	}
	if w.level == level && want.In(w.part) {
		return
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
}

// levelFor is the level whose pixels come nearest to the screen's in a pane,
// coarser where a very large screen would need more of it than a window holds.
func (a *app) levelFor(p pane) int {
	zoom := a.zoomOf(p)
	l := int(math.Round(math.Log2(1 / zoom)))
	for max(a.w, a.h)*a.ratio/zoom/math.Exp2(float64(l)) > maxWindow*3/4 {
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
	for _, p := range a.panes() {
		x0, y0, x1, y1 := a.shown(p)
		if x1 > x0 && y1 > y0 {
			a.drawPane(dst, p, image.Rect(x0, y0, x1, y1), a.view(p))
		}
	}
	a.drawLoupe(dst)
	a.answerCompare()
	a.drawn()
}

// tableOf returns the table that a pane is looked up in, written where it is
// stale.
func (a *app) tableOf(p pane) *ebiten.Image {
	t := &a.screen.tables[p.variant]
	reaches := p.show == showReach
	if !t.fresh || reaches && !t.shell {
		printing := a.variant(p.variant)
		curves := a.curves
		if p.variant != likely {
			curves = printing.Curves(&a.State)
		}
		var shell *reach.Shell
		if reaches {
			shell = reach.New(printing.Cube, printing.Limit).Shell(printing.Scale)
		}
		a.screen.writeTable(p.variant, printing.Table, curves, shell)
	}
	return t.image
}
