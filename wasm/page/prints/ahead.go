package prints

import (
	"threeply/proof/picture"
	"threeply/proof/session"
)

// Ahead works out a piece of the printings that Update and Of will need for a session and what is
// looked at, and tells whether more may be missing. Without it, or where one cannot be worked out,
// they are worked out as they are asked for, each at once, which holds the page up. The session may
// be another before all pieces are done.
func (p *Prints) Ahead(s *session.State, looked Looked) (more bool) {
	if p.ahead != nil {
		if !p.ahead() {
			p.ahead = nil
		}
		return true
	}
	for _, one := range shown(s, looked) {
		if p.aheadFault || p.likely.Fits(one) || p.known.has(one) {
			continue
		}
		p.ahead = p.known.pieces(one, func(_ *picture.Printing, err error) { p.aheadFault = err != nil })
		return true
	}
	return false
}

// shown are the sessions whose printings are looked at: as it is, with another palette, and with
// those of held prints.
func shown(s *session.State, looked Looked) []*session.State {
	own := *s // as it is now
	out := []*session.State{&own}
	if looked.Other != "" {
		other := *s
		other.Palette = looked.Other
		out = append(out, &other)
	}
	for _, held := range looked.Held {
		if held == nil {
			continue
		}
		if as, err := s.With(held); err == nil {
			out = append(out, &as)
		}
	}
	return out
}
