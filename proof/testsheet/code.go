package testsheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

	"threeply/proof/pigment"
)

// signs are those of a code: digits and capitals that cannot be taken for each other.
const signs = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"

// codeSigns is how many of them a code has.
const codeSigns = 4

// Code is four signs, such as K7PQ, that tell this sheet from others. They are made of all its
// patches, in whatever order, so that a sheet with other exposures or places has others (but for
// one in a million). They stand on the film, and in all that is written of the sheet: what MarshalJSON
// gives of a patch must stay as it is, lest printed sheets are not known again.
func (s Sheet) Code() string {
	s.Patches = slices.Clone(s.Patches)
	slices.SortFunc(s.Patches, func(a, b Patch) int { return cmp.Compare(a.ID, b.ID) })
	text, _ := json.Marshal(s) // cannot fail: the log exposures of a plan are numbers
	sum := fnv.New32a()
	sum.Write(text)
	var out [codeSigns]byte
	for i, v := 0, sum.Sum32(); i < codeSigns; i, v = i+1, v/uint32(len(signs)) {
		out[i] = signs[v%uint32(len(signs))]
	}
	return string(out[:])
}

// IsCode tells whether a text has the form of a code.
func IsCode(text string) bool {
	return len(text) == codeSigns && strings.Trim(text, signs) == ""
}

// What a name is made of.
const (
	nameBegins = "test sheet "
	nameOf     = "of the palette "
)

// Name says which test sheet it is: by its code, of which palette, by its id, and with which
// places.
func (s Sheet) Name(p pigment.Palette) string {
	return fmt.Sprintf("%s%s %s%s (places by seed %d)", nameBegins, s.Code(), nameOf, p.ID, Seed)
}

// Named finds a name in a text and tells its code. Where the name is of a version of the tool
// that gave none, it is "".
func Named(text string) (code string, ok bool) {
	for rest := text; ; {
		_, after, found := strings.Cut(rest, nameBegins)
		if !found {
			return "", false
		}
		if strings.HasPrefix(after, nameOf) {
			return "", true
		}
		if code, last, _ := strings.Cut(after, " "); IsCode(code) && strings.HasPrefix(last, nameOf) {
			return code, true
		}
		rest = after
	}
}
