package main

import (
	"flag"

	"threeply/proof/command"
)

// shownOptions are the options by which a command says how long a print was on show, and
// in which light.
type shownOptions struct {
	years, lux, hours *float64
	least             *bool
	given             func(name string) bool
}

// addShown gives a command these options.
func addShown(f *flag.FlagSet) shownOptions {
	return shownOptions{
		years: f.Float64("years", 0, "render the print as it may have faded after so many years on show; 0: as it is made"),
		lux:   f.Float64("lux", 0, "with -years: light on the print in lx, without UV (default the session's, or 50)"),
		hours: f.Float64("hours", 0, "with -years: hours of light a day (default the session's, or 8)"),
		least: f.Bool("least", false, "with -years: faded as little as it may be, not as much"),
		given: func(name string) (given bool) {
			f.Visit(func(f *flag.Flag) { given = given || f.Name == name })
			return given
		},
	}
}

// faded tells that the print is to be rendered as faded.
func (o shownOptions) faded() bool { return o.given("years") && *o.years != 0 }

// check checks the options before any file is opened.
func (o shownOptions) check(reference, screened bool) error {
	for _, name := range []string{"lux", "hours", "least"} {
		if o.given(name) && !o.faded() {
			return usageError("-" + name + " says how a print was on show, so it needs -years")
		}
	}
	if o.faded() && (reference || screened) {
		return usageError("-years renders the continuous print as it fades: leave out -reference and -screen")
	}
	return nil
}

// apply has the session's exhibition be that of the options; what they leave out stays.
func (o shownOptions) apply(h *command.History) error {
	if !o.faded() {
		return nil
	}
	e := h.OnShow()
	e.Years = *o.years
	if o.given("lux") {
		e.Lux = *o.lux
	}
	if o.given("hours") {
		e.Hours = *o.hours
	}
	if err := h.Do(command.Exhibition{Exhibition: &e}, ""); err != nil {
		return usageError(err.Error())
	}
	return nil
}
