//go:build js

package main

import (
	"fmt"
	"image/color"
	"maps"
	"math"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// surround is the neutral grey around the pictures (ISO 3664 asks for a
// neutral, mid to dark surround).
var surround = color.NRGBA{100, 100, 100, 255}

// board holds what the list of palettes shows: the depth that each reaches on
// the paper, surface, order and light of the session. It is filled one palette
// at a time, so that the page stays live.
type board struct {
	of   string             // what the depths were computed for
	deep map[string]deepest // by what a palette holds: an edited one is another
}

type deepest struct {
	L       float64 `json:"L"`
	Density float64 `json:"density"`
	Hex     string  `json:"hex"`
	Even    bool    `json:"even"`    // there is no grey scale: these are the full coats
	Greyest float64 `json:"greyest"` // L* of the deepest grey, where Even
}

// stands is all of the session, palettes aside, that a palette's depth depends
// on.
func stands(s *session.State) string {
	paper, _ := s.PaperByID(s.Paper)
	return fmt.Sprint(s.Order, s.Finish, s.Light, s.Limit, paper.R)
}

// contents is all of a palette that its depth depends on.
func contents(p pigment.Palette) string { return fmt.Sprint(p.Yellow, p.Magenta, p.Cyan) }

// fillBoard computes the depth of one palette that is still missing and tells
// whether more are.
func (a *app) fillBoard() (more bool) {
	if now := stands(&a.State); a.board.of != now {
		a.board = board{of: now, deep: map[string]deepest{}}
	}
	all := a.State.Palettes()
	wanted := map[string]bool{}
	for _, p := range all {
		wanted[contents(p)] = true
	}
	maps.DeleteFunc(a.board.deep, func(key string, _ deepest) bool { return !wanted[key] })
	for _, p := range all {
		if _, done := a.board.deep[contents(p)]; done {
			continue
		}
		s := a.State
		s.Palette = p.ID
		printing := a.printing
		if p.ID != a.Palette {
			var err error
			if printing, err = picture.Prepare(&s); err != nil {
				return false
			}
		}
		a.board.deep[contents(p)] = deepestOf(printing)
		return true
	}
	return false
}

func deepestOf(p *picture.Printing) deepest {
	d := p.Scale.Depth
	return deepest{d.Lab[0], d.VisualDensity, hex(p.Recipe.Reflectance(d.Thickness), p.Light), p.Scale.Even, p.Scale.Greyest}
}

// hex is a reflectance under a light as an sRGB colour, adapted to the
// display's white and held within its gamut.
func hex(r spectrum.Curve, light spectrum.Light) string {
	return hexOf(spectrum.LinearSRGB(light.XYZ(r), light.White))
}

func hexOf(linear [3]float64) string {
	var b [3]uint8
	for i, v := range linear {
		b[i] = uint8(math.Round(255 * min(max(spectrum.EncodeSRGB(v), 0), 1)))
	}
	return fmt.Sprintf("#%02x%02x%02x", b[0], b[1], b[2])
}
