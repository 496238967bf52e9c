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

// RegisteredPlate draws a plate as the key sees it: grey, the scan's linear
// transmittance with 65535 for clear, hatched where the plate does not reach. It is
// resampled once, from the untouched scan; offsets on the print are left out.
// planes are at full size, by source.
func RegisteredPlate(s *session.State, planes [3]*plane.Plane, f filter.Filter, made label.Made) sheet.TIFF {
	p := newDrawn(s, planes, f, func(code uint16) float64 { return math.Pow(10, -density.Of(code)) })
	t := leaving(s, made, 1, fmt.Sprintf("Plate of the %s filter in register with the %s plate; values are linear transmittance, 65535 is clear.", f, s.Key)+cautions(s, s.Assign[f]))
	t.Row = func(y int, row []uint16) {
		off := make([]bool, t.W)
		p.row(y, row, off, 0, 1)
		hatch(y, row, off, 1)
	}
	return t
}

// ReferencePicture adds the three plates as light, each resampled as by
// RegisteredPlate: RGB, encoded by sRGB (IEC 61966-2-1), whose profile it
// carries. Where one of the plates does not reach it is hatched.
func ReferencePicture(s *session.State, planes [3]*plane.Plane, made label.Made) sheet.TIFF {
	var plates [3]drawn
	for i, f := range filter.All {
		curve := tone.ReferenceCurve(s.Sources[s.Assign[f]].Film)
		plates[i] = newDrawn(s, planes, f, func(code uint16) float64 { return curve.At(float64(code)) })
	}
	t := leaving(s, made, 3, "The three plates in register, added as red, green and blue light."+cautions(s, s.Assign[:]...))
	t.Profile = icc.Display(spectrum.SRGB)
	t.Row = func(y int, row []uint16) {
		off := make([]bool, t.W)
		for c := range plates {
			plates[c].row(y, row, off, c, 3)
		}
		hatch(y, row, off, 3)
	}
	return t
}

func leaving(s *session.State, made label.Made, samples int, words string) sheet.TIFF {
	w, h := s.Frame()
	return sheet.TIFF{
		W: w, H: h, Samples: samples, PPI: s.Sources[s.KeySource()].PPI,
		Description: Plain(words), Words: TIFFWords(label.Of(s, made, words)),
	}
}

// drawn is a plate in the key's frame and what its codes are written as.
type drawn struct {
	plane  *plane.Plane
	values []uint16
	place  place.Path // key pixel → pixel of the scan
	w, h   int        // of the scan
}

func newDrawn(s *session.State, planes [3]*plane.Plane, f filter.Filter, value func(code uint16) float64) drawn {
	i := s.Assign[f]
	w, h := s.Frame()
	place := place.Plate(s, i)
	d := drawn{place: place, w: planes[i].W, h: planes[i].H, values: make([]uint16, 65536)}
	d.plane = resample.Plane(planes[i], place.ToPlate, place.Local, w, h, 0)
	for code := range d.values {
		d.values[code] = uint16(math.Round(65535 * min(max(value(uint16(code)), 0), 1)))
	}
	return d
}

// row writes one row into every step-th value from first on, and marks in off where the
// plate does not reach.
func (d *drawn) row(y int, row []uint16, off []bool, first, step int) {
	for x, code := range d.plane.Row(y) {
		row[x*step+first] = d.values[code]
		if px, py := d.place.Apply(float64(x), float64(y)); !(px >= -0.5 && py >= -0.5 && px <= float64(d.w)-0.5 && py <= float64(d.h)-0.5) {
			off[x] = true
		}
	}
}

// stripe is the width of the stripes of hatch along a row, in pixels, and bright what
// every second of them is written as, the others as 0: no picture looks like that.
const (
	stripe = 8
	bright = 32768
)

// hatch fills one row where off says so with stripes that run from the lower left to the
// upper right.
func hatch(y int, row []uint16, off []bool, samples int) {
	for x := range off {
		if !off[x] {
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
