package film

import (
	"cmp"
	"fmt"
	"slices"
)

// Patch is one patch that was printed on a tissue.
type Patch struct {
	Of   float64 // density of the tablet's step, or code of the film's wedge, 0 densest … 1 clear
	Tone float64 // as the print reads there: L*, or a density, the same of all patches
}

// ByTablet finds the UV density of a film without a UV densitometer. A calibrated step
// tablet and the film's own wedge are exposed together on one tissue: where both print
// the same tone, both let the same light through. tablet holds the tablet's steps by
// their densities, wedge the film's patches by their codes.
//
// Only tones that the tablet shows on both sides can be told: patches of the film that
// print lighter or darker than all of the tablet are left out, and the count of them
// comes back. The film's ends, clear and densest, must not be among them, or else the
// curve would be open there.
func ByTablet(tablet, wedge []Patch, kind string) (f Film, left int, err error) {
	if len(tablet) < LeastSteps || len(wedge) < LeastSteps {
		return Film{}, 0, fmt.Errorf("%d steps of the tablet and %d patches of the film: each needs %d or more", len(tablet), len(wedge), LeastSteps)
	}
	tablet, wedge = slices.Clone(tablet), slices.Clone(wedge)
	slices.SortFunc(tablet, func(a, b Patch) int { return cmp.Compare(a.Of, b.Of) })
	slices.SortFunc(wedge, func(a, b Patch) int { return cmp.Compare(b.Of, a.Of) })
	sign := 1.0
	if tablet[len(tablet)-1].Tone < tablet[0].Tone {
		sign = -1
	}
	var steps []Patch // those between the first that is not through and the last that stands
	for i, p := range tablet {
		if i > 0 && sign*(p.Tone-tablet[i-1].Tone) < 0 {
			return Film{}, 0, fmt.Errorf("the tablet's step of density %g reads %g after %g: its tones must not turn back; read it again, or leave it out", p.Of, p.Tone, tablet[i-1].Tone)
		}
		if len(steps) > 0 && p.Tone == steps[len(steps)-1].Tone {
			if len(steps) == 1 {
				steps[0] = p // still through
			}
			continue
		}
		steps = append(steps, p)
	}
	if len(steps) < LeastSteps {
		return Film{}, 0, fmt.Errorf("the tablet shows %d tones: expose so that %d or more of its steps differ", len(steps), LeastSteps)
	}
	var table []Step
	for _, w := range wedge {
		i := slices.IndexFunc(steps, func(p Patch) bool { return sign*(p.Tone-w.Tone) >= 0 })
		switch {
		case i < 0, i == 0 && steps[0].Tone != w.Tone:
			left++
			continue
		case i == 0:
			table = append(table, Step{w.Of, steps[0].Of})
			continue
		}
		a, b := steps[i-1], steps[i]
		table = append(table, Step{w.Of, a.Of + (b.Of-a.Of)*(w.Tone-a.Tone)/(b.Tone-a.Tone)})
	}
	if len(table) < LeastSteps {
		return Film{}, left, fmt.Errorf("only %d of the film's patches print a tone that the tablet shows: expose longer or shorter, until both overlap", len(table))
	}
	if table[0].Code != 1 || table[len(table)-1].Code != 0 {
		return Film{}, left, fmt.Errorf("the film's %s prints a tone that the tablet does not show: %s, and print both again", map[bool]string{true: "clear patch", false: "densest patch"}[table[0].Code != 1],
			map[bool]string{true: "expose less", false: "expose more"}[table[0].Code != 1])
	}
	clear := table[0].Density
	for i := range table {
		table[i].Density -= clear
		if i > 0 && table[i].Density < table[i-1].Density {
			return Film{}, left, fmt.Errorf("the film's patch of code %.3g prints darker than the one before it: read it again, or leave it out", table[i].Code)
		}
	}
	f = Film{Kind: kind, Measured: UV, Max: table[len(table)-1].Density, Table: table}
	return f, left, f.Check()
}
