package prints

import (
	"fmt"
	"maps"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// depths are the deepest greys that the palettes reach on the paper, surface, order and
// light of the session. They are worked out one palette at a time, so that the page
// stays live.
type depths struct {
	stand string           // what they were worked out for
	deep  map[string]Depth // by what a palette holds: an edited one is another
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

// Fill works out the depth of one palette that is still missing and tells whether more
// may be.
func (p *Prints) Fill(s *session.State) (more bool) {
	d := &p.depths
	if now := depthsStand(s); d.stand != now {
		*d = depths{stand: now, deep: map[string]Depth{}}
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
		printing := p.likely
		if one.ID != s.Palette {
			other := *s
			other.Palette = one.ID
			var err error
			if printing, err = picture.Prepare(&other); err != nil {
				return false
			}
		}
		d.deep[contents(one)] = depthOf(printing)
		return true
	}
	return false
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
