package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

const (
	mapSide  = 900 // longer side of the key's picture under the map, pixels at most
	spotSide = 96  // side of what is shown of a worst place, pixels of the key
	enlarged = 4   // pixels of the page for one of them
)

// mapOf draws what was measured over the key.
func mapOf(s *session.State, key *plane.Plane, v *verdict.Scan) (Map, error) {
	w, h := s.Frame()
	m := Map{W: w, H: h, Hatch: float64(max(w, h)) / 800}
	small := key
	for max(small.W, small.H) > mapSide {
		small = small.Half()
	}
	img := image.NewGray(image.Rect(0, 0, small.W, small.H))
	light := lightness(small.Pix, s.Sources[s.KeySource()].Film.Negative)
	for i, c := range small.Pix {
		img.Pix[i] = 96 + uint8(159*light(float64(c))) // pale, so that figures can be read on it
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return m, err
	}
	m.PNG = out.Bytes()
	if v.Across == 0 {
		return m, nil
	}
	cw, ch := float64(v.Area[2]-v.Area[0])/float64(v.Across), float64(v.Area[3]-v.Area[1])/float64(v.Down)
	for i, c := range v.Cells {
		x, y := float64(v.Area[0])+cw*float64(i%v.Across), float64(v.Area[1])+ch*float64(i/v.Across)
		cell := MapCell{X: x, Y: y, W: cw, H: ch, CX: x + cw/2, CY: y + ch*0.62, Says: fmt.Sprintf("%.1f", c.Off), Empty: !c.Measured, Moved: c.Moved, Size: min(cw, ch) * 0.34}
		if cell.Empty {
			cell.Says = "–"
		}
		m.Cells = append(m.Cells, cell)
	}
	return m, nil
}

// spotOf draws one of the worst places: the first plate of the pair in red, the second in
// the opposite colour, so that what lies together is grey and what does not has a fringe.
func spotOf(s *session.State, planes [3]*plane.Plane, v *verdict.Scan, at verdict.Place) (Spot, error) {
	first, second := sampled(s, planes, at.First, at.X, at.Y), sampled(s, planes, at.Second, at.X, at.Y)
	const side = spotSide * enlarged
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			i := y/enlarged*spotSide + x/enlarged
			img.SetRGBA(x, y, color.RGBA{first[i], second[i], second[i], 255})
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return Spot{}, err
	}
	return Spot{out.Bytes(), side, fmt.Sprintf("%s and %s plate, %s apart, about the key's pixel %.0f, %.0f", at.First, at.Second, v.Length(at.Off), at.X, at.Y)}, nil
}

// sampled is what a plate shows about a pixel of the key, as bytes of lightness.
func sampled(s *session.State, planes [3]*plane.Plane, f filter.Filter, cx, cy float64) []uint8 {
	i := s.Assign[f]
	path := place.Plate(s, i)
	codes := make([]uint16, spotSide*spotSide)
	for y := range spotSide {
		for x := range spotSide {
			u, v := path.Apply(cx+float64(x)-spotSide/2, cy+float64(y)-spotSide/2)
			codes[y*spotSide+x] = uint16(planes[i].Bilinear(u, v))
		}
	}
	light := lightness(codes, s.Sources[i].Film.Negative)
	out := make([]uint8, len(codes))
	for k, c := range codes {
		out[k] = uint8(255 * light(float64(c)))
	}
	return out
}

// lightness turns codes into 0..1 from the scene's darkest to its lightest, one in fifty
// of these beyond either end.
func lightness(codes []uint16, negative bool) func(code float64) float64 {
	sorted := make([]uint16, 0, 4097)
	for i := 0; i < len(codes); i += max(len(codes)/4096, 1) {
		sorted = append(sorted, codes[i])
	}
	slices.Sort(sorted)
	lo, hi := float64(sorted[len(sorted)/50]), float64(sorted[len(sorted)-1-len(sorted)/50])
	return func(code float64) float64 {
		v := min(max((code-lo)/math.Max(hi-lo, 1), 0), 1)
		if negative {
			return v
		}
		return 1 - v
	}
}
