package prints

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/inspect"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// outside is the share of the print that the canvas does not show, and all that it stands
// on.
type outside struct {
	of    outsideStand
	share float64
}

type outsideStand struct {
	serial  int
	masks   *mask.Matrix
	space   string
	hidden  [3]bool
	offsets [3]session.Offset
	plates  [3]*plane.Plane
	at      [3]affine.Matrix
	area    [4]int
}

// outsideSamples is about how many pixels the share is counted on.
const outsideSamples = 40000

// Outside is the share of the print's picture, within the borders of the key where they are
// known, whose colours the canvas does not have, 0..1: counted on pixels of a grid, when it
// is asked for, so that a share of 0 may be a few pixels. ok is false where no plates are
// open.
func (p *Prints) Outside(s *session.State) (share float64, ok bool) {
	if !p.plates.Open() {
		return 0, false
	}
	key, planes := s.KeySource(), p.plates.Level(0)
	v := p.Of(s, picture.VariantTrue)
	now := outsideStand{v.Serial, p.chosen, p.space.Name, s.Hidden, s.Offsets, planes, [3]affine.Matrix{}, s.Sources[key].Area}
	for i := range now.at {
		now.at[i] = s.Found[s.SourceOf(pigment.Printer(i))].Matrix
	}
	if now == p.outside.of {
		return p.outside.share, true
	}
	pic := picture.Assemble(s, v.Masked(p.chosen), v.Curves, planes, affine.Identity, 0)
	w, h := s.Frame()
	step := max(math.Sqrt(float64(w*h)/outsideSamples), 1)
	n, all := 0, 0
	for y := (step - 1) / 2; y < float64(h); y += step {
		for x := (step - 1) / 2; x < float64(w); x += step {
			if px, py := math.Round(x), math.Round(y); within(now.area, px, py) {
				all++
				if _, _, by := inspect.Outside(pic, p.space, px, py); by > inspect.OutsideFrom {
					n++
				}
			}
		}
	}
	p.outside = outside{now, float64(n) / float64(max(all, 1))}
	return p.outside.share, true
}

// within tells whether a pixel lies in an area, which is the whole plate where it is not
// known.
func within(area [4]int, x, y float64) bool {
	return area[2] <= area[0] || x >= float64(area[0]) && y >= float64(area[1]) && x < float64(area[2]) && y < float64(area[3])
}
