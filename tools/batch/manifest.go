package batch

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"hash/maphash"
	"io"
	"iter"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Set is a row of a manifest.
type Set struct {
	Name    string   // and that of its folder
	Files   []string // where they lie: the red, the green and the blue plate, or one file of all three
	Named   []string // the same as the manifest names them, or from the folder of a pattern on; what is made carries these
	Session string   // where its session lies, "" for none
	Recipe  string   // where the session lies whose recipe it is printed by, "" for none
	Says    map[string]string
	Fault   string // why it cannot be worked on, "" where it can
}

// Columns that a manifest can have beside “set”. The last eight say which object it is.
const (
	Red, Green, Blue, File      = "red", "green", "blue", "file"
	Session, Layout, Encoding   = "session", "layout", "encoding"
	Key, Palettes, Recipe       = "key", "palettes", "recipe"
	Title, Number, Creator      = "title", "number", "creator"
	Created, Place, Collection  = "created", "place", "collection"
	Description, Rights, nameOf = "description", "rights", "set"
)

var columns = []string{nameOf, Red, Green, Blue, File, Session, Recipe, Layout, Encoding, Key, Palettes, Title, Number, Creator, Created, Place, Collection, Description, Rights}

// Manifest reads a manifest row by row: text in UTF-8 whose values are parted by commas,
// semicolons or tabs (RFC 4180), with the names of the columns in its first row. Names of
// files are taken from the manifest's own folder. name is its file's. A row that cannot be
// used is a Set with a Fault; an error ends the reading.
func Manifest(name string, in io.Reader) iter.Seq2[Set, error] {
	return func(yield func(Set, error) bool) {
		r, heads, err := openManifest(name, in)
		if err != nil {
			yield(Set{}, err)
			return
		}
		names := newNames()
		for {
			cells, err := r.Read()
			var s Set
			var misquoted *csv.ParseError
			switch {
			case errors.Is(err, io.EOF):
				return
			case errors.As(err, &misquoted):
				s = misread(misquoted)
			case err != nil:
				yield(Set{}, fmt.Errorf("%s: %w", name, err))
				return
			case strings.TrimSpace(strings.Join(cells, "")) == "": // spreadsheets write such rows at the end
				continue
			default:
				line, _ := r.FieldPos(0)
				s = fromRow(heads, cells, line, filepath.Dir(name))
				names.check(&s)
			}
			if !yield(s, nil) {
				return
			}
		}
	}
}

func openManifest(name string, in io.Reader) (*csv.Reader, []string, error) {
	b := bufio.NewReaderSize(in, 1<<16)
	if mark, _ := b.Peek(2); string(mark) == "\xff\xfe" || string(mark) == "\xfe\xff" {
		return nil, nil, fmt.Errorf("%s: it is text in UTF-16; %s", name, saveAsUTF8)
	}
	if mark, _ := b.Peek(3); bytes.Equal(mark, []byte("\ufeff")) {
		b.Discard(3)
	}
	start, _ := b.Peek(4096)
	switch {
	case bytes.IndexByte(start, 0) >= 0:
		return nil, nil, fmt.Errorf("%s: it is no text in UTF-8; %s", name, saveAsUTF8)
	case bytes.IndexByte(start, '\r') >= 0 && bytes.IndexByte(start, '\n') < 0:
		return nil, nil, fmt.Errorf("%s: its rows end with a bare carriage return; %s", name, saveAsUTF8)
	}
	first, _, _ := bytes.Cut(start, []byte("\n"))
	r := csv.NewReader(b)
	for _, comma := range ",;\t" {
		if bytes.Count(first, []byte(string(comma))) > bytes.Count(first, []byte(string(r.Comma))) {
			r.Comma = comma
		}
	}
	r.FieldsPerRecord = -1
	heads, err := r.Read()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: it holds no table: its first row names the columns, such as “set”, “red”, “green” and “blue”", name)
	}
	for len(heads) > 0 && strings.TrimSpace(heads[len(heads)-1]) == "" { // as spreadsheets leave them
		heads = heads[:len(heads)-1]
	}
	for i, head := range heads {
		head = strings.ToLower(strings.TrimSpace(head))
		if !slices.Contains(columns, head) {
			return nil, nil, fmt.Errorf("%s: there is no column “%.40s”: there are %s", name, head, strings.Join(columns, ", "))
		}
		if slices.Contains(heads[:i], head) {
			return nil, nil, fmt.Errorf("%s: two columns are called “%s”", name, head)
		}
		heads[i] = head
	}
	if !slices.Contains(heads, nameOf) {
		return nil, nil, fmt.Errorf("%s: no column names the sets; give one of them the head “set”", name)
	}
	return r, heads, nil
}

// saveAsUTF8 is what to do about a table in other letters.
const saveAsUTF8 = "save the table as CSV in UTF-8, which spreadsheets offer under that name"

// misread is a row whose quotation marks do not fit. What follows the last value that is
// whole may hold other rows, of which nothing is known.
func misread(fault *csv.ParseError) Set {
	lines := fmt.Sprintf("line %d", fault.StartLine)
	if fault.Line > fault.StartLine {
		lines = fmt.Sprintf("lines %d to %d", fault.StartLine, fault.Line)
	}
	return Set{Name: lines, Says: map[string]string{}, Fault: fmt.Sprintf(
		"%s cannot be parted into values: put a value that holds a quotation mark in quotation marks, and double those in it", lines)}
}

// fromRow is the set that a row stands for.
func fromRow(heads, cells []string, line int, folder string) Set {
	s := Set{Says: map[string]string{}}
	named := min(len(cells), len(heads))
	for i, cell := range cells[:named] {
		if cell = strings.TrimSpace(cell); cell != "" {
			s.Says[heads[i]] = strings.ToValidUTF8(cell, "\ufffd")
		}
	}
	s.settle(line, folder)
	switch {
	case !utf8.ValidString(strings.Join(cells, "")):
		s.Fault = fmt.Sprintf("line %d holds letters that are not UTF-8; %s", line, saveAsUTF8)
	case strings.TrimSpace(strings.Join(cells[named:], "")) != "":
		s.Fault = fmt.Sprintf("line %d has more values than there are columns: put a value that holds the sign between values in quotation marks", line)
	}
	return s
}

// settle fills in the name and the files from what a row says.
func (s *Set) settle(line int, folder string) {
	s.Name = s.Says[nameOf]
	at := func(file string) string {
		if filepath.IsAbs(file) {
			return file
		}
		return filepath.Join(folder, filepath.FromSlash(file))
	}
	if kept := s.Says[Session]; kept != "" {
		s.Session = at(kept)
	}
	if other := s.Says[Recipe]; other != "" {
		s.Recipe = at(other)
	}
	var missing []string
	for _, column := range []string{Red, Green, Blue} {
		if file := s.Says[column]; file != "" {
			s.Files, s.Named = append(s.Files, at(file)), append(s.Named, file)
		} else {
			missing = append(missing, column)
		}
	}
	switch whole := s.Says[File]; {
	case s.Session != "" && s.Recipe != "":
		s.Fault = fmt.Sprintf("line %d names a session, which has a recipe, and a recipe too", line)
	case whole != "" && len(s.Files) > 0:
		s.Fault = fmt.Sprintf("line %d names a file of all three plates and single plates too", line)
	case whole != "":
		s.Files, s.Named = []string{at(whole)}, []string{whole}
	case len(missing) == 3 && s.Says[Session] == "":
		s.Fault = fmt.Sprintf("line %d names no scans", line)
	case len(missing) == 1, len(missing) == 2:
		s.Fault = fmt.Sprintf("line %d names no scan of the %s plate", line, strings.Join(missing, " and the "))
	}
	if s.Name == "" {
		s.Name = fmt.Sprintf("line %d", line)
		s.Fault = fmt.Sprintf("line %d gives no name in the column “set”", line)
	}
}

// names knows the names of sets so far, each by a hash of eight bytes: a manifest of a million
// rows takes little memory.
type names struct {
	seed maphash.Seed
	seen map[uint64]bool
}

func newNames() *names { return &names{maphash.MakeSeed(), map[uint64]bool{}} }

// longestName bounds a set's name, in bytes, so that every disc takes it for a folder.
const longestName = 120

// check finds fault with a name that cannot be a folder's, or that another set has: in
// another case too, which is the same folder on many discs.
func (n *names) check(s *Set) {
	key := maphash.String(n.seed, strings.ToLower(s.Name))
	switch {
	case s.Fault != "":
	case !folderName(s.Name):
		s.Fault = fmt.Sprintf("“%.60s” cannot be the name of a folder", s.Name)
	case reportName(s.Name):
		s.Fault = fmt.Sprintf("“%s” is the name of a file of the batch itself", s.Name)
	case n.seen[key]:
		s.Fault = "another set has this name"
	}
	n.seen[key] = true
}

// folderName tells whether every disc takes a name for a folder. Names of devices are none
// under Windows, whatever their ending (Microsoft, “Naming Files, Paths, and Namespaces”;
// from memory).
func folderName(name string) bool {
	odd := func(r rune) bool { return strings.ContainsRune(`/\:*?"<>|`, r) || !unicode.IsPrint(r) }
	first, _, _ := strings.Cut(strings.ToLower(name), ".")
	first = strings.TrimSpace(first)
	port := len(first) == 4 && (strings.HasPrefix(first, "com") || strings.HasPrefix(first, "lpt")) && first[3] >= '1' && first[3] <= '9'
	return !strings.ContainsFunc(name, odd) && name == strings.Trim(name, " ") && !strings.HasPrefix(name, ".") && !strings.HasSuffix(name, ".") &&
		len(name) <= longestName && !port && !slices.Contains([]string{"con", "prn", "aux", "nul"}, first)
}

// reportName tells whether a file of the batch can have a name: its beginning, a report or a
// contact sheet, of a shard too.
func reportName(name string) bool {
	name = strings.ToLower(name)
	return name == BegunName || strings.HasPrefix(name, "report") && strings.HasSuffix(name, ".csv") || strings.HasPrefix(name, "contact") && strings.HasSuffix(name, ".html")
}
