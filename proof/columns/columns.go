// Package columns reads short tables of two columns of figures as people enter or paste
// them: a line for each row, parted by blanks, commas, semicolons or tabs, with decimal
// points or commas. Errors name the line.
package columns

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Row is one line of a table as it was entered.
type Row struct {
	Line    int     // from 1
	Of      float64 // the first figure
	Percent bool    // it was given in %
	Reads   float64 // the second figure
}

// Column says what a column of a table may hold, and what it is called.
type Column struct {
	Name      string
	Low, High float64
	Hint      string // what it should be
}

// Read reads the lines of a table. Lines without a figure, such as a heading, and empty
// ones are passed over.
func Read(text string, first, second Column) ([]Row, error) {
	var out []Row
	number := 0
	for line := range strings.Lines(text) {
		number++
		if !strings.ContainsAny(line, "0123456789") {
			continue
		}
		percent := strings.Contains(line, "%")
		parts := partsOf(line)
		if len(parts) != 2 {
			return nil, fmt.Errorf("line %d: “%.40s” holds %d figures; it must be a %s and a %s", number, strings.TrimSpace(line), len(parts), first.Name, second.Name)
		}
		of, err := first.read(number, parts[0])
		if err != nil {
			return nil, err
		}
		reads, err := second.read(number, parts[1])
		if err != nil {
			return nil, err
		}
		if len(out) > 0 && percent != out[0].Percent {
			return nil, fmt.Errorf("line %d: some %ss are in %% and some are not; give all in one unit", number, first.Name)
		}
		out = append(out, Row{Line: number, Of: of, Percent: percent, Reads: reads})
	}
	return out, nil
}

func (c Column) read(line int, text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= c.Low && v <= c.High) {
		return 0, fmt.Errorf("line %d: “%.40s” is no %s; %s", line, text, c.Name, c.Hint)
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

// SortByDensity sorts rows by their first column, densities. It fails where one is in % or
// stands there twice, and names the line.
func SortByDensity(rows []Row) error {
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(a.Of, b.Of) })
	for i, r := range rows {
		switch {
		case r.Percent:
			return fmt.Errorf("line %d: a density is not in %%", r.Line)
		case i > 0 && r.Of == rows[i-1].Of:
			return fmt.Errorf("line %d: the same density as line %d; give each once, with its mean", r.Line, rows[i-1].Line)
		}
	}
	return nil
}
