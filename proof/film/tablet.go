package film

import (
	"fmt"
	"math"
	"slices"
	"threeply/proof/columns"
)

// ReadByTablet finds the UV density of a film without a UV densitometer. A calibrated step
// tablet and the film's own wedge are exposed together on one tissue: where both print
// the same tone, both let the same light through.
//
// tablet is a line for each step of the tablet, with its density and the tone that it
// printed; wedge a line for each patch of the film, with its code, as Read takes it, and
// the tone that it printed. A tone is what one instrument reads of the print, as L* or as
// a density. Between two steps of the tablet density is taken to be linear in tone.
//
// Patches as dense as the tablet's last tone, or denser, cannot be told apart: the film
// then has that density at least, and AtLeast is true. The film's clear patch must lie
// among the tablet's tones. An error names the table and the line.
func ReadByTablet(tablet, wedge, kind string) (Film, error) {
	steps, err := readTablet(tablet)
	if err != nil {
		return Film{}, fmt.Errorf("the tablet: %w", err)
	}
	patches, err := codedRows(wedge, tones, steps.grows)
	if err != nil {
		return Film{}, fmt.Errorf("the film's wedge: %w", err)
	}
	f := Film{Kind: kind, Measured: UV}
	clear, last := 0.0, 0.0
	for i, p := range patches {
		density, err := steps.density(p.Reads)
		if err != nil {
			return Film{}, fmt.Errorf("the film's wedge: line %d: %w", p.Line, err)
		}
		if i == 0 {
			clear, last = density, density
		}
		if density < last {
			return Film{}, fmt.Errorf("the film's wedge: line %d prints %g after %g of line %d, as if it held back less light with more on it; read both again, or leave one out", p.Line, p.Reads, patches[i-1].Reads, patches[i-1].Line)
		}
		last = density
		f.Table = append(f.Table, Step{Code: p.Of, Density: density - clear})
	}
	f.Max = last - clear
	return f, f.Check()
}

// AtLeast tells whether the film may be denser than Max: its table ends level, as where the
// tablet showed no more.
func (f Film) AtLeast() bool {
	n := len(f.Table)
	return n > 1 && f.Table[n-1].Density == f.Table[n-2].Density
}

// tabletSteps are the steps of a tablet on a print, by their densities: from the last behind
// which the tissue is still through, to the first that prints no more.
type tabletSteps struct {
	rows    []columns.Row
	grows   float64 // +1 where the tone grows with density, -1 where it falls
	alike   float64 // tones nearer than this cannot be told apart
	through bool    // several steps print the first tone
}

// alike is the share of the whole range of tones that cannot be told apart: 0.4 of 80 units
// of L*, twice what an instrument repeats (from memory).
const alike = 0.005

func readTablet(text string) (tabletSteps, error) {
	rows, err := columns.Read(text, columns.Column{Name: "density", Low: 0, High: 8, Hint: densities.Hint}, tones)
	if err != nil {
		return tabletSteps{}, err
	}
	if len(rows) < LeastSteps || len(rows) > MostSteps {
		return tabletSteps{}, fmt.Errorf("it has %d steps; give %d to %d", len(rows), LeastSteps, MostSteps)
	}
	if err := columns.SortByDensity(rows); err != nil {
		return tabletSteps{}, err
	}
	first, last := rows[0].Reads, rows[len(rows)-1].Reads
	t := tabletSteps{grows: 1, alike: alike * math.Abs(last-first)}
	if last < first {
		t.grows = -1
	}
	for _, r := range rows {
		if math.Abs(r.Reads-first) <= t.alike && len(t.rows) <= 1 { // still through
			t.through = len(t.rows) == 1
			t.rows = []columns.Row{r}
			continue
		}
		was := t.rows[len(t.rows)-1]
		if math.Abs(was.Reads-last) <= t.alike {
			continue // no more than the step before
		}
		if t.grows*(r.Reads-was.Reads) <= 0 {
			return t, fmt.Errorf("line %d: the tone turns back to %g after %g of line %d; read both again, or leave one out", r.Line, r.Reads, was.Reads, was.Line)
		}
		t.rows = append(t.rows, r)
	}
	if len(t.rows) < LeastSteps {
		return t, fmt.Errorf("it shows %d tones: expose so that %d or more of its steps differ", len(t.rows), LeastSteps)
	}
	return t, nil
}

// density is that of the tablet that prints a tone; beyond its last step, that step's.
func (t tabletSteps) density(tone float64) (float64, error) {
	first, last := t.rows[0], t.rows[len(t.rows)-1]
	off := t.grows * (tone - first.Reads)
	switch {
	case math.Abs(off) <= t.alike && t.through:
		return 0, fmt.Errorf("the patch prints %g, as several steps of the tablet do: the tissue is through behind them, and they cannot be told apart; expose less, and print both again", tone)
	case off < -t.alike:
		return 0, fmt.Errorf("the patch prints %g and lets more light through than all of the tablet: lay clear film under the tablet or begin it with density 0, and print both again", tone)
	case off <= 0:
		return first.Of, nil
	case t.grows*(tone-last.Reads) >= -t.alike:
		return last.Of, nil
	}
	i := slices.IndexFunc(t.rows, func(s columns.Row) bool { return t.grows*(s.Reads-tone) >= 0 })
	a, b := t.rows[i-1], t.rows[i]
	return a.Of + (b.Of-a.Of)*(tone-a.Reads)/(b.Reads-a.Reads), nil
}
