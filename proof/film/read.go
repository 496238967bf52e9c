package film

import (
	"cmp"
	"fmt"
	"slices"
	"threeply/proof/columns"
)

var (
	codes     = columns.Column{Name: "code", Low: 0, High: 65535, Hint: "codes run to 100 (%), 255 or 65535"}
	densities = columns.Column{Name: "density", Low: -1, High: 8, Hint: fmt.Sprintf("densities are to base 10, 0 to %g", MostMax)}
	tones     = columns.Column{Name: "tone", Low: -1, High: 110, Hint: "a tone is the print's L* there, 0 to 100, or its density"}
)

// tops are the largest codes that a table can run to.
var tops = []float64{100, 255, 65535}

// Read makes a film of a table as it is entered or pasted: a line for each patch, with
// its code and its density, parted by blanks, commas, semicolons or tabs. Codes run
// from 0 to 100 (%), 255 or 65535; whether they count ink or whiteness shows by the
// densities. Lines without a figure, such as a heading, and empty ones are passed over.
// An error names the line.
func Read(text, kind, measured string) (Film, error) {
	rows, err := codedRows(text, densities, +1)
	if err != nil {
		return Film{}, err
	}
	f := Film{Kind: kind, Measured: measured}
	for i, r := range rows {
		if i > 0 && r.Reads < rows[i-1].Reads {
			was := rows[i-1]
			return Film{}, fmt.Errorf("line %d: the density falls back to %g after %g of line %d; a film that turns back cannot be used so: measure it again, or leave that step out", r.Line, r.Reads, was.Reads, was.Line)
		}
		f.Table = append(f.Table, Step{Code: r.Of, Density: r.Reads - rows[0].Reads})
	}
	f.Max = f.Table[len(f.Table)-1].Density
	return f, f.Check()
}

// codedRows reads a table of codes, from the clear film, code 1, to the densest, code 0.
// grows is +1 where what was read grows with the film's density, and -1 where it falls.
func codedRows(text string, second columns.Column, grows float64) ([]columns.Row, error) {
	rows, err := columns.Read(text, codes, second)
	if err != nil {
		return nil, err
	}
	if len(rows) < LeastSteps {
		return nil, fmt.Errorf("the table has %d steps, and a curve needs %d or more; 11 to 31 do well", len(rows), LeastSteps)
	}
	if len(rows) > MostSteps {
		return nil, fmt.Errorf("line %d: the table has %d steps; give %d at most", rows[MostSteps].Line, len(rows), MostSteps)
	}
	slices.SortStableFunc(rows, func(a, b columns.Row) int { return cmp.Compare(a.Of, b.Of) })
	first, last := rows[0], rows[len(rows)-1]
	top := last.Of
	switch {
	case !slices.Contains(tops, top):
		return nil, fmt.Errorf("line %d: the largest code is %g; codes run to 100 (%%), 255 or 65535, and the last must be there", last.Line, top)
	case first.Of != 0:
		return nil, fmt.Errorf("line %d: the smallest code is %g; the table must begin at code 0", first.Line, first.Of)
	case last.Percent && top != 100:
		return nil, fmt.Errorf("line %d: %g %% is more than 100 %%", last.Line, top)
	}
	inks := grows*(last.Reads-first.Reads) > 0 // codes count ink: whiteness runs the other way
	for i := range rows {
		if i > 0 && rows[i].Of == rows[i-1].Of {
			return nil, fmt.Errorf("line %d: the same code as line %d; give each once, with its mean", rows[i].Line, rows[i-1].Line)
		}
	}
	for i := range rows {
		if inks {
			rows[i].Of = top - rows[i].Of
		}
		rows[i].Of /= top
	}
	if !inks {
		slices.Reverse(rows)
	}
	return rows, nil
}
