// Package catalogue takes what is known of many sets from one table, such as a collection's
// database writes: a row for each set, or for each plate. Rows are found by the names of the
// scans' files or by their SHA-256.
package catalogue

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/session"
)

// fields are what a column can hold, with the names that its head can have, in small
// letters: plain ones, and the terms of the Dublin Core.
var fields = []struct {
	field string
	heads []string
}{
	{"title", []string{"title", "dc:title", "dcterms:title"}},
	{"number", []string{"number", "accession number", "accession", "inventory number", "inventory", "identifier", "dc:identifier", "dcterms:identifier"}},
	{"creator", []string{"creator", "photographer", "taken by", "dc:creator", "dcterms:creator"}},
	{"created", []string{"created", "date", "taken", "taken when", "dc:date", "dcterms:created"}},
	{"place", []string{"place", "coverage", "dc:coverage", "dcterms:spatial"}},
	{"collection", []string{"collection", "part of", "dc:relation", "dcterms:ispartof"}},
	{"description", []string{"description", "shows", "what it shows", "dc:description", "dcterms:description"}},
	{"rights", []string{"rights", "dc:rights", "dcterms:rights"}},
	{"file", []string{"file", "file name", "filename", "scan"}},
	{"sha256", []string{"sha256", "sha-256"}},
	{"letter", []string{"letter", "plate letter", "plate"}},
	{"condition", []string{"condition", "remarks", "condition remarks"}},
}

// column is what a column holds: of a plate where a filter's name stands before its head.
type column struct{ field, filter string }

func columnOf(head string) (column, bool) {
	head = strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(head, "_", " ")), " "))
	c := column{}
	for _, f := range filter.All {
		if rest, ok := strings.CutPrefix(head, f.String()+" "); ok {
			head, c.filter = strings.TrimPrefix(rest, "plate "), f.String()
		}
	}
	for _, f := range fields {
		ofPlate := slices.Contains([]string{"file", "sha256", "letter", "condition"}, f.field)
		if slices.Contains(f.heads, head) && (c.filter == "" || ofPlate) {
			c.field = f.field
			return c, true
		}
	}
	return c, false
}

// Table is what a table says of sets.
type Table struct {
	name    string
	columns []column // "" for those that hold nothing that is taken
	rows    []row
	Unknown []string // heads of columns that nothing is taken from
}

type row struct {
	line  int
	cells []string
}

// mostRows bounds a table.
const mostRows = 100_000

// Read reads a table: text whose values are parted by commas, semicolons or tabs (RFC 4180),
// with the names of the columns in its first row. name is its file's, for the errors.
func Read(name string, text []byte) (*Table, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) || bytes.IndexByte(text, 0) >= 0 || !utf8.Valid(text) {
		return nil, fmt.Errorf("%s: it is no text in UTF-8; save the table as CSV in UTF-8", name)
	}
	first, _, _ := bytes.Cut(text, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(text))
	for _, comma := range ",;\t" {
		if bytes.ContainsRune(first, comma) && strings.Count(string(first), string(comma)) > strings.Count(string(first), string(r.Comma)) {
			r.Comma = comma
		}
	}
	r.FieldsPerRecord = -1
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: it holds no table: its first row names the columns, such as “file”, “number” and “title”", name)
	}
	t := &Table{name: name}
	known := 0
	for _, cell := range head {
		c, ok := columnOf(cell)
		switch {
		case !ok && strings.TrimSpace(cell) != "":
			t.Unknown = append(t.Unknown, strings.TrimSpace(cell))
		case ok && slices.Contains(t.columns, c):
			return nil, fmt.Errorf("%s: two columns hold the same, one of them “%.40s”; take one away", name, cell)
		case c.field == "file" || c.field == "sha256":
			known++
		}
		t.columns = append(t.columns, c)
	}
	if known == 0 {
		return nil, fmt.Errorf("%s: no column names the scans; give one of them the head “file” or “sha256”", name)
	}
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		if misquoted, ok := errors.AsType[*csv.ParseError](err); ok {
			return nil, fmt.Errorf("%s: the quotation marks in lines %d to %d do not fit; put a value that holds one in quotation marks, and double those in it", name, misquoted.StartLine, misquoted.Line)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %v", name, err)
		}
		if len(t.rows) == mostRows {
			return nil, fmt.Errorf("%s: it has more than %d rows; part it", name, mostRows)
		}
		line, _ := r.FieldPos(0)
		t.rows = append(t.rows, row{line, cells})
	}
}

// found is what was found of a set, by field, with the line that says so.
type found map[string]struct {
	says string
	line int
}

func (f found) put(name, field, says string, line int) error {
	says = strings.TrimSpace(says)
	if old, there := f[field]; says == "" || there && old.says == says {
		return nil
	} else if there {
		return fmt.Errorf("%s: lines %d and %d say different things of one set, as %s “%.40s” and “%.40s”; correct one of them", name, old.line, line, field, old.says, says)
	}
	f[field] = struct {
		says string
		line int
	}{says, line}
	return nil
}

// Of gives the commands that say of a session what the table knows of its set. It fails
// where no row names one of its scans, or two say different things.
func (t *Table) Of(s *session.State) ([]command.Command, error) {
	object, plates := found{}, [3]found{{}, {}, {}}
	rows := 0
	for _, r := range t.rows {
		sources := t.sourcesOf(r, s)
		if len(sources) == 0 {
			continue
		}
		rows++
		if n := len(t.columns); len(r.cells) > n && strings.TrimSpace(strings.Join(r.cells[n:], "")) != "" {
			return nil, fmt.Errorf("%s: line %d has more values than there are columns; put a value that holds the sign between values in quotation marks", t.name, r.line)
		}
		for k, says := range r.cells[:min(len(r.cells), len(t.columns))] {
			c := t.columns[k]
			var err error
			switch c.field {
			case "", "file", "sha256":
			case "letter", "condition":
				to := -1
				if c.filter != "" {
					to = s.Assign[session.FilterIndex(c.filter)]
				} else if len(sources) == 1 {
					to = sources[0]
				}
				if to >= 0 {
					err = plates[to].put(t.name, c.field, says, r.line)
				}
			default:
				err = object.put(t.name, c.field, says, r.line)
			}
			if err != nil {
				return nil, err
			}
		}
	}
	if rows == 0 {
		return nil, fmt.Errorf("%s: no row names a scan of this set (%s), nor its SHA-256", t.name, strings.Join(s.Files(), ", "))
	}
	return commands(object, plates), nil
}

// sourcesOf are the sources that a row names.
func (t *Table) sourcesOf(r row, s *session.State) (sources []int) {
	for k, says := range r.cells[:min(len(r.cells), len(t.columns))] {
		says = strings.TrimSpace(says)
		for i, src := range s.Sources {
			named := t.columns[k].field == "file" && strings.EqualFold(baseOf(says), baseOf(src.File))
			same := t.columns[k].field == "sha256" && strings.EqualFold(says, src.SHA256)
			if says != "" && (named || same) && !slices.Contains(sources, i) {
				sources = append(sources, i)
			}
		}
	}
	return sources
}

func baseOf(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

func commands(object found, plates [3]found) []command.Command {
	var out []command.Command
	text := func(f found, field string) *string {
		if v, ok := f[field]; ok {
			return &v.says
		}
		return nil
	}
	if title := text(object, "title"); title != nil {
		out = append(out, command.Title{Text: *title})
	}
	id := command.Identify{
		Number: text(object, "number"), Creator: text(object, "creator"), Created: text(object, "created"), Place: text(object, "place"),
		Collection: text(object, "collection"), Description: text(object, "description"), Rights: text(object, "rights"),
	}
	if id != (command.Identify{}) {
		out = append(out, id)
	}
	for i, f := range plates {
		if len(f) > 0 {
			out = append(out, command.IdentifyPlate{Source: i, Letter: text(f, "letter"), Condition: text(f, "condition")})
		}
	}
	return out
}
