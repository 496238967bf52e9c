package film

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// row is one line of a table as it was entered.
type row struct {
	line    int     // from 1
	of      float64 // code of the film's patch, or density of the tablet's step
	percent bool    // of was given in %
	reads   float64 // density, or tone of the print
}

// column says what a column of a table may hold, and what it is called.
type column struct {
	name      string
	low, high float64
	hint      string // what it should be
}

var (
	codes     = column{"code", 0, 65535, "codes run to 100 (%), 255 or 65535"}
	densities = column{"density", -1, 8, fmt.Sprintf("densities are to base 10, 0 to %g", MostMax)}
	tones     = column{"tone", -1, 110, "a tone is the print's L* there, 0 to 100, or its density"}
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
		if i > 0 && r.reads < rows[i-1].reads {
			was := rows[i-1]
			return Film{}, fmt.Errorf("line %d: the density falls back to %g after %g of line %d; a film that turns back cannot be used so: measure it again, or leave that step out", r.line, r.reads, was.reads, was.line)
		}
		f.Table = append(f.Table, Step{Code: r.of, Density: r.reads - rows[0].reads})
	}
	f.Max = f.Table[len(f.Table)-1].Density
	return f, f.Check()
}

// codedRows reads a table of codes, from the clear film, code 1, to the densest, code 0.
// grows is +1 where what was read grows with the film's density, and -1 where it falls.
func codedRows(text string, second column, grows float64) ([]row, error) {
	rows, err := rowsOf(text, codes, second)
	if err != nil {
		return nil, err
	}
	if len(rows) < LeastSteps {
		return nil, fmt.Errorf("the table has %d steps, and a curve needs %d or more; 11 to 31 do well", len(rows), LeastSteps)
	}
	if len(rows) > MostSteps {
		return nil, fmt.Errorf("line %d: the table has %d steps; give %d at most", rows[MostSteps].line, len(rows), MostSteps)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.of, b.of) })
	first, last := rows[0], rows[len(rows)-1]
	top := last.of
	switch {
	case !slices.Contains(tops, top):
		return nil, fmt.Errorf("line %d: the largest code is %g; codes run to 100 (%%), 255 or 65535, and the last must be there", last.line, top)
	case first.of != 0:
		return nil, fmt.Errorf("line %d: the smallest code is %g; the table must begin at code 0", first.line, first.of)
	case last.percent && top != 100:
		return nil, fmt.Errorf("line %d: %g %% is more than 100 %%", last.line, top)
	}
	inks := grows*(last.reads-first.reads) > 0 // codes count ink: whiteness runs the other way
	for i := range rows {
		if i > 0 && rows[i].of == rows[i-1].of {
			return nil, fmt.Errorf("line %d: the same code as line %d; give each once, with its mean", rows[i].line, rows[i-1].line)
		}
	}
	for i := range rows {
		if inks {
			rows[i].of = top - rows[i].of
		}
		rows[i].of /= top
	}
	if !inks {
		slices.Reverse(rows)
	}
	return rows, nil
}

// rowsOf reads the lines of a table of two columns.
func rowsOf(text string, first, second column) ([]row, error) {
	var out []row
	number := 0
	for line := range strings.Lines(text) {
		number++
		if !strings.ContainsAny(line, "0123456789") {
			continue
		}
		percent := strings.Contains(line, "%")
		parts := partsOf(line)
		if len(parts) != 2 {
			return nil, fmt.Errorf("line %d: “%.40s” holds %d figures; it must be a %s and a %s", number, strings.TrimSpace(line), len(parts), first.name, second.name)
		}
		of, err := first.read(number, parts[0])
		if err != nil {
			return nil, err
		}
		reads, err := second.read(number, parts[1])
		if err != nil {
			return nil, err
		}
		if len(out) > 0 && percent != out[0].percent {
			return nil, fmt.Errorf("line %d: some %ss are in %% and some are not; give all in one unit", number, first.name)
		}
		out = append(out, row{line: number, of: of, percent: percent, reads: reads})
	}
	return out, nil
}

func (c column) read(line int, text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= c.low && v <= c.high) {
		return 0, fmt.Errorf("line %d: “%.40s” is no %s; %s", line, text, c.name, c.hint)
	}
	return v, nil
}

// partsOf parts a line's figures. A comma is a decimal one where something else parts
// the figures too.
func partsOf(line string) []string {
	line = strings.TrimSpace(strings.NewReplacer("%", " ", "\ufeff", "").Replace(line))
	if other := strings.ContainsAny(line, ";\t") || len(strings.Fields(line)) == 2 && !strings.Contains(line, ", "); other {
		line = strings.ReplaceAll(line, ",", ".")
	}
	return strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(" \t;,", r) })
}
