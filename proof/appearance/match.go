package appearance

import "threeply/proof/spectrum"

// Match takes a colour as it is in one room to the colour that looks the same
// in another: same lightness, colourfulness and hue to eyes that have adapted
// to each. A dim gallery so shows flatter darks and duller colours, but no
// darker picture: the eye opens. How dark the room itself is no screen shows.
type Match struct{ from, to room }

// NewMatch makes ready. Rooms without light give no sense; Adapting must be
// above 0.
func NewMatch(from, to Room) Match { return Match{from.ready(), to.ready()} }

// XYZ returns the matching colour, Y 100 for white in both rooms.
func (m Match) XYZ(x spectrum.XYZ) spectrum.XYZ {
	return m.to.colour(m.from.look(x))
}
