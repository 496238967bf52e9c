package plate

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// opening is a set that is being opened.
type opening struct {
	set      Set
	opt      Options
	progress func(float64, string)
}

// decode reads a file, to its end for the SHA-256. Of the whole work, share is done
// before and span in it, both 0 … 1.
func (o *opening) decode(f File, share, span float64) (s *scan.Scan, sha256 string, err error) {
	return o.decodePage(f, 0, share, span)
}

// decodePage is decode for one of a TIFF's pictures.
func (o *opening) decodePage(f File, page int, share, span float64) (s *scan.Scan, sha256 string, err error) {
	what := "reading " + f.Name
	o.progress(share, what)
	var wait func() string
	if f.Hash != nil {
		wait = f.Hash()
	}
	data := scan.Data(&watched{f.Data, func(part float64) { o.progress(share+span*part, what) }, 0})
	hashed := scan.NewHashed(data)
	if wait == nil {
		data = hashed
	}
	encoding := o.opt.Encoding
	if f.Encoding != "" {
		encoding = f.Encoding
	}
	if s, err = scan.DecodeFrom(f.Name, data, scan.Options{Encoding: encoding, Page: page, Inflate: o.opt.Inflate}); err != nil {
		return nil, "", err
	}
	if wait != nil {
		if sha256 = wait(); sha256 != "" {
			return s, sha256, nil
		}
	}
	sha256, err = hashed.Sum(func(float64) { o.progress(share+span, what) })
	if own, ok := errors.AsType[*scan.Error](err); ok {
		own.File = f.Name
	}
	return s, sha256, err
}

// watched tells what share of a file has been read, 0 … 1, never less than before.
type watched struct {
	scan.Data
	tell func(part float64)
	far  int64 // bytes from the beginning that were read
}

func (w *watched) ReadAt(p []byte, at int64) (int, error) {
	n, err := w.Data.ReadAt(p, at)
	if end := at + int64(n); end > w.far && at <= w.far+readAhead {
		w.far = end
		w.tell(float64(end) / float64(w.Size()))
	}
	return n, err
}

// readAhead is how many bytes a read may skip and still count as reading on. A jump to
// a directory at the end of the file is longer and does not count.
const readAhead = 1 << 16

// keep measures a source's density plane, where that was not done before, and keeps it or
// hands it to Options.Take. share of the whole work is done before, 0 … 1.
func (o *opening) keep(i int, s Source, density *plane.Plane, share float64) {
	if o.opt.Measured {
		s.W, s.H = density.W, density.H
	} else {
		o.progress(share, "measuring "+s.Name)
		s.Measure(density)
	}
	o.set.Sources[i] = s
	if o.opt.Take != nil {
		o.opt.Take(i, density)
		return
	}
	o.set.Density[i] = density
}

// threeFiles opens three files of one plate each.
func (o *opening) threeFiles(files []File) error {
	o.set.Layout = Separate
	var names [3]string
	for i, f := range files {
		names[i] = f.Name
		if o.opt.Elsewhere != nil {
			if source, ok := o.opt.Elsewhere(i); ok {
				o.set.Sources[i] = source
				continue
			}
		}
		if err := o.oneOfThree(f, i); err != nil {
			return err
		}
	}
	of, ok := assign(names)
	o.set.Assign, o.set.Unnamed = of, !ok
	return nil
}

// oneOfThree opens file i of three, which holds one plate.
func (o *opening) oneOfThree(f File, i int) error {
	share := float64(i) / 3
	s, sha256, err := o.decode(f, share, 0.25)
	if err != nil {
		return err
	}
	source := sourceOf(s, f.Name, sha256, 0)
	source.Scan.Codes = o.codesOf(s, (s.Channels-1)/2, nil)
	p, curve := s.Luminance()
	toDensity(p, curve)
	o.keep(i, source, p, share+0.28)
	return nil
}

// sourceOf is what a scan says of a plate before its density plane is measured. part
// is as in Source.
func sourceOf(s *scan.Scan, name, sha256 string, part int) Source {
	return Source{
		Name: name, SHA256: sha256, Part: part, Bits: s.Bits, PPI: s.PPI, Encoding: s.Encoding, Pictures: s.Pictures,
		Remarks: append(slices.Clone(s.Remarks), infraredWords(s)...),
		Scan:    fitness.Facts{Kind: string(s.Kind), Step: s.Step, Known: string(s.Known), PPIDown: s.PPIDown},
	}
}

// infraredWords say what a scan's infrared channel shows; none where it has none.
func infraredWords(s *scan.Scan) []string {
	if s.Infrared == nil {
		return nil
	}
	picture, curve := s.Luminance()
	found := fitness.InfraredOf(s.Infrared, picture, s.Curves[1], curve)
	if found.Silver() {
		return []string{"its fourth channel, infrared, follows the picture as silver does, so it tells no dust apart"}
	}
	return []string{fmt.Sprintf("its fourth channel, infrared, shows dust or scratches on %.2g %% of the picture", 100*found.Specks)}
}

// codesOf looks at how channel c of a scan uses its codes, inside the borders of the
// picture. rows, where not nil, are the first row of a part of the scan and the one
// after its last. Of plates that were measured before it tells nothing.
func (o *opening) codesOf(s *scan.Scan, c int, rows []int) (none fitness.Codes) {
	if o.opt.Measured {
		return none
	}
	p := s.Planes[c]
	if rows != nil {
		p = &plane.Plane{W: p.W, H: rows[1] - rows[0], Pix: p.Pix[rows[0]*p.W : rows[1]*p.W]}
	}
	small := p
	for max(small.W, small.H) > areaSide {
		small = small.Half()
	}
	if small == p {
		small = p.Crop(0, 0, p.W, p.H)
	}
	toDensity(small, s.Curves[c])
	area, _ := tonesOf(small).pictureArea(small.W, small.H)
	for i := range area {
		area[i] = area[i] * p.W / small.W
	}
	area[2], area[3] = min(area[2], p.W), min(area[3], p.H)
	return fitness.CodesOf(p, area)
}

// oneFile opens a file that holds all three plates.
func (o *opening) oneFile(f File) error {
	if o.opt.Layout == Pages || o.opt.Layout == "" && threePages(scan.Pages(f.Data)) {
		return o.pages(f)
	}
	s, sha256, err := o.decode(f, 0, 0.6)
	if err != nil {
		return err
	}
	o.progress(0.6, "separating "+f.Name)
	layout := o.opt.Layout
	tall := float64(s.H) >= tallRatio*float64(s.W)
	switch {
	case layout != "":
	case tall:
		layout = Tall
	case s.Channels == 3 && channelsDiffer(s):
		layout = Channels
	}
	one := func() []Lone { return []Lone{loneOf(s, f.Name, sha256)} }
	switch {
	case layout == Tall && s.H >= 3:
		o.tall(s, sha256)
		return nil
	case layout == Channels && s.Channels == 3:
		o.channels(s, sha256)
		return nil
	case layout == Channels:
		return &scan.Error{File: f.Name, Reason: "it is grey, so it has no three channels to take as plates", Remedy: "Give three grey scans together, or choose the layout for one tall file.", Layout: true}
	case s.Channels == 3:
		return &Alone{one(), &scan.Error{File: f.Name, Reason: "its three channels are equal, so it holds one plate", Remedy: "Give the three plates together."}}
	}
	if float64(s.W) >= tallRatio*float64(s.H) {
		return &scan.Error{File: f.Name, Reason: "it is one grey scan that lies on its side", Remedy: "Turn it by a quarter, so that its three exposures stand below each other, and give it again."}
	}
	return &Alone{one(), &scan.Error{
		File:   f.Name,
		Reason: fmt.Sprintf("it is one grey scan of %d × %d pixels, which is one plate; three exposures below each other would be %.1f times as high as wide at least", s.W, s.H, tallRatio),
		Remedy: "Give the three plates together, or choose the layout for one tall file.",
		Layout: true,
	}}
}

// likePages is how far the sides of three pages may differ for them to be taken for the
// plates of one picture, as a share: a preview beside a scan is far smaller. A judgement
// without a source.
const likePages = 0.2

// threePages tells whether a file holds three pictures of about one size.
func threePages(pages []scan.PageSize) bool {
	if len(pages) != 3 {
		return false
	}
	for _, p := range pages[1:] {
		for _, sides := range [2][2]int{{p.W, pages[0].W}, {p.H, pages[0].H}} {
			if math.Abs(float64(sides[0]-sides[1])) > likePages*float64(max(sides[0], sides[1])) {
				return false
			}
		}
	}
	return pages[0].W > 0
}

// pages opens a TIFF whose three pages are the plates: red, green and blue, or as
// Options.Order says.
func (o *opening) pages(f File) error {
	o.set.Layout = Pages
	order := [3]filter.Filter{filter.Red, filter.Green, filter.Blue}
	if o.opt.Order != "" {
		order, _ = parseOrder(o.opt.Order) // checked by checkFiles
	}
	o.set.Unnamed = o.opt.Order == ""
	for i, of := range order {
		share := float64(i) / 3
		s, sha256, err := o.decodePage(f, i, share, 0.25)
		if err != nil {
			return err
		}
		source := sourceOf(s, f.Name, sha256, i)
		source.Pictures = 1 // all of them are taken
		source.Scan.Codes = o.codesOf(s, (s.Channels-1)/2, nil)
		p, curve := s.Luminance()
		toDensity(p, curve)
		o.keep(i, source, p, share+0.28)
		o.set.Assign[of] = i
	}
	return nil
}

// tall cuts a tall file into three parts of a third of its rows each; what is left of
// an uneven division, at the bottom, is dropped.
func (o *opening) tall(s *scan.Scan, sha256 string) {
	o.set.Layout = Tall
	order, _ := parseOrder(o.opt.Order) // checked by checkFiles
	h := s.H / 3
	var codes [3]fitness.Codes
	for i := range codes {
		codes[i] = o.codesOf(s, (s.Channels-1)/2, []int{i * h, (i + 1) * h})
	}
	p, curve := s.Luminance()
	toDensity(p, curve)
	for i, f := range order {
		o.set.Assign[f] = i
		name := fmt.Sprintf("%s (%s)", s.Name, [...]string{"top", "middle", "bottom"}[i])
		source := sourceOf(s, name, sha256, i)
		source.Scan.Codes = codes[i]
		o.keep(i, source, p.Crop(0, i*h, s.W, h), 0.7+0.1*float64(i))
	}
}

// channels takes the three channels of a colour file as the plates.
func (o *opening) channels(s *scan.Scan, sha256 string) {
	o.set.Layout, o.set.Assign = Channels, [3]int{0, 1, 2}
	for i, f := range filter.All {
		source := sourceOf(s, fmt.Sprintf("%s (%s channel)", s.Name, f), sha256, i)
		source.Scan.Codes = o.codesOf(s, i, nil)
		toDensity(s.Planes[i], s.Curves[i])
		o.keep(i, source, s.Planes[i], 0.7+0.1*float64(i))
		s.Planes[i] = nil
	}
}

// channelsDiffer tells a colour file from a grey one saved as colour: in more than one
// pixel of two hundred the channels lie over 3 % of the codes apart.
func channelsDiffer(s *scan.Scan) bool {
	const (
		apart = 2000   // codes of 65535
		looks = 100003 // pixels looked at, about
	)
	r, g, b := s.Planes[0].Pix, s.Planes[1].Pix, s.Planes[2].Pix
	step := max(len(r)/looks, 1)
	differ, seen := 0, 0
	for i := 0; i < len(r); i += step {
		seen++
		if int(max(r[i], g[i], b[i]))-int(min(r[i], g[i], b[i])) > apart {
			differ++
		}
	}
	return differ*200 > seen
}
