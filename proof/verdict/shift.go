package verdict

import (
	"threeply/proof/affine"
	"threeply/proof/session"
)

// Shift is how far the picture lies from the middle in the scan of source i, in pixels of
// that scan, to the right and down: from the scan's middle to where m, a map from the key,
// puts the key's middle. All that tells of a shift counts it so, whatever the sizes of the
// two scans.
func Shift(s *session.State, i int, m affine.Matrix) (dx, dy float64) {
	w, h := s.Frame()
	x, y := m.Apply(float64(w-1)/2, float64(h-1)/2)
	src := s.Sources[i]
	return x - float64(src.W-1)/2, y - float64(src.H-1)/2
}
