package pigment

import (
	"fmt"
	"math"
	"slices"
	"unicode/utf8"
)

// The limits of what a tissue may be asked for. Beyond them is a slip of the
// pen, not a recipe.
const (
	LeastLoad, MostLoad = 0.05, 10
	LeastHaze, MostHaze = 0, 20
	LeastCoat, MostCoat = 1, 300 // µm
	mostPigments        = 8
	MostLetters         = 80 // of a name, in characters
	shareTolerance      = 0.001
)

// idPattern is the form of an id, as the schema has it.
const idPattern = "^[a-z0-9][a-z0-9-]{0,39}$"

// validID tells whether an id follows idPattern.
func validID(id string) bool {
	for i, r := range id {
		letter := 'a' <= r && r <= 'z' || '0' <= r && r <= '9'
		if !letter && (r != '-' || i == 0) {
			return false
		}
	}
	return id != "" && len(id) <= 40
}

// ValidName tells whether a name has 1 to 80 characters, as the schema counts
// them, whatever their script.
func ValidName(name string) bool { return name != "" && utf8.RuneCountInString(name) <= MostLetters }

// Fault is what is wrong with a palette. Path leads to the place: keys and
// indices from the palette down.
type Fault struct {
	Path   []any
	Reason string
}

func (f *Fault) Error() string {
	s := "palette"
	for _, p := range f.Path {
		if i, ok := p.(int); ok {
			s += fmt.Sprintf(" %d", i+1)
		} else {
			s += fmt.Sprintf(" %v", p)
		}
	}
	return s + ": " + f.Reason
}

// Check returns a *Fault, the first found, or nil. A sound palette has an id, a
// name, an era and three sound tissues.
func (p Palette) Check() error {
	switch {
	case p.ID == "":
		return &Fault{[]any{"id"}, "the id is missing; use small letters, digits and hyphens, 40 at most"}
	case !validID(p.ID):
		return &Fault{[]any{"id"}, fmt.Sprintf("“%.50s” is no id; use small letters, digits and hyphens, 40 at most", p.ID)}
	case !ValidName(p.Name):
		return &Fault{[]any{"name"}, "give a name of 1 to 80 characters"}
	case p.Era != Modern && p.Era != Historic:
		return &Fault{[]any{"era"}, fmt.Sprintf("“%.20s” is no era; give modern or historic", p.Era)}
	}
	if p.Measured != nil {
		if f := p.Measured.check(); f != nil {
			return f
		}
	}
	for _, printer := range Printers() {
		t := p.Layer(printer)
		if t.Pigments == nil && !(t.Load > 0) {
			return &Fault{[]any{printer.String()}, fmt.Sprintf("the %s tissue is missing; a palette needs all three", printer)}
		}
		if err := t.Check(); err != nil {
			f := err.(*Fault)
			f.Path = slices.Insert(f.Path, 0, any(printer.String()))
			return f
		}
	}
	return nil
}

// Check returns a *Fault, the first found, or nil. A sound tissue has one to
// eight pigments of the table, none twice, with shares that sum to 1, and load,
// haze, coat and what is known of its hardening and fading within the limits.
func (t Tissue) Check() error {
	if t.Pigments == nil {
		return &Fault{[]any{"pigments"}, fmt.Sprintf("the pigments are missing; give 1 to %d", mostPigments)}
	}
	if len(t.Pigments) == 0 || len(t.Pigments) > mostPigments {
		return &Fault{[]any{"pigments"}, fmt.Sprintf("there are %d pigments; give 1 to %d", len(t.Pigments), mostPigments)}
	}
	sum := 0.0
	for i, s := range t.Pigments {
		if s.CI == "" {
			return &Fault{[]any{"pigments", i, "ci"}, "ci is missing; give a Colour Index name such as PY74"}
		}
		if _, ok := PigmentByCI(s.CI); !ok {
			return &Fault{[]any{"pigments", i, "ci"}, fmt.Sprintf("“%.20s” is not in the table; give a Colour Index name such as PY74", s.CI)}
		}
		if slices.ContainsFunc(t.Pigments[:i], func(o Share) bool { return o.CI == s.CI }) {
			return &Fault{[]any{"pigments", i, "ci"}, s.CI + " stands here twice; add the shares up"}
		}
		if !(s.Share > 0 && s.Share <= 1) {
			return &Fault{[]any{"pigments", i, "share"}, fmt.Sprintf("a share of %g; give more than 0, at most 1", s.Share)}
		}
		sum += s.Share
	}
	if !(math.Abs(sum-1) <= shareTolerance) {
		return &Fault{[]any{"pigments"}, fmt.Sprintf("the shares sum to %.4g; they must sum to 1", sum)}
	}
	for _, f := range []struct {
		key            string
		v, least, most float64
	}{{"load", t.Load, LeastLoad, MostLoad}, {"haze", t.Haze, LeastHaze, MostHaze}, {"coatMicron", t.CoatMicron, LeastCoat, MostCoat}} {
		if math.IsNaN(f.v) { // as a tissue is read that does not give it
			return &Fault{[]any{f.key}, fmt.Sprintf("%s is missing; give %g to %g", f.key, f.least, f.most)}
		}
		if !(f.v >= f.least && f.v <= f.most) {
			return &Fault{[]any{f.key}, fmt.Sprintf("%g is out of bounds; give %g to %g", f.v, f.least, f.most)}
		}
	}
	if f := t.Hardening.check(); f != nil {
		return f
	}
	if t.Measured != nil {
		if f := t.Measured.check(); f != nil {
			return f
		}
	}
	if t.Faded != nil {
		if f := t.Faded.check(); f != nil {
			return f
		}
	}
	return nil
}
