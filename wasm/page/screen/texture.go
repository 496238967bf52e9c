//go:build js

package screen

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/shader"
	"threeply/wasm/page/view"
	"threeply/wasm/page/window"
)

// Panes that are looked at with another zoom than the rest have windows of their own,
// lest both be cut anew each frame.
const (
	windowsOfPanes = iota
	windowsOfLoupe
	windowSets
)

func windowsOf(p view.Pane) int {
	if p.InLoupe {
		return windowsOfLoupe
	}
	return windowsOfPanes
}

// held is the part of one level of a plate that is on the graphics card.
type held struct {
	image   *ebiten.Image
	written int // times
	level   int
	part    image.Rectangle // in the level's pixels; empty for none
}

// table is what one variant of the print is looked up in.
type table struct {
	image   *ebiten.Image
	written int  // times
	serial  int  // of the print that it holds
	shell   bool // its shell is written too
}

// forgetWindows drops the parts of the plates before.
func (s *Screen) forgetWindows() {
	for set := range s.windows {
		for i := range s.windows[set] {
			s.windows[set][i].part, s.windows[set][i].level = image.Rectangle{}, 0
		}
	}
}

func unmanaged(w, h int) *ebiten.Image {
	return ebiten.NewImageWithOptions(image.Rect(0, 0, w, h), &ebiten.NewImageOptions{Unmanaged: true})
}

// hold makes a window hold the part of a plate's level that is asked for; see window.Cut. A
// texel holds a code of 16 bits and the next on its right, between which the shader mixes.
func (s *Screen) hold(w *held, p *plane.Plane, level int, want image.Rectangle) {
	if w.holds(p, level, want) {
		return
	}
	part := window.Cut(image.Rect(0, 0, p.W, p.H), want)
	if w.image == nil || w.image.Bounds().Size() != part.Size() {
		if w.image != nil {
			w.image.Deallocate()
		}
		w.image = unmanaged(part.Dx(), part.Dy())
	}
	px := s.room(4 * part.Dx() * part.Dy())
	i := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		row := p.Row(y)[part.Min.X:part.Max.X]
		for x, v := range row {
			next := row[min(x+1, len(row)-1)]
			px[i], px[i+1], px[i+2], px[i+3] = byte(v>>8), byte(v), byte(next>>8), byte(next)
			i += 4
		}
	}
	w.image.WritePixels(px)
	w.written++
	s.brought++
	w.level, w.part = level, part
}

// holds tells whether a window holds the part of a plate's level that is asked for.
func (w *held) holds(p *plane.Plane, level int, want image.Rectangle) bool {
	return w.level == level && !w.part.Empty() && want.Intersect(image.Rect(0, 0, p.W, p.H)).In(w.part)
}

// levelFor is the level of the plates that a pane shows; see window.Level.
func levelFor(scene Scene, p view.Pane) int {
	v := scene.View
	return window.Level(v.ZoomIn(p), max(v.Stage.W, v.Stage.H)*v.Stage.Ratio, len(scene.Plates[0]))
}

// pairTable is the tables of two prints, one below the other.
type pairTable struct {
	image   *ebiten.Image
	written int    // times
	serials [2]int // of the prints that it holds
}

// tableStands tells whether the table that a pane is looked up in needs not be written.
func (s *Screen) tableStands(scene Scene, p view.Pane) bool {
	own := scene.Prints.Of(scene.Session, p.Variant).Serial
	if p.Against != nil {
		return s.apart.serials == [2]int{own, scene.Prints.Of(scene.Session, p.Against.Variant).Serial}
	}
	t := &s.tables[p.Variant]
	return t.serial == own && (t.shell || p.Shows != view.ShowsReach)
}

// bringTable returns the table that a pane is looked up in, and how often it was written, anew where a print
// has changed.
func (s *Screen) bringTable(scene Scene, p view.Pane) (image *ebiten.Image, written int) {
	if p.Against == nil {
		t := s.tableOf(scene, p)
		return t.image, t.written
	}
	a := s.tablesApart(scene, p)
	return a.image, a.written
}

// tablesApart returns the table of a pane's print with that of the print that it is held
// against below it.
func (s *Screen) tablesApart(scene Scene, p view.Pane) *pairTable {
	a := &s.apart
	both := [2]prints.Print{scene.Prints.Of(scene.Session, p.Variant), scene.Prints.Of(scene.Session, p.Against.Variant)}
	if now := [2]int{both[0].Serial, both[1].Serial}; now != a.serials {
		if a.image == nil {
			a.image = unmanaged(shader.TableWidth, 2*shader.TableHeight)
		}
		const size = 4 * shader.TableWidth * shader.TableHeight
		px := s.room(2 * size)
		for i, print := range both {
			shader.Table(px[i*size:(i+1)*size], print.Table, print.Curves, nil)
		}
		a.image.WritePixels(px)
		a.written++
		s.brought++
		a.serials = now
	}
	return a
}

// tableOf returns the table that a pane is looked up in, written anew where the print
// has changed.
func (s *Screen) tableOf(scene Scene, p view.Pane) *table {
	t := &s.tables[p.Variant]
	print := scene.Prints.Of(scene.Session, p.Variant)
	reaches := p.Shows == view.ShowsReach
	if t.serial == print.Serial && (t.shell || !reaches) {
		return t
	}
	if t.image == nil {
		t.image = unmanaged(shader.TableWidth, shader.TableHeight)
	}
	var shell *reach.Shell
	if reaches {
		shell = scene.Prints.Shell(scene.Session, p.Variant)
	}
	px := s.room(4 * shader.TableWidth * shader.TableHeight)
	shader.Table(px, print.Table, print.Curves, shell)
	t.image.WritePixels(px)
	t.written++
	s.brought++
	t.serial, t.shell = print.Serial, shell != nil
	return t
}
