package command

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/session"
)

// checkSource refuses a number that names none of the three sources.
func checkSource(i int) error {
	if i < 0 || i > 2 {
		return fmt.Errorf("there is no source %d: they are 0, 1 and 2", i)
	}
	return nil
}

// filterOf returns the filter of a name.
func filterOf(name string) (filter.Filter, error) {
	f, ok := filter.Named(name)
	if !ok {
		return 0, fmt.Errorf("there is no “%.20s” plate: there are red, green and blue", name)
	}
	return f, nil
}

// Assign gives a filter another source; the plate that had it takes the filter's
// old one.
type Assign struct {
	Filter string `json:"filter"`
	Source int    `json:"source"`
}

func (c Assign) Apply(s *session.State) error {
	f, err := filterOf(c.Filter)
	if err != nil {
		return err
	}
	if err := checkSource(c.Source); err != nil {
		return err
	}
	other := slices.Index(s.Assign[:], c.Source)
	s.Assign[f], s.Assign[other] = s.Assign[other], s.Assign[f]
	return nil
}
func (Assign) Words() string { return "plates" }

// Exposures says which exposure of a tall file is which plate: r, g and b in the
// order from the top.
type Exposures struct {
	Order string `json:"order"`
}

func (c Exposures) Apply(s *session.State) error {
	var of [3]int
	for i, filter := range "rgb" {
		of[i] = strings.IndexRune(c.Order, filter)
	}
	if len(c.Order) != 3 || slices.Min(of[:]) < 0 {
		return fmt.Errorf("no order “%.20s” of the exposures: give r, g and b from the top, such as bgr", c.Order)
	}
	s.Assign = of
	return nil
}
func (Exposures) Words() string { return "plates" }

// Polarity says whether a plate is a "negative" or a "positive". What was the
// film's white becomes its black.
type Polarity struct {
	Source   int    `json:"source"`
	Polarity string `json:"polarity"`
}

func (c Polarity) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	if c.Polarity != "negative" && c.Polarity != "positive" {
		return fmt.Errorf("source %d cannot be “%.20s”: there are negative and positive", c.Source, c.Polarity)
	}
	s.Split = false
	f := &s.Sources[c.Source].Film
	if negative := c.Polarity == "negative"; negative != f.Negative {
		f.Negative = negative
		f.White, f.Black = f.Black, f.White
		f.Gamma = session.DefaultGamma(negative)
		s.Sources[c.Source].Overruled = !s.Sources[c.Source].Overruled
	}
	return nil
}
func (Polarity) Words() string { return "negative or positive" }

// Gamma sets the contrast of a plate's film.
type Gamma struct {
	Source int     `json:"source"`
	Value  float64 `json:"value" range:"sources.film.gamma"`
}

func (c Gamma) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	s.Sources[c.Source].Film.Gamma = c.Value
	return nil
}
func (Gamma) Words() string { return "film contrast" }
