package prints

import (
	"threeply/proof/picture"
	"threeply/proof/session"
)

// Ahead works out a piece of what Update and Of will need for a session and what is looked at: the
// printings, and, once the plates are known, their curves. It tells whether more may be missing. Without
// it, or where a printing cannot be worked out, all is worked out as it is asked for, at once, which holds
// the page up. The session may be another before all pieces are done.
func (p *Prints) Ahead(s *session.State, looked Looked) (more bool) {
	if p.ahead != nil {
		if !p.ahead() {
			p.ahead = nil
		}
		return true
	}
	if p.aheadFault {
		return false
	}
	all := shown(s, looked)
	for _, one := range all {
		if p.atHand(one) == nil {
			p.ahead = p.known.pieces(one, func(_ *picture.Printing, err error) { p.aheadFault = err != nil })
			return true
		}
	}
	if s.Sources[0].W == 0 {
		return false
	}
	if p.read.of != filmsOf(s) {
		p.filmsRead(s)
		return true
	}
	for _, one := range all {
		if printing := p.atHand(one); p.drawnAt(one, printing) < 0 {
			p.curves(one, printing)
			return true
		}
	}
	return false
}

// atHand is the printing of a session where it is known, else nil.
func (p *Prints) atHand(s *session.State) *picture.Printing {
	if p.likely.Fits(s) {
		return p.likely
	}
	return p.known.get(s)
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
