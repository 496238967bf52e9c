package main

import (
	"flag"
	"fmt"
	"strconv"
	"strings"

	"threeply/proof/command"
	"threeply/proof/pigment"
)

// wayOptions are the options by which a command says how the layers are printed from
// their plates.
type wayOptions struct {
	masked   *bool
	straight *bool
	density  *float64 // range that straight negatives are enlarged to
	exposed  *string  // stops of the three layers
	given    func(name string) bool
}

// addWay gives a command these options.
func addWay(f *flag.FlagSet) wayOptions {
	return wayOptions{
		masked:   f.Bool("masked", false, "print through masks that correct the plates, not each plate its own layer alone"),
		straight: f.Bool("straight", false, "print straight, the plates as they are with one exposure a layer, instead of by\nnegatives drawn so that greys print grey"),
		density:  f.Float64("range", 0, "density range that straight negatives are enlarged to; 0: as the plates are"),
		exposed:  f.String("expose", "", "stops of the yellow, magenta and cyan layer against the normal exposure, such as\n0,0.2,-0.1"),
		given: func(name string) (given bool) {
			f.Visit(func(f *flag.Flag) { given = given || f.Name == name })
			return given
		},
	}
}

// apply has the session print as the options say; what they leave out stays.
func (w wayOptions) apply(h *command.History) error {
	if *w.masked {
		if err := h.Do(command.Masked{On: true}, ""); err != nil {
			return usageError(err.Error())
		}
	}
	if w.given("straight") || w.given("range") {
		way := command.Way{Straight: h.Way.Straight, Range: h.Way.Range, AtDepth: h.Way.AtDepth}
		if w.given("straight") {
			way.Straight = *w.straight
		}
		if w.given("range") {
			way.Range = *w.density
		}
		if err := h.Do(way, ""); err != nil {
			return usageError(err.Error())
		}
	}
	if *w.exposed == "" {
		return nil
	}
	parts := strings.Split(*w.exposed, ",")
	if len(parts) != 3 {
		return usageError(fmt.Sprintf("-expose %s: give the stops of three layers, yellow,magenta,cyan, such as 0,0.2,-0.1", *w.exposed))
	}
	for i, part := range parts {
		stops, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return usageError(fmt.Sprintf("-expose %s: “%s” is not a number of stops", *w.exposed, part))
		}
		if err := h.Do(command.Expose{Printer: pigment.Printer(i).String(), Stops: stops}, ""); err != nil {
			return usageError(err.Error())
		}
	}
	return nil
}
