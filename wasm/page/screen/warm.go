//go:build js

package screen

import (
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/wasm/page/shader"
)

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
	s.paint(s.pinhole, &stroke{r: s.pinhole.Bounds(), kind: s.cold[0], images: [4]*ebiten.Image{s.paper, s.paper, s.paper, s.paper}})
	s.cold = s.cold[1:]
}

// warmOn has another frame do the next.
func (s *Screen) warmOn() {
	if len(s.cold) > 0 {
		ebiten.ScheduleFrame()
		s.Wanted()
	}
}

// foresee has the pictures of plates that lie as scanned made ready for plates that are bent,
// while register looks.
func (s *Screen) foresee(panes []stroke) {
	for i := range panes {
		kind := panes[i].kind
		kind.Bent = true
		if s.shaders[kind] == nil && !slices.Contains(s.cold, kind) {
			s.cold = append(s.cold, kind)
		}
	}
}
