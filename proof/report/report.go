// Package report makes the page that is signed for a register: which scans, where they
// lie, what was measured and where not, how far two plates lie apart, and what was done by
// hand.
package report

import (
	_ "embed"
	"fmt"
	"io"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/leaf"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

//go:embed report.html
var body string

//go:embed report.css
var style string

var sheet = leaf.Parse(body)

// Report is what the page shows.
type Report struct {
	Label  label.Label
	Scan   verdict.Scan
	Print  verdict.Print
	Sign   string // of Scan, in words
	Plates []Plate
	Map    Map
	Worst  []Spot
	ByHand []string // what was chosen or done by hand

	Percent             float64 // of the picture that was measured
	Half, Most, Largest string  // how far apart half, 95 % and all of it lie at most
}

// Plate is one of the scans, and where it lies.
type Plate struct {
	Name, File, SHA256 string
	session.PlateIdentity
	Polarity   string
	Size       string // in pixels, with the resolution
	Says       string // how it lies
	Confidence string // "" of the key, and where it lies by hand
	Coverage   string
	Matrix     affine.Matrix
}

// Map is what was measured over the picture.
type Map struct {
	PNG   []byte // the key, small
	W, H  int    // of the key, pixels
	Cells []MapCell
	Hatch float64 // how large the hatching is, for the key's size
}

// MapCell is one of its cells, in pixels of the key.
type MapCell struct {
	X, Y, W, H float64
	CX, CY     float64 // its middle
	Says       string  // how far apart, in pixels
	Empty      bool    // nothing was measured
	Moved      bool    // a part lies elsewhere
	Size       float64 // of the letters
}

// Spot is one of the worst places, enlarged.
type Spot struct {
	PNG  []byte
	Side int
	Says string
}

// worstShown is how many of the worst places are shown.
const worstShown = 6

// Of makes the report of a session on its plates. planes are at full size, by source.
func Of(s *session.State, planes [3]*plane.Plane, made label.Made) (*Report, error) {
	if s.Sources[0].W == 0 {
		return nil, fmt.Errorf("no plates are open: there is nothing to report on")
	}
	r := &Report{Label: label.Of(s, made, "Report on register"), Scan: verdict.OfScan(s), Print: verdict.OfPrint(s)}
	r.Sign, r.Percent = verdict.SignWords(r.Scan.Sign), 100*r.Scan.Coverage
	r.Half, r.Most, r.Largest = r.Scan.Length(r.Scan.Typical), r.Scan.Length(r.Scan.P95), r.Scan.Length(r.Scan.Largest)
	for _, f := range filter.All {
		r.Plates = append(r.Plates, plateOf(s, f))
	}
	r.ByHand = byHand(s)
	var err error
	if r.Map, err = mapOf(s, planes[s.KeySource()], &r.Scan); err != nil {
		return nil, err
	}
	for _, at := range r.Scan.Worst(worstShown) {
		spot, err := spotOf(s, planes, &r.Scan, at)
		if err != nil {
			return nil, err
		}
		r.Worst = append(r.Worst, spot)
	}
	return r, nil
}

// Write writes the page.
func (r *Report) Write(out io.Writer) error {
	return leaf.Write(out, "Register of "+r.Label.Title, style, sheet, r)
}

func plateOf(s *session.State, f filter.Filter) Plate {
	i := s.Assign[f]
	src, way := &s.Sources[i], place.WayOf(s, i)
	p := Plate{Name: f.String(), File: src.File, SHA256: src.SHA256, PlateIdentity: s.PlateIdentities[i], Polarity: "positive", Size: fmt.Sprintf("%d × %d pixels", src.W, src.H), Matrix: place.Register(s, i)}
	if src.Film.Negative {
		p.Polarity = "negative"
	}
	if src.PPI > 0 {
		p.Size += fmt.Sprintf(", %.0f ppi", src.PPI)
	}
	switch way {
	case place.WayKey:
		p.Says = "The key: the others lie against it."
	case place.WayFound, place.WayBoth:
		p.Says = s.Found[i].Words
		p.Confidence = fmt.Sprintf("%.0f %%", 100*s.Found[i].Confidence)
	case place.WayHand:
		p.Says = "Placed by hand."
	case place.WayMarks:
		p.Says = "Laid by marks."
	default:
		p.Says = "As it was scanned."
	}
	if m := &s.Survey[i]; way != place.WayKey && m.Known() {
		p.Coverage = fmt.Sprintf("%.0f %%", 100*m.Coverage())
	}
	return p
}

// byHand lists what was chosen or done by hand about where the plates lie.
func byHand(s *session.State) []string {
	out := []string{fmt.Sprintf("The %s plate is the key.", s.Key)}
	for _, f := range filter.All {
		i := s.Assign[f]
		switch place.WayOf(s, i) {
		case place.WayHand:
			out = append(out, fmt.Sprintf("The %s plate was placed by hand.", f))
		case place.WayMarks:
			out = append(out, fmt.Sprintf("The %s plate lies by %d marks.", f, len(place.MarksOf(s, i))))
		case place.WayBoth:
			out = append(out, fmt.Sprintf("The %s plate lies by what was found and by %d marks, the marks for %.0f %%.", f, len(place.MarksOf(s, i)), 100*s.MarkShare))
		}
		if s.Sources[i].Overruled {
			out = append(out, fmt.Sprintf("Whether the %s plate is a negative was said against what its scan suggests.", f))
		}
		if place.Local(s, i) != nil {
			out = append(out, fmt.Sprintf("The local register is on: it bends the %s plate smoothly.", f))
		}
	}
	return out
}
