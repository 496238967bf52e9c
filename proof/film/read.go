package film

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// row is one line of a table as it was entered.
type row struct {
	line    int // from 1
	code    float64
	percent bool
	density float64
}

// tops are the largest codes that a table can run to.
var tops = []float64{100, 255, 65535}

// Read makes a film of a table as it is entered or pasted: a line for each patch, with
// its code and its density, parted by blanks, commas, semicolons or tabs. Codes run
// from 0 to 100 (%), 255 or 65535; whether they count ink or whiteness shows by the
// densities. Lines without a figure, such as a heading, and empty ones are passed over.
// An error names the line.
func Read(text, kind, measured string) (Film, error) {
	rows, err := rowsOf(text)
	if err != nil {
		return Film{}, err
	}
	if len(rows) < LeastSteps {
		return Film{}, fmt.Errorf("the table has %d steps, and a curve needs %d or more; 11 to 31 do well", len(rows), LeastSteps)
	}
	if len(rows) > MostSteps {
		return Film{}, fmt.Errorf("line %d: the table has %d steps; give %d at most", rows[MostSteps].line, len(rows), MostSteps)
	}
	slices.SortStableFunc(rows, func(a, b row) int {
		switch {
		case a.code < b.code:
			return -1
		case a.code > b.code:
			return 1
		}
		return 0
	})
	top := rows[len(rows)-1].code
	first, last := rows[0], rows[len(rows)-1]
	switch {
	case !slices.Contains(tops, top):
		return Film{}, fmt.Errorf("line %d: the largest code is %g; codes run to 100 (%%), 255 or 65535, and the last must be there", last.line, top)
	case first.code != 0:
		return Film{}, fmt.Errorf("line %d: the smallest code is %g; the table must begin at code 0", first.line, first.code)
	case last.percent && top != 100:
		return Film{}, fmt.Errorf("line %d: %g %% is more than 100 %%", last.line, top)
	}
	if last.density > first.density { // codes that count ink: whiteness runs the other way
		for i := range rows {
			rows[i].code = top - rows[i].code
		}
	} else {
		slices.Reverse(rows)
	}
	f := Film{Kind: kind, Measured: measured}
	for i, r := range rows {
		if i > 0 {
			was := rows[i-1]
			if r.code == was.code {
				return Film{}, fmt.Errorf("line %d: the same code as line %d; give each once, with its mean", r.line, was.line)
			}
			if r.density < was.density {
				return Film{}, fmt.Errorf("line %d: the density falls back to %g after %g of line %d; a film that turns back cannot be used so: measure it again, or leave that step out", r.line, r.density, was.density, was.line)
			}
		}
		f.Table = append(f.Table, Step{Code: r.code / top, Density: r.density - rows[0].density})
	}
	f.Max = f.Table[len(f.Table)-1].Density
	return f, f.Check()
}

// rowsOf reads the lines of a table.
func rowsOf(text string) ([]row, error) {
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
			return nil, fmt.Errorf("line %d: “%.40s” holds %d figures; it must be a code and a density", number, strings.TrimSpace(line), len(parts))
		}
		code, err := strconv.ParseFloat(parts[0], 64)
		if err != nil || !(code >= 0 && code <= 65535) {
			return nil, fmt.Errorf("line %d: “%.40s” is no code", number, parts[0])
		}
		density, err := strconv.ParseFloat(parts[1], 64)
		if err != nil || !(density >= -1 && density <= 8) {
			return nil, fmt.Errorf("line %d: “%.40s” is no density; densities are to base 10, 0 to %g", number, parts[1], MostMax)
		}
		if len(out) > 0 && percent != out[0].percent {
			return nil, fmt.Errorf("line %d: some codes are in %% and some are not; give all in one unit", number)
		}
		out = append(out, row{number, code, percent, density})
	}
	return out, nil
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
