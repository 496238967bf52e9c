package place

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/session"
)

// PoseOf returns how source i lies against the key, as a person would place it.
func PoseOf(s *session.State, i int) session.Pose {
	w, h := s.Frame()
	return PoseIn(Found(s, i).Decompose(float64(w-1)/2, float64(h-1)/2))
}

// PoseIn is what a person reads in the parts of a map.
func PoseIn(p affine.Parts) session.Pose {
	pose := session.Pose{DX: p.DX, DY: p.DY, Turn: p.Turn, Stretch: 100 * (math.Sqrt(math.Abs(p.StretchX*p.StretchY)) - 1), Mirrored: p.StretchY < 0}
	if pose.Mirrored { // top to bottom is left to right after half a turn
		pose.Turn = halfTurn(pose.Turn)
	}
	return pose
}

// halfTurn adds 180° and stays within -180 … 180°.
func halfTurn(turn float64) float64 {
	if turn > 0 {
		return turn - 180
	}
	return turn + 180
}

// Posed returns where source i lies against the key if it is placed as p says: key
// pixel → pixel of the source. keepUneven keeps what a pose does not hold, the shear
// and the uneven stretch of where it lies now.
func Posed(s *session.State, i int, p session.Pose, keepUneven bool) affine.Matrix {
	w, h := s.Frame()
	cx, cy := float64(w-1)/2, float64(h-1)/2
	k := 1 + p.Stretch/100
	parts := affine.Parts{DX: p.DX, DY: p.DY, Turn: p.Turn, StretchX: k, StretchY: k}
	if keepUneven {
		was := Found(s, i).Decompose(cx, cy)
		if uneven := math.Sqrt(math.Abs(was.StretchX / was.StretchY)); session.Within(uneven, 0.5, 2) {
			parts.StretchX, parts.StretchY, parts.Shear = k*uneven, k/uneven, was.Shear
			if was.StretchY < 0 != p.Mirrored {
				parts.Shear = -was.Shear
			}
		}
	}
	if p.Mirrored {
		parts.StretchY, parts.Turn = -parts.StretchY, halfTurn(parts.Turn)
	}
	return affine.Compose(parts, cx, cy)
}
