package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/levels"
	"threeply/proof/session"
)

// Scans is whether the scans are fit.
type Scans struct {
	Answer   string         `json:"answer"`
	Weight   fitness.Weight `json:"weight"`   // of the worst
	Findings []Finding      `json:"findings"` // the worst first
}

// Finding is what was found of one plate or of several alike.
type Finding struct {
	Of     string         `json:"of"` // which plates, such as "red and blue plate"
	About  string         `json:"about"`
	Weight fitness.Weight `json:"weight"`
	Figure string         `json:"figure"`
	Says   string         `json:"says"`
	Do     string         `json:"do"`

	plates []int
}

func scansOf(s *session.State, blur [3]float64) Scans {
	var ordered [3]float64
	for _, f := range filter.All {
		ordered[f] = blur[s.Assign[f]]
	}
	found := levels.Fitness(s, ordered)
	out := Scans{Weight: fitness.Worst(found), Findings: []Finding{}}
	for _, f := range found {
		i := slices.IndexFunc(out.Findings, func(o Finding) bool {
			return o.About == f.About && o.Weight == f.Weight && wording(o.Says) == wording(f.Says) && wording(o.Do) == wording(f.Do)
		})
		if i < 0 {
			out.Findings = append(out.Findings, Finding{About: f.About, Weight: f.Weight, Figure: f.Figure, Says: f.Says, Do: f.Do, plates: []int{f.Plate}})
			continue
		}
		o := &out.Findings[i]
		if !slices.Contains(strings.Split(o.Figure, "; "), f.Figure) {
			o.Figure += "; " + f.Figure
		}
		o.plates = append(o.plates, f.Plate)
	}
	mend, mind := 0, 0
	for i := range out.Findings {
		f := &out.Findings[i]
		f.Of = platesWords(f.plates)
		switch f.Weight {
		case fitness.Mend:
			mend++
		case fitness.Mind:
			mind++
		}
	}
	slices.SortStableFunc(out.Findings, func(a, b Finding) int { return cmp.Compare(rank(b.Weight), rank(a.Weight)) })
	switch {
	case mend > 0:
		out.Answer = fmt.Sprintf("Not as they are: %s to mend%s.", things(mend), alsoMind(mind))
	case mind > 0:
		out.Answer = fmt.Sprintf("Yes, with %s to mind.", things(mind))
	default:
		out.Answer = "Yes."
	}
	return out
}

// wording is a sentence without its figures: what differs in them alone is said once.
func wording(sentence string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return -1
		}
		return r
	}, sentence)
}

func rank(w fitness.Weight) int {
	return slices.Index([]fitness.Weight{fitness.Fine, fitness.Mind, fitness.Mend}, w)
}

func things(n int) string {
	if n == 1 {
		return "one thing"
	}
	return fmt.Sprintf("%d things", n)
}

func alsoMind(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d to mind", n)
}

// platesWords names plates by their filters; fitness.All is the set.
func platesWords(plates []int) string {
	switch {
	case plates[0] == fitness.All:
		return "the set"
	case len(plates) == 3:
		return "all three plates"
	case len(plates) == 2:
		return fmt.Sprintf("%s and %s plate", filter.Filter(plates[0]), filter.Filter(plates[1]))
	}
	return fmt.Sprintf("%s plate", filter.Filter(plates[0]))
}
