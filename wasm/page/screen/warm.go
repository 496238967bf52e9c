//go:build js

package screen

import "github.com/hajimehoshi/ebiten/v2"

// warm draws one pixel, out of sight, of a picture that is soon shown: the driver of a graphics
// card finishes a shader when something is first drawn with it, which may take longer than the
// picture.
func (s *Screen) warm() {
	if len(s.cold) == 0 {
		return
	}
	if s.pinhole == nil {
		s.pinhole, s.paper = unmanaged(1, 1), unmanaged(1, 1)
	}
	s.paint(s.pinhole, &stroke{kind: s.cold[0], images: [4]*ebiten.Image{s.paper, s.paper, s.paper, s.paper}}, s.pinhole.Bounds())
	s.cold = s.cold[1:]
}
