// Package label says what a file that leaves the tool is of: which object, which scans
// with their SHA-256, how they were laid over each other, when and by which version of
// the tool. The same label goes into every file, in the form that the file has for it:
// TIFF tags, PNG texts, XMP, rows of a table.
package label

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/session"
)

// Made says what makes a file, and when.
type Made struct {
	Tool string // with its version
	At   time.Time
}

// Now is this tool, now.
func Now() Made { return Made{Tool(), time.Now()} }

// version is what the linker says by -X (tools/version); "" where it says nothing.
var version string

// Tool is the tool's name with the version that it was built as; where it was not told one,
// what Go knows of it.
func Tool() string {
	v := version
	if info, ok := debug.ReadBuildInfo(); ok && v == "" {
		v = strings.Trim(info.Main.Version, "()")
	}
	return strings.TrimSpace("Threeply " + v)
}

// Time is the moment as RFC 3339 writes it, in whole seconds of UTC.
func (m Made) Time() string { return m.At.UTC().Format(time.RFC3339) }

// Written is the same for a session's file.
func (m Made) Written() *session.Written { return &session.Written{By: m.Tool, At: m.Time()} }

// Label is what a file says of itself.
type Label struct {
	Made
	Title    string
	Identity session.Identity
	Says     string // what the file is and what it rests on
	Key      string // filter of the plate whose pixels the picture has
	Plates   [3]Plate
}

// Plate is one of the scans.
type Plate struct {
	Filter string
	File   string
	SHA256 string // "" where it is not known
	session.PlateIdentity
	Matrix affine.Matrix // pixel of the key → pixel of the scan, in register
}

// Of makes the label of a file that is made from a session. says is what the file is.
func Of(s *session.State, made Made, says string) Label {
	l := Label{Made: made, Title: s.Title, Identity: s.Identity, Says: says, Key: s.Key}
	for i, f := range filter.All {
		k := s.Assign[f]
		l.Plates[i] = Plate{f.String(), s.Sources[k].File, s.Sources[k].SHA256, s.PlateIdentities[k], place.Register(s, k)}
	}
	return l
}

// matrixWords are the six numbers of a matrix, row by row.
func matrixWords(m affine.Matrix) string {
	var out []string
	for _, v := range m {
		out = append(out, fmt.Sprintf("%.9g", v))
	}
	return strings.Join(out, " ")
}

// Pair is a name and what it says.
type Pair struct{ Name, Says string }

// Object is which object the file is of; what is not known is "".
func (l Label) Object() []Pair {
	i := l.Identity
	return []Pair{
		{"title", l.Title}, {"number", i.Number}, {"creator", i.Creator}, {"created", i.Created}, {"place", i.Place},
		{"collection", i.Collection}, {"description", i.Description}, {"rights", i.Rights},
	}
}

// Making is what made the file, and when.
func (l Label) Making() []Pair { return []Pair{{"made by", l.Tool}, {"made at", l.Time()}} }

// parts are all parts of the label, one after the other; what is not known is "".
func (l Label) parts() []Pair {
	out := l.Object()
	for _, p := range l.Plates {
		name, matrix := p.Filter+" plate", ""
		if p.File != "" {
			matrix = matrixWords(p.Matrix)
		}
		out = append(out, Pair{name, p.File}, Pair{name + ", SHA-256", p.SHA256}, Pair{name + ", letter", p.Letter}, Pair{name + ", condition", p.Condition},
			Pair{name + ", matrix from the key", matrix})
	}
	return append(append(out, Pair{"key", l.Key}), l.Making()...)
}

// Pairs are all parts of the label that say something, for texts and for tables of a row
// for each.
func (l Label) Pairs() []Pair {
	return slices.DeleteFunc(l.parts(), func(p Pair) bool { return p.Says == "" })
}

// Columns are all parts of the label for a table of a column for each, the same columns for
// every set: “red plate, SHA-256” is red_plate_sha256.
func (l Label) Columns() []Pair {
	out := l.parts()
	for i := range out {
		out[i].Name = strings.NewReplacer(", ", "_", " ", "_", "-", "").Replace(strings.ToLower(out[i].Name))
	}
	return out
}
