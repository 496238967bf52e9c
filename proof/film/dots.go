package film

import (
	"fmt"
	"math"
	"sort"

	"threeply/proof/columns"
)

// Tint is one measured tint of dots, as areas from 0 to 1.
type Tint struct {
	Film  float64 `json:"film"`  // of the film, clear
	Print float64 `json:"print"` // that it covers of the print
}

// Dots is what was measured of dots of the film on the tissue. The zero Dots is nothing.
type Dots struct {
	Table []Tint  `json:"table,omitempty"`   // rising, from nothing to the whole; it takes the place of a gain
	Least float64 `json:"least,omitzero"`    // the smallest tint of the film that holds on the tissue; 0 for any
	Most  float64 `json:"most,omitzero"`     // the largest in which holes stay open; 0 for any
	Holds float64 `json:"holds_um,omitzero"` // the smallest size of a dot that holds, in µm; 0 where it is not known
}

// The limits of what can be entered of dots.
const (
	MostGain    = 0.25
	MostLeast   = 0.2
	LeastMost   = 0.8
	MostHolds   = 200 // µm
	mostTints   = 64
	fewestTints = 3
)

// Check returns what cannot be printed by, or nil. Numbers are held to their ranges
// elsewhere.
func (d Dots) Check() error {
	if n := len(d.Table); n == 1 || n > mostTints+2 {
		return fmt.Errorf("a table of %d tints: give %d to %d, or none", n, fewestTints, mostTints)
	}
	for i, t := range d.Table {
		if i > 0 && !(t.Film > d.Table[i-1].Film && t.Print > d.Table[i-1].Print) {
			return fmt.Errorf("tint %d of the dots' table: %.3g %% prints %.3g %% after %.3g %%; more open film must print more", i+1, 100*t.Film, 100*t.Print, 100*d.Table[i-1].Print)
		}
	}
	if n := len(d.Table); n > 0 && (d.Table[0] != Tint{} || d.Table[n-1] != Tint{1, 1}) {
		return fmt.Errorf("the dots' table must run from nothing to the whole")
	}
	return nil
}

// ReadTints reads a table of tints as it is entered or pasted: a line for each, with the
// tint of the film and that of the print in %, as a densitometer tells it of densities
// (A. Murray, J. Franklin Inst. 221, 1936, 721). Nothing prints nothing, and the whole the
// whole: both ends may be left out. An error names the line.
func ReadTints(text string) ([]Tint, error) {
	rows, err := columns.Read(text,
		columns.Column{Name: "tint of the film", High: 100, Hint: "tints are in %, 0 to 100"},
		columns.Column{Name: "tint of the print", High: 100, Hint: "tints are in %, 0 to 100"})
	if err != nil {
		return nil, err
	}
	if n := len(rows); n < fewestTints || n > mostTints {
		return nil, fmt.Errorf("the table has %d tints; give %d to %d", n, fewestTints, mostTints)
	}
	sort.SliceStable(rows, func(a, b int) bool { return rows[a].Of < rows[b].Of })
	out := []Tint{{}}
	for _, r := range rows {
		t, before := Tint{r.Of / 100, r.Reads / 100}, out[len(out)-1]
		switch {
		case t == Tint{} || t == Tint{1, 1}:
			continue
		case t.Film == 0 || t.Film == 1:
			return nil, fmt.Errorf("line %d: %g %% of the film prints %g %%; zero the reading on bare paper, and take full tone for 100 %%", r.Line, r.Of, r.Reads)
		case !(t.Film > before.Film):
			return nil, fmt.Errorf("line %d: the tint of %g %% stands there twice; give each once, with its mean", r.Line, r.Of)
		case !(t.Print > before.Print && t.Print < 1):
			return nil, fmt.Errorf("line %d: %g %% of the film prints %g %%, after %g %% that prints %g %%; more open film must print more, and none but the whole the whole", r.Line, r.Of, r.Reads, 100*before.Film, 100*before.Print)
		}
		out = append(out, t)
	}
	return append(out, Tint{1, 1}), nil
}

// Growth is how dots of a film print.
type Growth struct {
	// Gain is by how much more than a half a half prints, 0 to MostGain, where there is no
	// table: a + 4 Gain a (1 - a), a parabola that leaves the ends (common practice).
	Gain float64
	Dots
}

// Print is the area that a tint of the film prints; between two tints of a table it is
// linear.
func (g Growth) Print(tint float64) float64 {
	if len(g.Table) == 0 {
		return tint + 4*g.Gain*tint*(1-tint)
	}
	return along(g.Table, tint, func(t Tint) (from, to float64) { return t.Film, t.Print })
}

// Film is the tint of the film that prints an area: the inverse of Print, held to tints that
// hold on the tissue. What is nearer to nothing than to the least is left bare, what is
// nearer to the whole than to the most is whole.
func (g Growth) Film(area float64) float64 {
	tint := g.Wanted(area)
	most := g.Most
	if most == 0 {
		most = 1
	}
	switch {
	case tint < g.Least/2:
		return 0
	case tint < g.Least:
		return g.Least
	case tint > (1+most)/2:
		return 1
	case tint > most:
		return most
	}
	return tint
}

// Wanted is the tint that would print an area if all tints held.
func (g Growth) Wanted(area float64) float64 {
	if len(g.Table) > 0 {
		return along(g.Table, area, func(t Tint) (from, to float64) { return t.Print, t.Film })
	}
	if g.Gain <= 0 {
		return area
	}
	b := 1 + 4*g.Gain
	return (b - math.Sqrt(max(b*b-16*g.Gain*area, 0))) / (8 * g.Gain)
}

// along is linear between the tints of a table.
func along(table []Tint, x float64, of func(Tint) (from, to float64)) float64 {
	last := len(table) - 1
	i := sort.Search(last-1, func(i int) bool { next, _ := of(table[i+1]); return next >= x })
	x0, y0 := of(table[i])
	x1, y1 := of(table[i+1])
	return min(max(y0+(x-x0)/(x1-x0)*(y1-y0), 0), 1)
}
