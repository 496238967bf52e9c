package scan

import "math"

// middlePart is the share of the width and of the height that Middle looks at:
// the edges of a sheet are shaded, curled or missing.
const middlePart = 0.5

// Middle returns the colour of an even sheet that was scanned, such as a paper:
// the median of each channel in the middle of the picture, made linear and taken
// by ToXYZ, or the profile, to XYZ under D50, the scanner's white at Y 100. The median leaves
// specks and fibres out.
func (s *Scan) Middle() [3]float64 {
	var linear, device [3]float64
	for i, p := range s.Planes {
		x0, x1 := middleOf(s.W)
		y0, y1 := middleOf(s.H)
		counts := make([]int, 65536)
		for y := y0; y < y1; y++ {
			for _, code := range p.Pix[y*s.W+x0 : y*s.W+x1] {
				counts[code]++
			}
		}
		left := ((y1-y0)*(x1-x0) + 1) / 2
		code := 0
		for left -= counts[0]; left > 0; left -= counts[code] {
			code++
		}
		device[i], linear[i] = float64(code)/65535, float64(s.Curves[i][code])
	}
	if s.lookup != nil {
		xyz := s.lookup.xyz(device)
		return [3]float64{100 * xyz[0], 100 * xyz[1], 100 * xyz[2]}
	}
	var xyz [3]float64
	for i := range xyz {
		m := s.ToXYZ[3*i:]
		xyz[i] = 100 * (m[0]*linear[0] + m[1]*linear[1] + m[2]*linear[2])
	}
	return xyz
}

// middleOf returns the first pixel of the middle of n and the one after its last.
func middleOf(n int) (first, end int) {
	size := max(1, int(math.Round(middlePart*float64(n))))
	first = (n - size) / 2
	return first, first + size
}
