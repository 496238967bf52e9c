package plate

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"threeply/proof/plane"
	"threeply/proof/scan"
)

// File is one dropped file.
type File struct {
	Name string
	Data []byte
}

// Options overrule what Open guesses.
type Options struct {
	Layout   Layout // "" to guess
	Order    string // of the exposures of a tall file from the top, six orders: "bgr" where ""
	Encoding string // of the codes, as in scan.Options
}

// Set is the three plates of one picture.
type Set struct {
	Layout  Layout
	Sources [3]Source
	Density [3]*plane.Plane // as Sources
	Assign  [3]int          // index of the red, the green and the blue plate in Sources
	Asked   bool            // the names did not say which is which; the given order was taken
	Split   bool            // the plates disagree about their polarity; ask
}

// Plate returns the plate of filter f.
func (s *Set) Plate(f Filter) (*Source, *plane.Plane) {
	i := s.Assign[f]
	return &s.Sources[i], s.Density[i]
}

// tallRatio is the least height over width that makes one grey file a tall
// one: three exposures of a plate broader than 3 : 2.2.
const tallRatio = 2.2

// Open reads the plates of one set. progress may be nil; it is told the share
// done, 0 … 1, and what is being done. Every error is a *scan.Error that names
// the file or files.
func Open(files []File, opt Options, progress func(done float64, what string)) (*Set, error) {
	if progress == nil {
		progress = func(float64, string) {}
	}
	if err := checkFiles(files, opt); err != nil {
		return nil, err
	}
	var set *Set
	var err error
	if len(files) == 3 {
		set, err = openSeparate(files, opt, progress)
	} else {
		set, err = openOne(files[0], opt, progress)
	}
	if err != nil {
		return nil, err
	}
	for i := range set.Sources {
		progress(0.7+0.1*float64(i), "measuring "+set.Sources[i].Name)
		set.Sources[i].Measure(set.Density[i])
	}
	set.vote()
	progress(1, "done")
	return set, nil
}

// checkFiles refuses a number of files that makes no set, and one file dropped
// more than once.
func checkFiles(files []File, opt Options) error {
	const drop = "Drop three grey scans, one tall file with three exposures, or one colour file whose channels are the plates."
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.Name
	}
	list := strings.Join(names, ", ")
	switch {
	case len(files) == 0:
		return &scan.Error{File: "no file", Reason: "nothing was dropped", Remedy: drop}
	case len(files) != 1 && len(files) != 3:
		return &scan.Error{File: list, Reason: fmt.Sprintf("a set is three scans, and these are %s", number(len(files))), Remedy: drop}
	case len(files) == 3 && opt.Layout != "" && opt.Layout != Separate:
		return &scan.Error{File: list, Reason: fmt.Sprintf("three files were given, but the layout %q takes one", opt.Layout), Remedy: drop}
	case len(files) == 1 && opt.Layout == Separate:
		return &scan.Error{File: list, Reason: "one file was given, but the layout \"separate\" takes three", Remedy: drop}
	case !slices.Contains([]Layout{"", Separate, Tall, Channels}, opt.Layout):
		return &scan.Error{File: list, Reason: fmt.Sprintf("the layout %q is not known", opt.Layout), Remedy: `Choose "separate", "tall" or "channels".`}
	}
	if err := checkDistinct(files); err != nil {
		return err
	}
	if _, err := parseOrder(opt.Order); err != nil {
		return &scan.Error{File: list, Reason: err.Error(), Remedy: `Name the three exposures from the top, "bgr" for blue, green, red.`}
	}
	return nil
}

// checkDistinct refuses one file dropped more than once.
func checkDistinct(files []File) error {
	for i, f := range files {
		names := []string{f.Name}
		for _, g := range files[i+1:] {
			if bytes.Equal(f.Data, g.Data) && len(f.Data) > 0 {
				names = append(names, g.Name)
			}
		}
		if len(names) > 1 {
			times := map[int]string{2: "twice", 3: "three times"}[len(names)]
			return &scan.Error{File: strings.Join(names, ", "), Reason: "these are the same scan " + times, Remedy: "Drop three different plates: red, green and blue."}
		}
	}
	return nil
}

func number(n int) string {
	words := []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// parseOrder reads an order such as "bgr": filters from the top.
func parseOrder(order string) ([3]Filter, error) {
	if order == "" {
		order = "bgr"
	}
	var out [3]Filter
	seen := 0
	for i, r := range strings.ToLower(order) {
		f := strings.IndexRune("rgb", r)
		if i > 2 || f < 0 {
			seen = 0
			break
		}
		out[i] = Filter(f)
		seen |= 1 << f
	}
	if seen != 7 {
		return out, fmt.Errorf("the order %q does not name r, g and b once each", order)
	}
	return out, nil
}

func openSeparate(files []File, opt Options, progress func(float64, string)) (*Set, error) {
	set := &Set{Layout: Separate}
	var names [3]string
	for i, f := range files {
		progress(0.23*float64(i), "reading "+f.Name)
		s, err := scan.Decode(f.Name, f.Data, scan.Options{Encoding: opt.Encoding})
		if err != nil {
			return nil, err
		}
		p, curve := s.Luminance()
		toDensity(p, curve)
		names[i] = f.Name
		set.Sources[i] = sourceOf(s, f.Name)
		set.Density[i] = p
	}
	of, ok := assign(names)
	set.Assign, set.Asked = of, !ok
	return set, nil
}

func sourceOf(s *scan.Scan, name string) Source {
	return Source{Name: name, Bits: s.Bits, PPI: s.PPI, Encoding: s.Encoding}
}

func openOne(f File, opt Options, progress func(float64, string)) (*Set, error) {
	progress(0, "reading "+f.Name)
	s, err := scan.Decode(f.Name, f.Data, scan.Options{Encoding: opt.Encoding})
	if err != nil {
		return nil, err
	}
	progress(0.6, "separating "+f.Name)
	layout := opt.Layout
	tall := float64(s.H) >= tallRatio*float64(s.W)
	switch {
	case layout != "":
	case tall:
		layout = Tall
	case s.Channels == 3 && channelsDiffer(s):
		layout = Channels
	}
	switch {
	case layout == Tall && s.H >= 3:
		return splitTall(s, opt), nil
	case layout == Channels && s.Channels == 3:
		return splitChannels(s), nil
	case layout == Channels:
		return nil, &scan.Error{File: f.Name, Reason: "it is grey, so it has no three channels to take as plates", Remedy: "Drop three grey scans, or choose the layout for one tall file."}
	case s.Channels == 3:
		return nil, &scan.Error{File: f.Name, Reason: "its three channels are equal, so it holds one plate", Remedy: "Drop the three plates together."}
	}
	if float64(s.W) >= tallRatio*float64(s.H) {
		return nil, &scan.Error{File: f.Name, Reason: "it is one grey scan that lies on its side", Remedy: "Turn it by a quarter, so that its three exposures stand below each other, and drop it again."}
	}
	return nil, &scan.Error{
		File:   f.Name,
		Reason: fmt.Sprintf("it is one grey scan of %d × %d pixels, which is one plate; three exposures below each other would be %.1f times as high as wide at least", s.W, s.H, tallRatio),
		Remedy: "Drop the three plates together, or choose the layout for one tall file.",
	}
}

// splitTall cuts a tall file in three parts of H div 3 rows.
func splitTall(s *scan.Scan, opt Options) *Set {
	set := &Set{Layout: Tall}
	p, curve := s.Luminance()
	toDensity(p, curve)
	order, _ := parseOrder(opt.Order) // checked by checkFiles
	h := s.H / 3
	for i, f := range order {
		set.Sources[i] = sourceOf(s, fmt.Sprintf("%s (%s)", s.Name, [...]string{"top", "middle", "bottom"}[i]))
		set.Density[i] = p.Crop(0, i*h, s.W, h)
		set.Assign[f] = i
	}
	return set
}

func splitChannels(s *scan.Scan) *Set {
	set := &Set{Layout: Channels, Assign: [3]int{0, 1, 2}}
	for i, f := range Filters {
		toDensity(s.Planes[i], s.Curves[i])
		set.Sources[i] = sourceOf(s, fmt.Sprintf("%s (%s channel)", s.Name, f))
		set.Density[i] = s.Planes[i]
	}
	return set
}

// channelsDiffer says whether a colour file is more than a grey one saved as
// colour: more than one pixel in two hundred differs by over 3 %.
func channelsDiffer(s *scan.Scan) bool {
	const apart = 2000
	r, g, b := s.Planes[0].Pix, s.Planes[1].Pix, s.Planes[2].Pix
	step := max(len(r)/100003, 1)
	differ, seen := 0, 0
	for i := 0; i < len(r); i += step {
		seen++
		if int(max(r[i], g[i], b[i]))-int(min(r[i], g[i], b[i])) > apart {
			differ++
		}
	}
	return differ*200 > seen
}
