package command

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/session"
	"threeply/proof/tone"
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
	Filter string `json:"filter" like:"key"`
	Source int    `json:"source" like:"assign"`
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
	Order string `json:"order" like:"exposures"`
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

// Polarity says whether a plate is a "negative" or a "positive". Its film begins
// anew from the ends of its picture.
type Polarity struct {
	Source   int    `json:"source" like:"assign"`
	Polarity string `json:"polarity" like:"polarity"`
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
		src := &s.Sources[c.Source]
		white, black := src.Max, src.Base
		if !negative {
			white, black = black, white
		}
		if src.Max <= src.Base { // nothing was measured
			white, black = f.Black, f.White
		}
		*f = tone.Film{Negative: negative, White: white, Black: black, Gamma: session.DefaultGamma(negative)}
		src.Overruled = !src.Overruled
		s.Neutral = session.Neutral{} // what was known of the three together is known no more
	}
	return nil
}
func (Polarity) Words() string { return "negative or positive" }

// Gamma sets the contrast of a plate's film.
type Gamma struct {
	Source int     `json:"source" like:"assign"`
	Value  float64 `json:"value" like:"sources.film.gamma"`
}

func (c Gamma) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	s.Sources[c.Source].Film.Gamma = c.Value
	s.Neutral.By, s.Neutral.Chosen = session.ByHand, false
	return nil
}
func (Gamma) Words() string { return "film contrast" }

// Film sets what it names of a plate's film: the densities where the scene is
// white and black, and γ.
type Film struct {
	Source int      `json:"source" like:"assign"`
	White  *float64 `json:"white,omitempty" like:"sources.film.white"`
	Black  *float64 `json:"black,omitempty" like:"sources.film.black"`
	Gamma  *float64 `json:"gamma,omitempty" like:"sources.film.gamma"`
}

func (c Film) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	f := &s.Sources[c.Source].Film
	for to, v := range map[*float64]*float64{&f.White: c.White, &f.Black: c.Black, &f.Gamma: c.Gamma} {
		if v != nil {
			*to = *v
		}
	}
	if span := f.White - f.Black; span == 0 || (span > 0) != f.Negative {
		return fmt.Errorf("a white at density %.2f and a black at %.2f: %s", f.White, f.Black, whereWhiteIs(f.Negative))
	}
	s.Neutral.By, s.Neutral.Chosen = session.ByHand, false
	return nil
}
func (Film) Words() string { return "white, black or contrast" }

func kindOf(negative bool) string {
	if negative {
		return "negative"
	}
	return "positive"
}

func whereWhiteIs(negative bool) string {
	if negative {
		return "on a negative white is the denser one"
	}
	return "on a positive white is the thinner one"
}

// Films takes the films of all three plates as they were found together, by
// source, and what they rest on.
type Films struct {
	Films   [3]tone.Film    `json:"films" like:"sources.film"`
	Neutral session.Neutral `json:"neutral" like:"neutral"`
}

// fit tells whether the films are of the polarity that the plates have.
func (c *Films) fit(s *session.State) bool {
	for i := range s.Sources {
		if c.Films[i].Negative != s.Sources[i].Film.Negative {
			return false
		}
	}
	return true
}

func (c Films) Apply(s *session.State) error {
	for i := range s.Sources {
		if c.Films[i].Negative != s.Sources[i].Film.Negative {
			return fmt.Errorf("%s is a %s; what was found holds for a %s", s.Sources[i].File, kindOf(s.Sources[i].Film.Negative), kindOf(c.Films[i].Negative))
		}
		s.Sources[i].Film = c.Films[i]
	}
	s.Neutral = c.Neutral
	return nil
}
func (Films) Words() string { return "white, black and contrast" }

// DismissScale says that the grey scale which the tool saw in the picture is not wanted: it
// is proposed no more.
type DismissScale struct{}

func (DismissScale) Apply(s *session.State) error {
	s.NoScale = true
	return nil
}
func (DismissScale) Words() string { return "no grey scale" }
