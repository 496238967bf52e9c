package plate

import (
	"bytes"
	"encoding/base64"
	"image/png"
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
	Thumb  string `json:"thumb"`  // the plate small, as light as its scan is, a PNG as a data URL
}

func (a *Alone) Error() string { return a.Err.Error() }

// Unwrap is what a reader of the error alone is told.
func (a *Alone) Unwrap() error { return a.Err }

// lone reads files of one plate each that make no set yet.
func (o *opening) lone(files []File, why *scan.Error) error {
	out := &Alone{Err: why}
	for i, f := range files {
		s, sha256, err := o.decode(f, float64(i)/float64(len(files)), 1/float64(len(files)))
		if err != nil {
			return err
		}
		out.Plates = append(out.Plates, loneOf(s, f.Name, sha256))
	}
	return out
}

// loneSide is the longest side of the small picture of a lone plate, in pixels.
const loneSide = 320

func loneOf(s *scan.Scan, name, sha256 string) Lone {
	small, curve := s.Luminance()
	for max(small.W, small.H) > loneSide {
		small = small.Half()
	}
	toDensity(small, curve)
	var out bytes.Buffer
	if err := png.Encode(&out, Seen(small, Lightest(small))); err != nil {
		panic(err) // a buffer takes all, and a plane is never empty
	}
	return Lone{name, sha256, filterNamed(name), "data:image/png;base64," + base64.StdEncoding.EncodeToString(out.Bytes())}
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
