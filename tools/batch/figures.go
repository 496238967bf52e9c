package batch

import (
	"cmp"
	"slices"
	"strings"

	"threeply/proof/label"
)

// Why a person must look at a set, what comes first most urgent.
const (
	Failed   = iota // nothing came of it
	Unsure          // register cannot be judged, or is not sure
	Out             // out of register
	Clipped         // a scan is cut off at one end
	Unlevel         // its scans were levelled one by one, or the assumptions on its light disagree, and no grey is known
	Remarked        // something is said of a scan
	Fine            // nothing
)

// Figures are what the report says of a set. Pixels are the key's; a figure that is not
// known is nil.
type Figures struct {
	Set        string   `json:"set"`
	Why        int      `json:"why"`    // Failed to Fine
	Degree     float64  `json:"degree"` // of that, the larger the worse
	Look       []string `json:"look"`   // what to look at, in words
	Verdict    string   `json:"verdict"`
	Stars      int      `json:"stars"`
	P95        *float64 `json:"p95_px"`
	Largest    *float64 `json:"largest_px"`
	Coverage   *float64 `json:"coverage"`
	Confidence *float64 `json:"confidence"`
	Clipped    *float64 `json:"clipped"`
	Apart      *float64 `json:"light_apart_stops"`
	Title      string   `json:"title"`
	Number     string   `json:"number"`
	SHA256     []string `json:"sha256"` // of the scans
	Folder     string   `json:"folder"` // with what was made, from the report's folder on, parted by “/”
	Small      []string `json:"small"`  // small pictures, from the set's folder on
	Tool       string   `json:"tool"`   // that says so, with its version
}

// Urgent orders figures by what a person must look at first. Rows of a manifest that give sets one
// name stand in an order too, whichever was worked on first.
func Urgent(a, b Figures) int {
	return cmp.Or(cmp.Compare(a.Why, b.Why), cmp.Compare(b.Degree, a.Degree), strings.Compare(a.Set, b.Set),
		slices.Compare(a.Look, b.Look), strings.Compare(a.Title, b.Title), strings.Compare(a.Number, b.Number))
}

// Failed are the figures of a set of which nothing came.
func (s Set) Failed(reason string) Figures {
	return Figures{Set: s.Name, Why: Failed, Look: []string{reason}, Title: s.Says[Title], Number: s.Says[Number], Tool: label.Tool()}
}
