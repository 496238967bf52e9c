// Package table writes tables as text that spreadsheets read rightly: values
// parted by commas as RFC 4180 has it, in UTF-8 behind a byte-order mark, without
// which a spreadsheet takes µ and accents for other letters.
//
// A text is never a formula there: one that begins like one gets an apostrophe
// before it, as the Open Worldwide Application Security Project advises (“CSV
// injection”; both this and the RFC from memory). A number stays one, a negative
// one too.
package table

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// ByteOrderMark stands before the first row.
const ByteOrderMark = "\ufeff"

// Cell is one value of a table; the zero value is an empty one.
type Cell struct{ text string } // as it is written

// Text is a cell that holds a text. Its lines end by a line feed alone, what is
// no UTF-8 becomes U+FFFD, a NUL, at which some programs stop, a blank, and a
// byte-order mark nothing.
func Text(s string) Cell {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\x00", " ", ByteOrderMark, "").Replace(strings.ToValidUTF8(s, "\ufffd"))
	if beginsFormula(s) {
		s = "'" + s
	}
	if strings.ContainsFunc(s, needsQuotes) {
		s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return Cell{s}
}

// Said is the text that Text was given, of a cell as a reader of CSV has it; a text that itself
// began with an apostrophe before the sign of a formula lacks that.
func Said(cell string) string {
	if rest, quoted := strings.CutPrefix(cell, "'"); quoted && beginsFormula(rest) {
		return rest
	}
	return cell
}

// beginsFormula says whether a spreadsheet could take a text for a formula: by
// its first sign, blanks before it left out, in the wide form of East Asian
// letters too.
func beginsFormula(s string) bool {
	rest := strings.TrimLeftFunc(s, unicode.IsSpace)
	if strings.ContainsAny(s[:len(s)-len(rest)], "\t\n") {
		return true
	}
	for _, sign := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(rest, sign) {
			return true
		}
	}
	return false
}

// needsQuotes is said of the signs that part cells: the comma, those that other
// countries' spreadsheets take in its stead, quotes and the ends of lines. Blanks
// are among them, for some programs trim what stands without quotes.
func needsQuotes(r rune) bool { return strings.ContainsRune(",;\t|\"\n ", r) }

// Number is a cell that holds a number to so many significant digits; what is
// no number, or endless, is an empty cell.
func Number(v float64, digits int) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	return Cell{strconv.FormatFloat(v, 'g', digits, 64)}
}

// Table is rows of cells; the zero value has none.
type Table struct{ rows [][]Cell }

// Add adds a row. A row that is shorter than others ends in empty cells.
func (t *Table) Add(cells ...Cell) { t.rows = append(t.rows, slices.Clone(cells)) }

// Head adds a row of texts.
func (t *Table) Head(names ...string) {
	var row []Cell
	for _, name := range names {
		row = append(row, Text(name))
	}
	t.rows = append(t.rows, row)
}

// CSV is the table as a file's text.
func (t *Table) CSV() string {
	columns := 0
	for _, row := range t.rows {
		columns = max(columns, len(row))
	}
	var b strings.Builder
	b.WriteString(ByteOrderMark)
	for _, row := range t.rows {
		for k := range columns {
			if k > 0 {
				b.WriteByte(',')
			}
			switch {
			case k < len(row) && row[k].text != "":
				b.WriteString(row[k].text)
			case columns == 1:
				b.WriteString(`""`) // a line without a sign is no row to some readers
			}
		}
		b.WriteString("\r\n")
	}
	return b.String()
}
