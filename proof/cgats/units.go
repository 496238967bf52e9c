package cgats

import (
	"fmt"
	"strings"
)

// The words by which texts say what was measured how.
var (
	statusWord = once(`(?i)^(?:iso|ansi|din)?[ _-]*(?:5-3)?[ _-]*(?:status)?[ _-]*([ATE])$`)
	lightWord  = once(`(?i)\b(D50|D55|D65|A|C|F[0-9]{1,2})\b`)
)

// keywords takes what a table says of its readings.
func (r *Readings) keywords(t *Table) error {
	for _, name := range []string{"STATUS", "DENSITY_STATUS", "FILTER_STATUS", "FILTER"} {
		k, ok := t.Keywords[name]
		if !ok {
			continue
		}
		m := statusWord().FindStringSubmatch(strings.TrimSpace(k.Value))
		switch {
		case m != nil:
			r.Status = strings.ToUpper(m[1])
		case strings.Contains(strings.ToLower(k.Value), "status"):
			return fmt.Errorf("line %d: densities of “%.30s” are not known; status A, T and E are", k.Line, k.Value)
		}
	}
	for _, name := range []string{"WEIGHTING_FUNCTION", "ILLUMINANT", "ILLUMINATION_NAME"} {
		k, ok := t.Keywords[name]
		if !ok {
			continue
		}
		value := strings.ReplaceAll(strings.ToUpper(k.Value), "ILLUMINANT", "")
		if m := lightWord().FindString(value); m != "" {
			r.Illuminant = strings.ToUpper(m)
		}
		if strings.Contains(value, "10 DEG") || strings.Contains(value, "10°") {
			return fmt.Errorf("line %d: XYZ and Lab of the 10° observer cannot be used; export those of the 2° observer, or spectra", k.Line)
		}
	}
	if k, ok := t.Keywords["WHITE_BASE"]; ok {
		r.FromPaper = strings.Contains(strings.ToUpper(k.Value), "PAPER") || strings.Contains(strings.ToUpper(k.Value), "SUBSTRATE") || strings.Contains(strings.ToUpper(k.Value), "REL")
	}
	return nil
}

// The largest values that can be read of a print.
const (
	mostReflectance = 1.3 // of paper that glows
	mostDensity     = 5
	slightly        = 0.02 // below zero, by the zero of an instrument
)

// scale brings reflectances to 0 … 1 and XYZ to the white at 100, and refuses what is
// in no unit that is known.
func (r *Readings) scale(t *Table, c columns) error {
	if c.units["PCT"] && c.units["DEC"] {
		return fmt.Errorf("line %d: some reflectances are named as percent, some as shares; export all alike", t.Line)
	}
	most, y := 0.0, 0.0
	for _, one := range r.List {
		for _, v := range one.Spectrum {
			most = max(most, v)
		}
		if one.XYZ != nil {
			y = max(y, one.XYZ[1])
		}
	}
	percent := most > 2*mostReflectance
	switch {
	case c.units["DEC"] && percent:
		return fmt.Errorf("line %d: the fields are named as shares of 1, and one holds %g; export the reflectance again", t.Line, most)
	case c.units["PCT"]:
		percent = true
	}
	unit := 1.0
	if percent {
		unit = 100
	}
	if y > 0 && y <= mostReflectance {
		for i := range r.List {
			if x := r.List[i].XYZ; x != nil {
				x[0], x[1], x[2] = 100*x[0], 100*x[1], 100*x[2]
			}
		}
		r.Notes = append(r.Notes, "XYZ are taken to have their white at 1")
	}
	below := 0
	for i := range r.List {
		one := &r.List[i]
		for k, v := range one.Spectrum {
			v /= unit
			switch {
			case v > mostReflectance:
				return fmt.Errorf("line %d: the reflectance %g at %g nm is in no unit that is known; export shares of 1 or percent, of reflectance, not of density", one.Line, one.Spectrum[k], r.Wavelengths[k])
			case v < -slightly:
				return fmt.Errorf("line %d: the reflectance %g at %g nm is negative; calibrate the instrument and measure again", one.Line, one.Spectrum[k], r.Wavelengths[k])
			case v < 0:
				v, below = 0, below+1
			}
			one.Spectrum[k] = v
		}
		if err := one.check(); err != nil {
			return err
		}
	}
	if below > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("%d reflectances just below 0 are taken for 0", below))
	}
	return nil
}

// check refuses values that no print has.
func (r *Reading) check() error {
	if x := r.XYZ; x != nil {
		for _, v := range x {
			if !(v >= -2 && v <= 100*mostReflectance) {
				return fmt.Errorf("line %d: XYZ %g %g %g are no colour of a print; want the white at Y 100", r.Line, x[0], x[1], x[2])
			}
		}
	}
	if l := r.Lab; l != nil && !(l[0] >= -1 && l[0] <= 110 && l[1] >= -200 && l[1] <= 200 && l[2] >= -200 && l[2] <= 200) {
		return fmt.Errorf("line %d: Lab %g %g %g is no colour of a print; want L* 0 to 100", r.Line, l[0], l[1], l[2])
	}
	if d := r.Density; d != nil {
		for _, v := range d {
			if !(v >= -0.3 && v <= mostDensity) {
				return fmt.Errorf("line %d: a density of %g; want 0 to %d, to base 10, with a point for decimals", r.Line, v, mostDensity)
			}
		}
	}
	return nil
}
