package cgats

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Keyword is a value that stands before the data of a table.
type Keyword struct {
	Value string
	Line  int
}

// Table is one table of a text: its keywords by their names in capitals, its fields,
// and its sets of data, with as many values as there are fields.
type Table struct {
	Keywords map[string]Keyword
	Fields   []string // in capitals
	Sets     []Set
	Line     int // of the fields
}

// Set is one row of data.
type Set struct {
	Line   int
	Values []string
}

// The most that is read, so that no text takes the program's memory.
const (
	mostFields = 2000
	mostSets   = 20000
)

// Parse reads all tables of a text.
func Parse(text []byte) ([]Table, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		text = bytes.ToValidUTF8(text, []byte("?")) // comments in other codes
	}
	if bytes.IndexByte(text, 0) >= 0 {
		return nil, fmt.Errorf("line 1: this is no plain text; export the readings as CGATS or as a table of text, in UTF-8")
	}
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(text)), "\n")
	if !slices.ContainsFunc(lines, func(l string) bool { return strings.EqualFold(first(l), "BEGIN_DATA") }) {
		return plain(lines)
	}
	p := parser{table: fresh(nil)}
	for i, line := range lines {
		if err := p.line(i+1, line); err != nil {
			return nil, err
		}
	}
	switch {
	case p.in == inFormat:
		return nil, fmt.Errorf("line %d: END_DATA_FORMAT is missing; put it after the names of the fields", p.begun)
	case p.in == inData:
		return nil, fmt.Errorf("line %d: END_DATA is missing, the file may have been cut off; export it again", p.begun)
	}
	return p.done, nil
}

func first(line string) string {
	words := strings.Fields(line)
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

// Where a parser is.
const (
	inHead = iota
	inFormat
	inData
)

type parser struct {
	done  []Table
	table Table
	in    int
	begun int // line of the BEGIN
}

// fresh is a table that takes over the fields of the one before, as those after the
// first in a file may.
func fresh(before *Table) Table {
	t := Table{Keywords: map[string]Keyword{}}
	if before != nil {
		t.Fields, t.Line = before.Fields, before.Line
	}
	return t
}

func (p *parser) line(n int, line string) error {
	words, err := split(line)
	if err != nil {
		return fmt.Errorf("line %d: %w", n, err)
	}
	if len(words) == 0 {
		return nil
	}
	switch name := strings.ToUpper(words[0]); {
	case p.in == inHead && name == "BEGIN_DATA_FORMAT":
		p.in, p.begun, p.table.Fields, p.table.Line = inFormat, n, nil, n
		return p.fields(n, words[1:])
	case p.in == inFormat && name == "BEGIN_DATA":
		return fmt.Errorf("line %d: the data begin before END_DATA_FORMAT; put it after the names of the fields", n)
	case p.in == inFormat:
		return p.fields(n, words)
	case p.in == inHead && name == "BEGIN_DATA":
		if len(p.table.Fields) == 0 {
			return fmt.Errorf("line %d: the data begin without names of their fields; put BEGIN_DATA_FORMAT, the names and END_DATA_FORMAT before", n)
		}
		p.in, p.begun = inData, n
		return nil
	case p.in == inData && name == "END_DATA":
		p.in = inHead
		return p.close(n)
	case p.in == inData:
		return p.table.add(n, line, words)
	case len(words) > 1:
		p.table.Keywords[name] = Keyword{strings.Join(words[1:], " "), n}
	}
	return nil
}

func (p *parser) fields(n int, words []string) error {
	for _, w := range words {
		if strings.EqualFold(w, "END_DATA_FORMAT") {
			p.in = inHead
			if len(p.table.Fields) == 0 {
				return fmt.Errorf("line %d: no field is named between BEGIN_DATA_FORMAT and END_DATA_FORMAT", n)
			}
			return nil
		}
		if len(p.table.Fields) == mostFields {
			return fmt.Errorf("line %d: more than %d fields; leave out what was not measured", n, mostFields)
		}
		p.table.Fields = append(p.table.Fields, strings.ToUpper(w))
	}
	return nil
}

// add takes one set of data.
func (t *Table) add(n int, line string, words []string) error {
	if len(words) != len(t.Fields) && strings.Contains(line, "\t") {
		// Names with blanks that are not quoted.
		if cells := strings.Split(strings.Trim(line, "\r\n"), "\t"); len(cells) == len(t.Fields) {
			words = trimmed(cells)
		}
	}
	switch {
	case len(t.Sets) == mostSets:
		return fmt.Errorf("line %d: more than %d sets of data; give the readings of the sheet alone", n, mostSets)
	case len(words) == len(t.Fields):
		t.Sets = append(t.Sets, Set{n, words})
		return nil
	case len(words) > len(t.Fields) && slices.ContainsFunc(words, func(w string) bool { return strings.HasSuffix(w, ",") }):
		return fmt.Errorf("line %d: %d values for %d fields, with commas between; part them by blanks or tabs, with points for decimals", n, len(words), len(t.Fields))
	}
	if len(words) > len(t.Fields) {
		return fmt.Errorf("line %d: %d values for %d fields; a field may be missing among the names, such as SAMPLE_ID: name them all, or export again", n, len(words), len(t.Fields))
	}
	return fmt.Errorf("line %d: %d values for %d fields; a patch may be missing a reading: measure it again or leave the line out", n, len(words), len(t.Fields))
}

// close ends a table at END_DATA in line n and holds it to what it says of itself.
func (p *parser) close(n int) error {
	t := p.table
	for _, c := range []struct {
		keyword, what string
		found         int
	}{{"NUMBER_OF_FIELDS", "fields", len(t.Fields)}, {"NUMBER_OF_SETS", "sets of data", len(t.Sets)}} {
		said, ok := t.Keywords[c.keyword]
		if !ok {
			continue
		}
		v, err := strconv.Atoi(said.Value)
		if err != nil {
			return fmt.Errorf("line %d: %s is “%.20s”, no number", said.Line, c.keyword, said.Value)
		}
		if v != c.found {
			return fmt.Errorf("line %d: %s says %d, but %d %s are there; lines may have been lost: export again, or correct the number", said.Line, c.keyword, v, c.found, c.what)
		}
	}
	if len(t.Sets) == 0 {
		return fmt.Errorf("line %d: the table holds no data", n)
	}
	p.done = append(p.done, t)
	p.table = fresh(&t)
	return nil
}

// split parts a line into words: by blanks, what stands in quotes as one, without what
// follows a #.
func split(line string) ([]string, error) {
	var out []string
	for {
		line = strings.TrimLeft(line, " \t\v\f\u00a0")
		switch {
		case line == "" || line[0] == '#':
			return out, nil
		case line[0] == '"':
			end := strings.IndexByte(line[1:], '"')
			if end < 0 {
				return nil, fmt.Errorf("a quote is not closed; put \" at the end of the text")
			}
			out = append(out, line[1:1+end])
			line = line[end+2:]
		default:
			end := strings.IndexAny(line, " \t\v\f\u00a0")
			if end < 0 {
				end = len(line)
			}
			out = append(out, line[:end])
			line = line[end:]
		}
	}
}

func trimmed(cells []string) []string {
	for i, c := range cells {
		cells[i] = strings.Trim(strings.TrimSpace(c), `"`)
	}
	return cells
}

// plain reads a table without keywords: a row of field names, one of which is an id,
// then the data, parted by tabs, semicolons or commas as the first row is. Rows without
// a single reading are left out, so that a form may be half filled in.
func plain(lines []string) ([]Table, error) {
	t := fresh(nil)
	separator := ""
	for i, line := range lines {
		if s := strings.TrimSpace(line); s == "" || s[0] == '#' {
			continue
		}
		if separator == "" {
			separator = parted(line)
			for _, name := range trimmed(strings.Split(line, separator)) {
				t.Fields = append(t.Fields, strings.ToUpper(name))
			}
			t.Line = i + 1
			if len(t.Fields) > mostFields || !slices.ContainsFunc(t.Fields, isName) {
				return nil, fmt.Errorf("line %d: this holds no measurements, for it is neither CGATS text nor a table whose first row names its columns; the row must hold SAMPLE_ID and what was measured, such as D_RED D_GREEN D_BLUE", i+1)
			}
			continue
		}
		cells := trimmed(strings.Split(line, separator))
		if separator == "," && len(cells) > len(t.Fields) {
			return nil, fmt.Errorf("line %d: %d values for %d columns; commas may stand for decimals: write points", i+1, len(cells), len(t.Fields))
		}
		for len(cells) < len(t.Fields) {
			cells = append(cells, "")
		}
		filled := 0
		for k, c := range cells {
			if c != "" && k < len(t.Fields) && !isName(t.Fields[k]) {
				filled++
			}
		}
		if filled == 0 {
			continue
		}
		if err := t.add(i+1, "", cells); err != nil {
			return nil, err
		}
	}
	switch {
	case separator == "":
		return nil, fmt.Errorf("line 1: there is no data in this file; export it again")
	case len(t.Sets) == 0:
		return nil, fmt.Errorf("line %d: no row below the names of the columns holds a reading", t.Line)
	}
	return []Table{t}, nil
}

// parted finds by what a row's cells are parted.
func parted(line string) string {
	for _, s := range []string{"\t", ";", ","} {
		if strings.Contains(line, s) {
			return s
		}
	}
	return " "
}
