package prints

import (
	"fmt"
	"maps"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// depths are the deepest greys that the palettes reach on the paper, surface, order and
// light of the session. They are worked out one palette after the other and in pieces, so that
// the page stays live.
type depths struct {
	stand string             // what they were worked out for
	deep  map[string]Depth   // by what a palette holds: an edited one is another
	piece func() (more bool) // works out the next piece of one; nil where none is begun
	fault bool               // one cannot be worked out: the others are not tried over and over
}

// Depth is the deepest grey of a palette.
type Depth struct {
	L       float64 `json:"L"`
	Density float64 `json:"density"` // visual
	Hex     string  `json:"hex"`
	Even    bool    `json:"even"`    // there is no grey scale: these are the full coats
	Greyest float64 `json:"greyest"` // L* of the deepest grey, where Even
}

// depthsStand is all of the session, palettes aside, that depths depend on.
func depthsStand(s *session.State) string {
	paper, _ := s.PaperByID(s.Paper)
	return fmt.Sprint(s.Order, s.Finish, s.Light, s.Limit, paper.R)
}

// contents is all of a palette that its depth depends on.
func contents(p pigment.Palette) string { return fmt.Sprint(p.Yellow, p.Magenta, p.Cyan) }

// Fill works out a piece of the depth of a palette that is still missing, and tells whether more
// may be.
func (p *Prints) Fill(s *session.State) (more bool) {
	d := &p.depths
	if now := depthsStand(s); d.stand != now {
		*d = depths{stand: now, deep: map[string]Depth{}, piece: d.piece}
	}
	if d.piece != nil {
		if !d.piece() {
			d.piece = nil
		}
		return true
	}
	if d.fault {
		return false
	}
	all := s.Palettes()
	wanted := map[string]bool{}
	for _, one := range all {
		wanted[contents(one)] = true
	}
	maps.DeleteFunc(d.deep, func(key string, _ Depth) bool { return !wanted[key] })
	for _, one := range all {
		if _, done := d.deep[contents(one)]; done {
			continue
		}
		if one.ID == s.Palette {
			d.deep[contents(one)] = depthOf(p.likely)
			return true
		}
		other := *s
		other.Palette = one.ID
		d.begin(&p.known, &other, contents(one))
		return true
	}
	return false
}

// begin has the depth of a session's palette worked out piece by piece. It is worked out to the end
// even if the session is another by then: its printing is known from then on.
func (d *depths) begin(known *known, s *session.State, key string) {
	deep := d.deep
	d.piece = known.pieces(s, func(printing *picture.Printing, err error) {
		if err != nil {
			d.fault = true
			return
		}
		deep[key] = depthOf(printing)
	})
}

// Depths are those of the session's palettes, in their order, nil where one is not known
// yet. While the chosen palette is edited, its depth goes along.
func (p *Prints) Depths(s *session.State) []*Depth {
	fits := p.depths.stand == depthsStand(s)
	var out []*Depth
	for _, one := range s.Palettes() {
		d, ok := p.depths.deep[contents(one)]
		switch {
		case ok && fits:
			out = append(out, &d)
		case one.ID == s.Palette:
			d = depthOf(p.likely)
			out = append(out, &d)
		default:
			out = append(out, nil)
		}
	}
	return out
}

func depthOf(p *picture.Printing) Depth {
	d := p.Scale.Depth
	return Depth{d.Lab[0], d.VisualDensity, Hex(p.Recipe.Reflectance(d.Thickness), p.Light), p.Scale.Even, p.Scale.Greyest}
}
