//go:build js

package screen

import (
	"fmt"
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/shader"
	"threeply/wasm/page/view"
)

// Scene is what is drawn. Nothing in it is changed.
type Scene struct {
	Session *session.State
	Plates  prints.Plates
	Prints  *prints.Prints
	View    *view.View
	Opened  int // changes with the set of plates
}

// Screen holds what lies on the graphics card, and is the game that Ebitengine runs.
type Screen struct {
	Scene func() Scene // gives what is to be drawn now
	Drawn func()       // is told that a frame with plates stands
	Wide  bool         // the canvas is Display P3

	shader  *ebiten.Shader
	tables  [picture.Variants]table // by variant of the print
	apart   pairTable               // of two prints, for their difference
	windows [windowSets][3]window   // by set and by source
	opened  int                     // the set of plates that the windows are cut from
	pixels  []byte                  // reused for uploads
	compare chan<- []Comparison     // is wanted with the next frame, or nil
}

// New compiles the shader.
func New() (*Screen, error) {
	s := &Screen{}
	var err error
	if s.shader, err = ebiten.NewShader(shader.Source); err != nil {
		return nil, fmt.Errorf("the picture cannot be drawn here: %w", err)
	}
	return s, nil
}

// surround is the neutral grey around the pictures (ISO 3664 asks for a neutral, mid to
// dark surround), and loupeGround that between the loupe's panes.
var (
	surround    = color.NRGBA{100, 100, 100, 255}
	loupeGround = color.RGBA{0x2c, 0x2c, 0x2c, 255}
)

// Update has nothing to do: the page's events change what is drawn.
func (s *Screen) Update() error { return nil }

// Layout gives the canvas the device pixels of the stage.
func (s *Screen) Layout(w, h int) (int, int) {
	r := ebiten.Monitor().DeviceScaleFactor()
	return int(math.Round(float64(w) * r)), int(math.Round(float64(h) * r))
}

// Draw paints the panes, and the loupe's over them.
func (s *Screen) Draw(dst *ebiten.Image) {
	dst.Fill(surround)
	scene := s.Scene()
	if !scene.Plates.Open() {
		return
	}
	if scene.Opened != s.opened {
		s.opened = scene.Opened
		s.forgetWindows()
	}
	v := scene.View
	panes := v.Panes()
	for _, p := range panes {
		s.drawPaper(dst, scene, p)
	}
	for _, p := range panes {
		if covered := v.Covered(p); !covered.Empty() {
			s.drawPane(dst, scene, p, covered, v.ToPixel(p))
		}
	}
	if panes, box := v.LoupePanes(scene.Session); len(panes) > 0 {
		dst.SubImage(v.OnCanvas(box)).(*ebiten.Image).Fill(loupeGround)
		for _, p := range panes {
			s.drawPane(dst, scene, p, v.Covered(p), v.ToPixel(p))
		}
	}
	s.answerCompare(scene)
	s.Drawn()
}

// drawPaper lays the paper of a print under its picture, and a neutral of the same
// lightness under the reference, so that both are seen against the same.
func (s *Screen) drawPaper(dst *ebiten.Image, scene Scene, p view.Pane) {
	if p.Shows != view.ShowsPrint && p.Shows != view.ShowsReference {
		return
	}
	paper := scene.Prints.Of(scene.Session, p.Variant).PaperOnScreen()
	if p.Shows == view.ShowsReference {
		paper = prints.NeutralLike(paper)
	}
	if at := scene.View.PaperOf(p); !at.Empty() {
		dst.SubImage(at).(*ebiten.Image).Fill(paper)
	}
}

// room returns n bytes that the next call may overwrite.
func (s *Screen) room(n int) []byte {
	if cap(s.pixels) < n {
		s.pixels = make([]byte, n)
	}
	return s.pixels[:n]
}
