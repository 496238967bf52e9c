// Package label says what a file that leaves the tool is of: which object, which scans
// with their SHA-256, how they were laid over each other, when and by which version of
// the tool. The same label goes into every file, in the form that the file has for it:
// TIFF tags, PNG texts, XMP, rows of a table.
package label

import (
	"fmt"
	"runtime/debug"
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

// Pairs are all parts of the label that say something, one after the other, for texts
// and tables.
func (l Label) Pairs() []Pair {
	var out []Pair
	add := func(name, says string) {
		if says != "" {
			out = append(out, Pair{name, says})
		}
	}
	add("title", l.Title)
	add("number", l.Identity.Number)
	add("creator", l.Identity.Creator)
	add("created", l.Identity.Created)
	add("place", l.Identity.Place)
	add("collection", l.Identity.Collection)
	add("description", l.Identity.Description)
	add("rights", l.Identity.Rights)
	for _, p := range l.Plates {
		if p.File == "" {
			continue
		}
		add(p.Filter+" plate", p.File)
		add(p.Filter+" plate, SHA-256", p.SHA256)
		add(p.Filter+" plate, letter", p.Letter)
		add(p.Filter+" plate, condition", p.Condition)
		add(p.Filter+" plate, matrix from the key", matrixWords(p.Matrix))
	}
	add("key", l.Key)
	add("made by", l.Tool)
	add("made at", l.Time())
	return out
}
