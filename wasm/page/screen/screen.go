//go:build js

package screen

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/wasm/page/breath"
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
	Scene  func() Scene // gives what is to be drawn now
	Glance func() Scene // gives that as it is known, with prints that may be those of another set
	Wanted func()       // asks the browser for a frame
	Drawn  func()       // is told that a frame with plates stands
	wide   bool         // the canvas is Display P3

	shaders map[shader.Kind]*ebiten.Shader // those that were shown
	cold    []shader.Kind                  // soon shown: see warm
	pinhole *ebiten.Image                  // one pixel out of sight, and one that is looked up
	paper   *ebiten.Image                  // for it; nil before they are needed
	failed  error                          // ends the program with the next frame
	tables  [picture.Variants]table        // by variant of the print
	apart   pairTable                      // of two prints, for their difference
	windows [windowSets][3]held            // by set and by source
	brought int                            // how often something was brought onto the graphics card
	asked   bool                           // the next frame is to show the scene
	of      int                            // the set of plates that was open when it was asked for
	shows   bool                           // pictures were drawn whole
	slow    bool                           // frames hold the page up, or none has shown yet that they do not
	painted int                            // pixels in the frame that Took is not told of yet
	opened  int                            // the set of plates that the windows are cut from
	found   [3]session.Found               // how register laid the plates of the last frame
	size    image.Point                    // of the canvas
	turn    int                            // the pane with which the next frame begins, where it may not paint all
	stands  *frame                         // what the last frame left on the screen
	next    *frame                         // is filled with the next; both are used by turns
	laid    layout                         // of the next frame
	brush   brush
	pixels  []byte              // reused for uploads
	compare chan<- []Comparison // is wanted with the next frame, or nil
	plain   *plain              // draws in place of the graphics card; nil where there is one
}

// New compiles the shaders of the pictures that the page opens with.
// wide is told where the canvas is Display P3.
func New(wide bool) (*Screen, error) {
	s := &Screen{wide: wide, slow: true, shaders: map[shader.Kind]*ebiten.Shader{}, stands: &frame{}, next: &frame{}}
	s.brush.options.Uniforms, s.brush.options.Blend = s.brush.uniforms.Named(), ebiten.BlendCopy
	for _, shows := range []view.Shows{view.ShowsPrint, view.ShowsReference} {
		kind := shader.Kind{Shows: shows, Wide: wide}
		s.shaderOf(kind)
		s.cold = append(s.cold, kind)
		breath.Take()
	}
	return s, s.failed
}

// shaderOf is the shader of a kind, compiled when it is first asked for; nil where that failed.
func (s *Screen) shaderOf(kind shader.Kind) *ebiten.Shader {
	if s.shaders[kind] == nil && s.failed == nil {
		made, err := ebiten.NewShader(shader.Source(kind))
		if err != nil {
			s.failed = fmt.Errorf("the picture cannot be drawn here: %w", err)
			return nil
		}
		s.shaders[kind] = made
	}
	return s.shaders[kind]
}

// surround is the neutral grey around the pictures (ISO 3664 asks for a neutral, mid to
// dark surround), and loupeGround that between the loupe's panes.
var (
	surround    = color.NRGBA{100, 100, 100, 255}
	loupeGround = color.RGBA{0x2c, 0x2c, 0x2c, 255}
)

// Schedule has the next frame drawn, unless it would show what stands: even so a frame
// copies the whole stage.
func (s *Screen) Schedule() {
	if s.plain != nil {
		s.plain.schedule()
		return
	}
	scene := s.Scene()
	if s.compare != nil || s.failed != nil || !s.standing(scene) {
		s.asked, s.of = true, scene.Opened
		s.Again()
	}
}

// standing tells whether the last frame shows the scene.
func (s *Screen) standing(scene Scene) bool {
	f := s.stands
	if !f.drawn || f.stage != scene.View.Stage {
		return false
	}
	if !scene.Plates.Open() {
		return len(f.panes) == 0
	}
	l := &s.laid
	l.of(scene)
	if scene.Opened != s.opened || len(l.panes) != len(f.panes) || l.loupe != f.loupe || !slices.Equal(l.papers, f.papers) {
		return false
	}
	for i, p := range l.panes {
		if !s.tableStands(scene, p.Pane) {
			return false
		}
		if i == 0 && s.lacks(scene, l.panes) {
			return false
		}
		if f.panes[i].due.rows > 0 || s.strokeOf(scene, p) != f.panes[i].stroke {
			return false
		}
	}
	return true
}

// Update has nothing to do: the page's events change what is drawn. It ends the program
// where a picture cannot be drawn.
func (s *Screen) Update() error { return s.failed }

// Layout gives the canvas the device pixels of the stage. One whose graphics card was lost can have
// no other size.
func (s *Screen) Layout(w, h int) (int, int) {
	if s.plain == nil {
		r := ebiten.Monitor().DeviceScaleFactor()
		s.size = image.Pt(int(math.Round(float64(w)*r)), int(math.Round(float64(h)*r)))
	}
	return s.size.X, s.size.Y
}

// Draw paints the panes, and the loupe's over them. dst is as the last frame left it: a
// pane is painted again only where something in it changed.
func (s *Screen) Draw(dst *ebiten.Image) {
	if s.plain != nil {
		return
	}
	if !s.shows && s.Glance().Opened != s.of { // plates that have come since are brought first, see Bring
		s.asked = false
	}
	if first := !s.stands.drawn; first || !s.asked && !s.shows { // a frame for the shaders
		scene := s.Glance()
		s.empty(dst, scene, !first && !scene.Plates.Open()) // the first has the graphics library's own made, and the pictures theirs: that is enough
		return
	}
	s.asked = false
	scene := s.Scene()
	if !scene.Plates.Open() {
		s.empty(dst, scene, true)
		return
	}
	anew := s.opens(scene) || scene.Session.Found != s.found // no hand moves the panes
	s.found = scene.Session.Found
	before := s.brought
	now := s.frameOf(scene, dst.Bounds())
	whole := !now.laidLike(s.stands)
	if whole {
		dst.Fill(surround)
		for _, paper := range now.papers {
			dst.SubImage(paper.at).(*ebiten.Image).Fill(paper.colour)
		}
	}
	most := math.MaxInt // pixels that are painted in this frame, or half as many more
	laid := s.stands.size == now.size && s.stands.stage != now.stage
	if s.slow && (anew || laid || !whole) { // panes that a hand lays move as one
		if s.shows { // the first ones are there sooner at once, and nobody has begun to work
			most = portion
		}
		if s.brought != before {
			most = 0
		}
	}
	left := s.paintDue(dst, now, whole, anew, most)
	if s.painted == 0 && !left {
		s.warm()
	}
	s.stands, s.next = now, s.stands
	s.answerCompare(scene)
	if left || len(s.cold) > 0 {
		s.asked = true
		s.Again()
	}
	if !left {
		s.shows = true
		s.Drawn()
	}
}

// DrawFinalScreen draws on the canvas what Draw has painted.
func (s *Screen) DrawFinalScreen(screen ebiten.FinalScreen, painted *ebiten.Image, geoM ebiten.GeoM) {
	if s.plain == nil {
		ebiten.DefaultDrawFinalScreen(screen, painted, geoM)
	}
}

// empty draws that no pictures are there, and finishes a shader that waits for it.
func (s *Screen) empty(dst *ebiten.Image, scene Scene, warm bool) {
	dst.Fill(surround)
	if warm {
		s.warm()
	}
	s.stands.clear()
	s.stands.drawn, s.stands.stage = true, scene.View.Stage
	if s.asked || len(s.cold) > 0 && !scene.Plates.Open() {
		s.Again()
	}
}

// Bring brings one thing onto the graphics card that the scene's pictures lack, and tells whether
// it did: so that the frame of the first pictures need not bring them all at once. A frame brings
// what is still lacking.
func (s *Screen) Bring() bool {
	scene := s.Scene()
	if s.plain != nil || !scene.Plates.Open() {
		return false
	}
	s.opens(scene)
	l := &s.laid
	l.of(scene)
	before := s.brought
	s.windowsFor(scene, l.panes, func(w *held, p *plane.Plane, level int, want image.Rectangle) {
		if s.brought == before {
			s.hold(w, p, level, want)
		}
	})
	for _, p := range l.panes {
		if s.brought == before {
			s.bringTable(scene, p.Pane)
		}
	}
	return s.brought != before
}

// opens tells whether a scene shows other plates than the last, whose windows it forgets then.
func (s *Screen) opens(scene Scene) bool {
	if scene.Opened == s.opened {
		return false
	}
	s.opened = scene.Opened
	s.forgetWindows()
	return true
}

// paintDue paints what differs from what stands, or all of the panes, until so many pixels are
// painted. anew tells that what moves is not moved by hand. It tells whether some is left to the
// next frame.
func (s *Screen) paintDue(dst *ebiten.Image, now *frame, all, anew bool, most int) (left bool) {
	s.painted = 0
	first := 0 // whose turn it is
	if !all {
		first = s.turn // no pane is left behind while a hand moves them
	}
	for k := range now.panes {
		i := (first + k) % len(now.panes)
		if i == now.under && !now.loupe.Empty() {
			dst.SubImage(now.loupe).(*ebiten.Image).Fill(loupeGround)
		}
		pane, atATime := &now.panes[i], most
		if all {
			pane.due.all(pane.r)
		} else {
			stood := &s.stands.panes[i]
			pane.due = stood.due
			if pane.stroke != stood.stroke {
				pane.due.all(pane.r)
				if !anew && !pane.recolours(&stood.stroke) { // what moves, or takes turns, does so as one
					pane.due.next, atATime = 0, math.MaxInt
				}
			}
		}
		for pane.due.rows > 0 && s.painted < most-most/2 {
			part := pane.due.take(pane.r, atATime)
			s.paint(dst, &pane.stroke, part)
			s.painted += part.Dx() * part.Dy()
			s.turn = i + 1
		}
		left = left || pane.due.rows > 0
	}
	return left
}

// How long a frame holds the page up, from which on panes are painted a portion a frame, and
// down to which all at once again. A card takes less than a millisecond; a browser that draws by
// software, which is waited for, a tenth of a second and more.
const (
	slowFrame = 50 * time.Millisecond
	fastFrame = 16 * time.Millisecond
)

// Took is told how long the page was held up by a frame. One that painted little says nothing
// of how fast all would be.
func (s *Screen) Took(frame time.Duration) {
	s.slow = frame > slowFrame || s.slow && (frame > fastFrame || s.painted < portion/2)
	s.painted = 0
}

// Again has another frame drawn.
func (s *Screen) Again() {
	ebiten.ScheduleFrame()
	s.Wanted()
}

// frame is what a frame shows.
type frame struct {
	drawn  bool       // false before the first
	stage  view.Stage // as it was
	size   image.Rectangle
	papers []paper
	panes  []painting
	under  int             // how many of the panes lie under the loupe
	loupe  image.Rectangle // empty for none
}

// painting is a pane as it is to look, and what of it does not look so yet.
type painting struct {
	stroke
	due due
}

// clear has the frame show nothing. It keeps its room.
func (f *frame) clear() { *f = frame{papers: f.papers[:0], panes: f.panes[:0]} }

// paper is a part of the screen of one colour.
type paper struct {
	at     image.Rectangle
	colour color.NRGBA
}

// Plain tells whether the program itself draws, without a graphics card.
func (s *Screen) Plain() bool { return s.plain != nil }

// layout is what lies where on the screen.
type layout struct {
	papers []paper
	panes  []shown
	under  int             // how many of the panes lie under the loupe
	loupe  image.Rectangle // empty for none

	all []view.Pane // of the view
}

// of lays out a scene, in the room that the layout has.
func (l *layout) of(scene Scene) {
	v := scene.View
	*l = layout{papers: l.papers[:0], panes: l.panes[:0], all: v.AppendPanes(l.all[:0])}
	for _, p := range l.all {
		if at, ok := paperOf(scene, p); ok {
			l.papers = append(l.papers, at)
		}
	}
	l.add(v, l.all)
	l.under = len(l.panes)
	if panes, box := v.LoupePanes(scene.Session); len(panes) > 0 {
		l.loupe = v.OnCanvas(box)
		l.add(v, panes)
	}
}

// add adds the panes of which something is seen.
func (l *layout) add(v *view.View, panes []view.Pane) {
	for _, p := range panes {
		if covered := v.Covered(p); !covered.Empty() {
			l.panes = append(l.panes, shown{p, covered, v.ToPixel(p)})
		}
	}
}

// frameOf is what a frame of the scene shows, and brings that onto the graphics card. Where
// nothing new is brought, it allocates nothing.
func (s *Screen) frameOf(scene Scene, size image.Rectangle) *frame {
	l, out := &s.laid, s.next
	l.of(scene)
	out.clear()
	out.drawn, out.stage = true, scene.View.Stage
	out.size, out.under, out.loupe = size, l.under, l.loupe
	out.papers = append(out.papers, l.papers...)
	s.bring(scene, l.panes)
	for _, p := range l.panes {
		out.panes = append(out.panes, painting{stroke: s.strokeOf(scene, p)})
	}
	return out
}

// laidLike tells whether another frame has the same papers and its panes at the same
// places, none over another.
func (f *frame) laidLike(other *frame) bool {
	return f.size == other.size && f.loupe.Empty() && other.loupe.Empty() && slices.Equal(f.papers, other.papers) &&
		slices.EqualFunc(f.panes, other.panes, func(a, b painting) bool { return a.r == b.r })
}

// paperOf is the paper of a print that lies under its picture, and a neutral of the same
// lightness under the reference, so that both are seen against the same.
func paperOf(scene Scene, p view.Pane) (at paper, ok bool) {
	if p.Shows != view.ShowsPrint && p.Shows != view.ShowsReference {
		return paper{}, false
	}
	colour := scene.Prints.Of(scene.Session, p.Variant).PaperOnScreen()
	if p.Shows == view.ShowsReference {
		colour = prints.NeutralLike(colour)
	}
	at = paper{scene.View.PaperOf(p), colour}
	return at, !at.at.Empty()
}

// room returns n bytes that the next call may overwrite.
func (s *Screen) room(n int) []byte {
	if cap(s.pixels) < n {
		s.pixels = make([]byte, n)
	}
	return s.pixels[:n]
}
