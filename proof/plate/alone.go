package plate

import (
	"slices"

	"threeply/proof/filter"
	"threeply/proof/scan"
)

// Alone is the error of files that hold fewer than three plates: each is one, and can be
// opened once the others are there. Err says so.
type Alone struct {
	Plates []Lone
	Err    *scan.Error
}

// Lone is a plate without its set.
type Lone struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Filter int    `json:"filter"` // as its name says it, as filter.Filter; -1 where that tells nothing
}

func (a *Alone) Error() string { return a.Err.Error() }

// Unwrap is what a reader of the error alone is told.
func (a *Alone) Unwrap() error { return a.Err }

// lone reads files of one plate each that make no set yet.
func (o *opening) lone(files []File, why *scan.Error) error {
	out := &Alone{Err: why}
	for i, f := range files {
		_, sha256, err := o.decode(f, float64(i)/float64(len(files)), 1/float64(len(files)))
		if err != nil {
			return err
		}
		out.Plates = append(out.Plates, Lone{f.Name, sha256, filterNamed(f.Name)})
	}
	return out
}

// filterNamed is the filter that a file's name alone tells, by the namings that hold for a
// single name; -1 where it tells none, or several.
func filterNamed(name string) int {
	for _, n := range []naming{namings[0], namings[2], namings[3]} {
		var found []filter.Filter
		for _, word := range words(name) {
			if f, ok := n.filterOf[word]; ok && !slices.Contains(found, f) {
				found = append(found, f)
			}
		}
		if len(found) == 1 {
			return int(found[0])
		}
	}
	return -1
}
