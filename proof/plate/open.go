package plate

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// File is one file of a set. Its data are read when its turn comes.
type File struct {
	Name     string
	Data     scan.Data
	Encoding string // of its codes, as in scan.Options; "" takes the one of Options

	// Hash, where set, begins to compute the file's SHA-256 beside the reading, and gives what waits
	// for it: small hexadecimal digits, or "" where it has failed. Else that is computed while the
	// file is read.
	Hash func() (wait func() string)
}

// Options overrule what Open guesses.
type Options struct {
	Layout   Layout // "" to guess
	Order    string // filters of a tall file's exposures from the top: r, g and b once each; "" stands for "bgr"
	Encoding string // of the codes, as in scan.Options

	Inflate scan.Inflater // as in scan.Options

	// Measured says that what these plates tell was found before and is known: they are only
	// read. Of each Source, what Measure would fill in is then left out but for its size, and
	// so is Scan.Codes.
	Measured bool

	// Take, where set, is given each density plane as soon as it is measured, with
	// its index in Set.Sources. The plane is then Take's to keep or drop, and the Set
	// keeps none: so only one large plate lies in memory at a time.
	Take func(source int, density *plane.Plane)

	// Elsewhere, where set, is asked before each of three files is read whether another
	// program has read it meanwhile, by One, and gives what that found. It may wait.
	Elsewhere func(source int) (Source, bool)
}

// Set is the three plates of one picture.
type Set struct {
	Layout  Layout
	Sources [3]Source
	Density [3]*plane.Plane // as Sources; nil where Options.Take took them
	Assign  [3]int          // index of the red, the green and the blue plate in Sources
	Unnamed bool            // the file names do not say which plate is which, so the given order was taken: ask
	Split   bool            // some plates look like negatives and some like positives: ask
}

// Plate returns the plate of filter f.
func (s *Set) Plate(f filter.Filter) (*Source, *plane.Plane) {
	i := s.Assign[f]
	return &s.Sources[i], s.Density[i]
}

// tallRatio is the least height over width of a tall file. Three exposures below each
// other reach it where each is at most 3/2.2 times as wide as high.
const tallRatio = 2.2

// Open reads the plates of one set. progress may be nil; it is told the share of the
// work that is done, 0 … 1, and what is being done. Every error is a *scan.Error that
// names the file or files.
func Open(files []File, opt Options, progress func(done float64, what string)) (*Set, error) {
	if progress == nil {
		progress = func(float64, string) {}
	}
	o := &opening{opt: opt, progress: progress}
	if err := checkFiles(files, opt); err != nil {
		if len(files) == 2 && checkDistinct(files) == nil {
			return nil, o.lone(files, err)
		}
		return nil, err
	}
	var err error
	if len(files) == 3 {
		err = o.threeFiles(files)
	} else {
		err = o.oneFile(files[0])
	}
	if err != nil {
		return nil, err
	}
	if !opt.Measured {
		o.set.vote()
	}
	progress(1, "done")
	return &o.set, nil
}

// One reads one of the three files of a set, source i of it, apart from the others: what
// Open then takes by Options.Elsewhere. Its density plane goes to Options.Take. Errors are as
// those of Open.
func One(f File, i int, opt Options) (Source, error) {
	o := &opening{opt: opt, progress: func(float64, string) {}}
	err := o.oneOfThree(f, i)
	return o.set.Sources[i], err
}

// checkFiles refuses files and options that make no set.
func checkFiles(files []File, opt Options) *scan.Error {
	const give = "Give three grey scans, one tall file with three exposures, or one colour file whose channels are the plates."
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.Name
	}
	list := strings.Join(names, ", ")
	switch {
	case len(files) == 0:
		return &scan.Error{File: "no file", Reason: "nothing was given", Remedy: give}
	case len(files) != 1 && len(files) != 3:
		return &scan.Error{File: list, Reason: fmt.Sprintf("a set is three scans, and these are %s", number(len(files))), Remedy: give}
	case len(files) == 3 && opt.Layout != "" && opt.Layout != Separate:
		return &scan.Error{File: list, Reason: fmt.Sprintf("three files were given, but the layout %q takes one", opt.Layout), Remedy: give}
	case len(files) == 1 && opt.Layout == Separate:
		return &scan.Error{File: list, Reason: "one file was given, but the layout \"separate\" takes three", Remedy: give}
	case !slices.Contains([]Layout{"", Separate, Tall, Channels, Pages}, opt.Layout):
		return &scan.Error{File: list, Reason: fmt.Sprintf("the layout %q is not known", opt.Layout), Remedy: `Choose "separate", "tall", "channels" or "pages".`}
	}
	if err := checkDistinct(files); err != nil {
		return err
	}
	if _, err := parseOrder(opt.Order); err != nil {
		return &scan.Error{File: list, Reason: err.Error(), Remedy: `Name the three exposures from the top, "bgr" for blue, green, red.`}
	}
	return nil
}

// checkDistinct refuses one file given more than once.
func checkDistinct(files []File) *scan.Error {
	for i, f := range files {
		names := []string{f.Name}
		for _, g := range files[i+1:] {
			if sameData(f.Data, g.Data) {
				names = append(names, g.Name)
			}
		}
		if len(names) > 1 {
			times := map[int]string{2: "twice", 3: "three times"}[len(names)]
			return &scan.Error{File: strings.Join(names, ", "), Reason: "these are the same scan " + times, Remedy: "Give three different plates: red, green and blue."}
		}
	}
	return nil
}

// sameData compares piece by piece, so that different scans mostly differ in the first
// piece read. A file that cannot be read counts as different; decoding it says why.
func sameData(a, b scan.Data) bool {
	const piece = 1 << 20
	size := a.Size()
	if size != b.Size() || size == 0 {
		return false
	}
	p, q := make([]byte, min(size, piece)), make([]byte, min(size, piece))
	for at := int64(0); at < size; at += piece {
		n := min(size-at, piece)
		if got, _ := a.ReadAt(p[:n], at); int64(got) < n {
			return false
		}
		if got, _ := b.ReadAt(q[:n], at); int64(got) < n {
			return false
		}
		if !bytes.Equal(p[:n], q[:n]) {
			return false
		}
	}
	return true
}

// number writes a small number as a word.
func number(n int) string {
	words := []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// parseOrder reads an order of filters such as "bgr"; "" stands for that one.
func parseOrder(order string) ([3]filter.Filter, error) {
	if order == "" {
		order = "bgr"
	}
	var out [3]filter.Filter
	seen := 0
	for i, r := range strings.ToLower(order) {
		f := strings.IndexRune("rgb", r)
		if i > 2 || f < 0 {
			seen = 0
			break
		}
		out[i] = filter.Filter(f)
		seen |= 1 << f
	}
	if seen != 7 {
		return out, fmt.Errorf("the order %q does not name r, g and b once each", order)
	}
	return out, nil
}
