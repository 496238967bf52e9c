package place

import (
	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// Found returns where the automatic register, or the user's hand, puts source
// i: key pixel → pixel of the source. A key other than the one that was
// registered to is gone through by its inverse.
func Found(s *session.State, i int) affine.Matrix {
	back, ok := s.Found[s.KeySource()].Matrix.Inverse()
	if !ok {
		return s.Found[i].Matrix
	}
	return s.Found[i].Matrix.Mul(back)
}

// Register returns where source i lies by the chosen way of registering: key
// pixel → pixel of the source. Where the marks do not suffice for that, it is
// what was found.
func Register(s *session.State, i int) affine.Matrix {
	if s.By != session.ByRegister && i != s.KeySource() {
		if fit, err := MarkFit(s, i); err == nil {
			return fit.Matrix
		}
	}
	return Found(s, i)
}

// Offset returns the offset of a layer as a map of key pixels: where the
// layer moves to.
func Offset(s *session.State, p pigment.Printer) affine.Matrix {
	o, um := s.Offsets[p], s.PixelMicrons()
	w, h := s.Frame()
	kx := 1 + o.Stretch/100
	ky := kx
	if s.Grain == "level" {
		ky *= 1 + o.Across/100
	} else {
		kx *= 1 + o.Across/100
	}
	return affine.Compose(affine.Parts{DX: o.DX / um, DY: o.DY / um, Turn: o.Turn, StretchX: kx, StretchY: ky},
		float64(w-1)/2, float64(h-1)/2)
}

// FoundKey is the filter of the plate that the others were found against, "" where
// none were.
func FoundKey(s *session.State) string {
	for f, name := range session.Filters {
		if s.Assign[f] == s.FoundKey {
			return name
		}
	}
	return ""
}
