package batch

import (
	"fmt"
	"strconv"
	"strings"
)

// Shard is a part of a manifest: of every Of sets the one that comes Part-th, from 1 on.
// All shards together take each set once.
type Shard struct{ Part, Of int }

// Whole is all of a manifest.
var Whole = Shard{1, 1}

// ParseShard reads “i/n”, and "" as the whole.
func ParseShard(text string) (Shard, error) {
	if text == "" {
		return Whole, nil
	}
	part, of, ok := strings.Cut(text, "/")
	i, errPart := strconv.Atoi(strings.TrimSpace(part))
	n, errOf := strconv.Atoi(strings.TrimSpace(of))
	if !ok || errPart != nil || errOf != nil || i < 1 || i > n {
		return Shard{}, fmt.Errorf("“%s” is no shard: give i/n with i from 1 to n, such as 3/16", text)
	}
	return Shard{i, n}, nil
}

// Takes tells whether the set that stands at an index of the manifest, from 0 on, is the
// shard's.
func (s Shard) Takes(index int) bool { return index%s.Of == s.Part-1 }

// Report is the name of its report.
func (s Shard) Report() string {
	if s == Whole {
		return "report.csv"
	}
	return fmt.Sprintf("report-%d-of-%d.csv", s.Part, s.Of)
}

// Contact is the name of its contact sheet.
func (s Shard) Contact() string {
	if s == Whole {
		return "contact.html"
	}
	return fmt.Sprintf("contact-%d-of-%d.html", s.Part, s.Of)
}
