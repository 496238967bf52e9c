package export

import (
	"fmt"
	"math"

	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/register"
	"threeply/proof/resample"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// InRegister returns an error where a plate has not been registered, or not
// with any confidence: a picture that only looks registered must not leave the
// tool. A plate that a person laid by marks or by hand is taken at that
// person's word.
func InRegister(s *session.State) error {
	if !place.Laid(s) {
		return fmt.Errorf("the plates are not registered yet, so nothing is written; register them first, by themselves or by marks")
	}
	for _, f := range filter.All {
		name := f.String()
		i := s.Assign[f]
		found, way := s.Found[i], place.WayOf(s, i)
		byRegister := way == place.WayFound || way == place.WayBoth || way == place.WayKey && s.By == session.ByRegister && s.Registered == "auto"
		if byRegister && !found.ByHand && s.Carried {
			return fmt.Errorf("the register comes from a session that does not know the content of its scans, so nothing is written; register the plates again")
		}
		if byRegister && !found.ByHand && found.Confidence < register.FoundFrom {
			return fmt.Errorf("%s, the %s plate, is not in register, so nothing is written. %s", s.Sources[i].File, name, found.Words)
		}
	}
	return nil
}

// Drawn is a file in the key's frame, and the rows of the plates that it is drawn from.
type Drawn struct {
	sheet.TIFF
	behind [3]Behind // by source
}

// Needs are the rows of each source's plane, from … to-1, that rows y0 … y1-1 of the file
// are drawn from.
func (d *Drawn) Needs(y0, y1 int) [3][2]int { return Needs(d.behind, d.W, y0, y1) }

// RegisteredPlate draws a plate as the key sees it: grey, the scan's linear
// transmittance with 65535 for clear, hatched where the plate does not reach. It is
// resampled once, from the untouched scan; offsets on the print are left out.
// planes are at full size, by source, and need hold no rows before they are drawn from.
func RegisteredPlate(s *session.State, planes [3]*plane.Plane, f filter.Filter, made label.Made) *Drawn {
	p := newSeen(s, planes, f, func(code uint16) float64 { return math.Pow(10, -density.Of(code)) })
	d := leaving(s, made, 1, fmt.Sprintf("Plate of the %s filter in register with the %s plate; values are linear transmittance, 65535 is clear.", f, s.Key)+cautions(s, s.Assign[f]))
	d.behind[s.Assign[f]] = p.from
	d.Row = func(y int, row []uint16) { p.row(y, row, 0, 1); p.hatch(y, row, 1) }
	return d
}

// ReferencePicture adds the three plates as light, each resampled as by
// RegisteredPlate: RGB, encoded by sRGB (IEC 61966-2-1), whose profile it
// carries. Where one of the plates does not reach it is hatched.
func ReferencePicture(s *session.State, planes [3]*plane.Plane, made label.Made) *Drawn {
	d := leaving(s, made, 3, "The three plates in register, added as red, green and blue light."+cautions(s, s.Assign[:]...))
	var plates [3]seen
	for i, f := range filter.All {
		curve := tone.ReferenceCurve(s.Sources[s.Assign[f]].Film)
		plates[i] = newSeen(s, planes, f, func(code uint16) float64 { return curve.At(float64(code)) })
		d.behind[s.Assign[f]] = plates[i].from
	}
	d.Profile = icc.Display(spectrum.SRGB)
	d.Row = func(y int, row []uint16) {
		for c := range plates {
			plates[c].row(y, row, c, 3)
		}
		for c := range plates {
			plates[c].hatch(y, row, 3)
		}
	}
	return d
}

func leaving(s *session.State, made label.Made, samples int, words string) *Drawn {
	w, h := s.Frame()
	return &Drawn{TIFF: sheet.TIFF{
		W: w, H: h, Samples: samples, PPI: s.Sources[s.KeySource()].PPI,
		Description: Plain(words), Words: TIFFWords(label.Of(s, made, words)),
	}}
}

// seen is a plate as the key sees it, and what its codes are written as.
type seen struct {
	from   Behind
	plane  *resample.Sampler
	at     func(x, y float64) (float64, float64) // key pixel → pixel of the scan
	values []uint16
}

func newSeen(s *session.State, planes [3]*plane.Plane, f filter.Filter, value func(code uint16) float64) seen {
	i := s.Assign[f]
	path := place.Plate(s, i)
	p := seen{
		from:  Behind{Path: &path, Reach: resample.Reach(1), H: planes[i].H},
		plane: resample.NewSampler(planes[i], 1), at: path.Apply, values: make([]uint16, 65536),
	}
	if path.Local == nil { // most plates: one map for the whole way
		p.at = path.Affine().Apply
	}
	for code := range p.values {
		p.values[code] = uint16(math.Round(65535 * min(max(value(uint16(code)), 0), 1)))
	}
	return p
}

// row writes what the plate reaches of one row into every step-th value from first on.
func (p *seen) row(y int, row []uint16, first, step int) {
	for x := range len(row) / step {
		if code, ok := p.plane.At(p.at(float64(x), float64(y))); ok {
			row[x*step+first] = p.values[code]
		}
	}
}

// stripe is the width of the stripes of hatch along a row, in pixels, and bright what
// every second of them is written as, the others as 0: no picture looks like that.
const (
	stripe = 8
	bright = 32768
)

// hatch fills one row where the plate does not reach with stripes that run from the lower
// left to the upper right.
func (p *seen) hatch(y int, row []uint16, samples int) {
	for x := range len(row) / samples {
		if p.plane.Reaches(p.at(float64(x), float64(y))) {
			continue
		}
		v := uint16(0)
		if (x+y)/stripe%2 == 1 {
			v = bright
		}
		for c := range samples {
			row[x*samples+c] = v
		}
	}
}
