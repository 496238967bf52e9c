package pigment

import (
	"regexp"
	"strings"
	"sync"
)

// Permanence is how long a tissue or a palette keeps its colour in light: as long as the
// weakest of its pigments.
type Permanence struct {
	Class   int    // ASTM D4303 lightfastness category, 1 the best to 5; 0 where it is not known
	Pigment string // the name of the weakest pigment
	Says    string // what is known of it: its Lightfastness
	BlueWool
	Stands Correspondence // what stands for what in Class and BlueWool
}

// Correspondence tells which of a pigment's two classes is not named by its facts but stands
// for the other, by the correspondence of Pigment.Class.
type Correspondence int

// The correspondences.
const (
	BothNamed      Correspondence = iota // or neither
	StandsBlueWool                       // the blue wool classes stand for the ASTM category
	StandsASTM                           // the ASTM category stands for the blue wool classes
)

// Word is the class in a word: those of ASTM D4303 for I and II together, III, and IV and
// V together are in common use for artists' colours (common practice).
func (p Permanence) Word() string {
	switch p.Class {
	case 1, 2:
		return "lasting"
	case 3:
		return "doubtful"
	case 4, 5:
		return "fugitive"
	}
	return "not known"
}

var (
	astm     = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`ASTM (V|IV|I{1,3})(?:–(V|IV|I{1,3}))?`) })
	numerals = map[string]int{"I": 1, "II": 2, "III": 3, "IV": 4, "V": 5}
)

// Class is the worst category that Lightfastness names. Where it names blue wool classes
// alone, 7 and 8 stand for I, 6 for II, 4 and 5 for III, 3 and less for IV and worse (our
// own correspondence). 0 is not known.
func (p Pigment) Class() int {
	if m := astm().FindStringSubmatch(p.Lightfastness); m != nil {
		return max(numerals[m[1]], numerals[m[2]])
	}
	switch b := p.BlueWool.Least; {
	case b >= 7:
		return 1
	case b >= 6:
		return 2
	case b >= 4:
		return 3
	case b > 0:
		return 4
	}
	return 0
}

// Category is a class of ASTM D4303 as it is written: I to V; empty for 0.
func Category(class int) string {
	for numeral, c := range numerals {
		if c == class {
			return numeral
		}
	}
	return ""
}

// permanence is what is known of a pigment, and by which correspondence.
func (p Pigment) permanence() Permanence {
	out := Permanence{Class: p.Class(), Pigment: p.Name, Says: strings.TrimSpace(p.Lightfastness)}
	classes, known := p.Classes()
	out.BlueWool = classes
	switch {
	case known && p.BlueWool == (BlueWool{}):
		out.Stands = StandsBlueWool
	case known && !astm().MatchString(p.Lightfastness):
		out.Stands = StandsASTM
	}
	return out
}

// Permanence is that of the weakest pigment of the three tissues; one whose class is not
// known counts as the weakest only where none is known to fade.
func (p Palette) Permanence() Permanence {
	var out Permanence
	first := true
	for _, which := range Printers() {
		for _, share := range p.Layer(which).Pigments {
			facts, ok := PigmentByCI(share.CI)
			if !ok || share.Share == 0 {
				continue
			}
			class := facts.Class()
			weaker := class > out.Class || class == 0 && out.Class < 3
			if first || weaker {
				out, first = facts.permanence(), false
			}
		}
	}
	return out
}
