package picture

import (
	"threeply/proof/plate"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// ThumbSide bounds the smallest level of a plate's pyramid, which is shown as
// its thumbnail.
const ThumbSide = 320

// Begin returns the state that a set of plates is opened with.
func Begin(set *plate.Set) session.State {
	s := session.New()
	s.Layout = string(set.Layout)
	s.Assign = set.Assign
	for i, p := range set.Sources {
		negative := p.Polarity == plate.Negative
		s.Sources[i] = session.Source{
			File: p.Name, W: p.W, H: p.H, Bits: p.Bits, PPI: p.PPI, Encoding: p.Encoding,
			Film: tone.Film{Negative: negative, White: p.White, Black: p.Black, Gamma: session.DefaultGamma(negative)},
			Sure: p.PolaritySure, Base: p.Base, Max: p.Max, Area: p.Area,
		}
	}
	s.Title = titleOf(set)
	return s
}
