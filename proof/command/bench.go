package command

import (
	"cmp"

	"threeply/proof/film"
	"threeply/proof/session"
	"threeply/proof/workshop"
)

// Negatives sets what it names of how the printing negatives are made. The film stays: see
// PrintingFilm.
type Negatives struct {
	PPI       *float64 `json:"ppi,omitempty" like:"negatives.ppi"`
	Side      *string  `json:"side,omitempty" like:"negatives.side"`
	Trim      *string  `json:"trim,omitempty" like:"negatives.trim"`
	Allowance *float64 `json:"allowanceMm,omitempty" like:"negatives.allowance_mm"`
	Marks     *bool    `json:"marks,omitempty"`
	SafeEdge  *float64 `json:"safeEdgeMm,omitempty" like:"negatives.safe_edge_mm"`
	Punch     *float64 `json:"punchMm,omitempty" like:"negatives.punch_mm"`
	Sheet     *string  `json:"sheet,omitempty" like:"negatives.sheet"`
	Offsets   *bool    `json:"offsets,omitempty"`
	Screen    *float64 `json:"screenUm,omitempty" like:"negatives.screen_um"` // 0 for continuous ones
	Gain      *float64 `json:"dotGain,omitempty" like:"negatives.dot_gain"`
	Tints     *string  `json:"dotTable,omitempty" like:"tints"` // as film.ReadTints reads it; "" for none
	Least     *float64 `json:"dotLeast,omitempty" like:"negatives.dots.least"`
	Most      *float64 `json:"dotMost,omitempty" like:"negatives.dots.most"`
	Holds     *float64 `json:"dotHoldsUm,omitempty" like:"negatives.dots.holds_um"`
}

func (c Negatives) Apply(s *session.State) error {
	n := s.Setup()
	set(&n.PPI, c.PPI)
	set(&n.Side, c.Side)
	set(&n.Trim, c.Trim)
	set(&n.Allowance, c.Allowance)
	set(&n.Marks, c.Marks)
	set(&n.SafeEdge, c.SafeEdge)
	set(&n.Punch, c.Punch)
	set(&n.Sheet, c.Sheet)
	set(&n.Offsets, c.Offsets)
	set(&n.Screen, c.Screen)
	set(&n.Gain, c.Gain)
	set(&n.Dots.Least, c.Least)
	set(&n.Dots.Most, c.Most)
	set(&n.Dots.Holds, c.Holds)
	if c.Tints != nil {
		n.Dots.Table = nil
		if *c.Tints != "" {
			var err error
			if n.Dots.Table, err = film.ReadTints(*c.Tints); err != nil {
				return err
			}
		}
	}
	s.Negatives = &n
	return nil
}
func (Negatives) Words() string { return "printing negatives" }

// set puts what is given in place of what is there.
func set[T any](to *T, given *T) {
	if given != nil {
		*to = *given
	}
}

// PrintingFilm takes up the film that the negatives are made on: its kind, its largest UV
// density, and, where it was measured, the text of its table, as package film reads it. With
// a step tablet, the table holds tones in place of densities; see film.ReadByTablet.
type PrintingFilm struct {
	Kind     string  `json:"kind" like:"negatives.film.kind"`
	Max      float64 `json:"max,omitempty" like:"printingFilm.max"`             // where there is no table
	Measured string  `json:"measured,omitempty" like:"negatives.film.measured"` // what the table was measured by
	Table    string  `json:"table,omitempty" like:"printingFilm.table"`
	Tablet   string  `json:"tablet,omitempty" like:"printingFilm.tablet"`
}

func (c PrintingFilm) Apply(s *session.State) error {
	f := film.Film{Kind: c.Kind, Max: c.Max}
	var err error
	switch {
	case c.Tablet != "":
		f, err = film.ReadByTablet(c.Tablet, c.Table, c.Kind)
	case c.Table != "":
		f, err = film.Read(c.Table, c.Kind, cmp.Or(c.Measured, film.UV))
	}
	if err != nil {
		return err
	}
	n := s.Setup()
	n.Film = f
	s.Negatives = &n
	return nil
}
func (PrintingFilm) Words() string { return "film of the negatives" }

// Workshop sets how the workshop prints; left out, as usual again.
type Workshop struct {
	Workshop *workshop.Workshop `json:"workshop,omitempty" like:"workshop"`
}

func (c Workshop) Apply(s *session.State) error { s.Workshop = c.Workshop; return nil }
func (Workshop) Words() string                  { return "workshop" }
