package flatbed

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"threeply/proof/cgats"
	"threeply/proof/linear"
	"threeply/proof/scan"
	"threeply/proof/spectrum"
)

// Target is a colour target: its reference values, and where it lies on the scan.
type Target struct {
	Rows, Cols int
	Patches    []Reference // by row, then by column

	// Corners are the middles of A1, of the last patch of row A, and of the last of all, in
	// pixels of the scan.
	Corners [3][2]float64
}

// Reference is one patch of a target.
type Reference struct {
	ID       string
	R        spectrum.Curve // reflectance: as given, or the smoothest of the colour that was given
	Row, Col int
}

// LeastTarget is the least number of patches that tells a scanner.
const LeastTarget = 18

// ReadTarget reads the reference values of a target as CGATS text, spectra or colours. Patches
// are named by a letter for the row and a number for the column. An error begins with the line
// where there is one, and says the reason and what to do.
func ReadTarget(text []byte) (*Target, error) {
	tables, err := cgats.Read(text)
	if err != nil {
		return nil, err
	}
	out := &Target{}
	seen := map[string]bool{}
	for _, t := range tables {
		light, ok := spectrum.LightByID("D50")
		if t.Illuminant != "" {
			if light, ok = spectrum.LightByID(t.Illuminant); !ok {
				return nil, fmt.Errorf("line %d: reference colours under %s cannot be used; take those under D50, or spectra", t.List[0].Line, t.Illuminant)
			}
		}
		for _, one := range t.List {
			r := Reference{}
			for _, name := range one.Names {
				if row, col, ok := gridPlace(name); ok {
					r.ID, r.Row, r.Col = name, row, col
				}
			}
			switch {
			case r.ID == "":
				return nil, fmt.Errorf("line %d: “%.20s” is no place of a target; name its patches by a letter for the row and a number for the column, such as A1", one.Line, one.Names[0])
			case seen[r.ID]:
				return nil, fmt.Errorf("line %d: patch %s stands twice; leave one out", one.Line, r.ID)
			case one.Spectrum != nil:
				r.R = spectrum.Sample(func(nm float64) float64 { return between(t.Wavelengths, one.Spectrum, nm) })
			case one.Lab != nil:
				r.R, ok = smoothest(spectrum.Lab(*one.Lab).XYZ(light.White), light)
			case one.XYZ != nil:
				r.R, ok = smoothest(spectrum.XYZ(*one.XYZ), light)
			default:
				return nil, fmt.Errorf("line %d: patch %s has densities; give the target's spectra, Lab or XYZ", one.Line, r.ID)
			}
			if !ok {
				return nil, fmt.Errorf("line %d: no surface has the colour of patch %s; is it another light, or a wrong number?", one.Line, r.ID)
			}
			seen[r.ID] = true
			out.Patches = append(out.Patches, r)
			out.Rows, out.Cols = max(out.Rows, r.Row+1), max(out.Cols, r.Col+1)
		}
	}
	if len(out.Patches) < LeastTarget {
		return nil, fmt.Errorf("the target has %d patches; it takes %d or more, greys and colours", len(out.Patches), LeastTarget)
	}
	if n := len(out.Patches); n != out.Rows*out.Cols {
		return nil, fmt.Errorf("the target has %d patches on a grid of %d × %d; give the reference values of all of them", n, out.Rows, out.Cols)
	}
	slices.SortFunc(out.Patches, func(a, b Reference) int { return (a.Row-b.Row)*out.Cols + a.Col - b.Col })
	return out, nil
}

// gridPlace is the row and column of a name such as C4, from 0.
func gridPlace(name string) (row, col int, ok bool) {
	if len(name) < 2 || len(name) > 3 {
		return 0, 0, false
	}
	letter := name[0] &^ 0x20
	n, err := strconv.Atoi(name[1:])
	if letter < 'A' || letter > 'Z' || err != nil || n < 1 || n > 40 {
		return 0, 0, false
	}
	return int(letter - 'A'), n - 1, true
}

// between is a spectrum on the straight line between its wavelengths, and as at its ends beyond.
func between(nm, r []float64, at float64) float64 {
	i, _ := slices.BinarySearch(nm, at)
	switch {
	case i == 0:
		return max(r[0], 0)
	case i == len(nm):
		return max(r[i-1], 0)
	}
	u := (at - nm[i-1]) / (nm[i] - nm[i-1])
	return max((1-u)*r[i-1]+u*r[i], 0)
}

// smoothest is the reflectance of a colour under a light whose logarithm of R/(1-R) has the
// least sum of squared steps, by Newton's method with a multiplier for each of X, Y, Z. ok is
// false where no reflectance from 0 to 1 has the colour.
func smoothest(want spectrum.XYZ, light spectrum.Light) (r spectrum.Curve, ok bool) {
	if !(want[1] > 0 && want[1] < 100) {
		return r, false
	}
	const n = spectrum.N
	weights := light.Weights()
	var z [n]float64
	start := math.Log(want[1] / (100 - want[1]))
	for i := range z {
		z[i] = start
	}
	for range 40 {
		var off [3]float64
		var slope [3][n]float64
		for i := range z {
			r[i] = 1 / (1 + math.Exp(-z[i]))
			for ch, w := range weights {
				off[ch] += w[i] * r[i]
				slope[ch][i] = w[i] * r[i] * (1 - r[i])
			}
		}
		far := 0.0
		for ch := range off {
			off[ch] -= want[ch]
			far = max(far, math.Abs(off[ch]))
		}
		if far < 1e-6 {
			return r, true
		}
		// The steps and the linearised conditions, with multipliers.
		const size = n + 3
		h, b := make([]float64, size*size), make([]float64, size)
		for i := range n {
			for _, j := range [2]int{i - 1, i + 1} {
				if j >= 0 && j < n {
					h[i*size+i]++
					h[i*size+j]--
					b[i] -= z[i] - z[j]
				}
			}
			h[i*size+i] += 1e-9
			for ch := range slope {
				h[i*size+n+ch], h[(n+ch)*size+i] = slope[ch][i], slope[ch][i]
			}
		}
		for ch := range off {
			b[n+ch] = -off[ch]
		}
		if !linear.Solve(h, b, 0) {
			return r, false
		}
		longest := 0.0
		for _, v := range b[:n] {
			longest = max(longest, math.Abs(v))
		}
		for i := range z {
			z[i] += b[i] * min(1, 1.5/longest)
			if math.Abs(z[i]) > 12 {
				return r, false
			}
		}
	}
	return r, false
}

// light is what each channel of the scan gives at each patch, linear by the scan's own curves.
func (t *Target) light(s *scan.Scan) ([][3]float64, error) {
	c := t.Corners
	step := func(a, b [2]float64, n int) [2]float64 {
		k := float64(max(n-1, 1))
		return [2]float64{(b[0] - a[0]) / k, (b[1] - a[1]) / k}
	}
	across, down := step(c[0], c[1], t.Cols), step(c[1], c[2], t.Rows)
	side := 0.4 * min(math.Hypot(across[0], across[1]), math.Hypot(down[0], down[1]))
	if side < 4 {
		return nil, fmt.Errorf("the patches of the target are %.0f pixels wide where it is said to lie; give the middles of its first patch, of the last one of its first row, and of its last, in pixels", side/0.4)
	}
	out := make([][3]float64, len(t.Patches))
	for i, p := range t.Patches {
		x := c[0][0] + across[0]*float64(p.Col) + down[0]*float64(p.Row)
		y := c[0][1] + across[1]*float64(p.Col) + down[1]*float64(p.Row)
		v, codes, ok := sample(s, x, y, side)
		if ok && cutOff(codes) {
			return nil, fmt.Errorf("patch %s of the target is cut off to black or white; scan again with all automatics off, and without a black or a white point", p.ID)
		}
		if !ok {
			return nil, fmt.Errorf("patch %s of the target would lie outside of the scan, at %.0f, %.0f; correct where the target lies", p.ID, x, y)
		}
		out[i] = v
	}
	return out, nil
}

// cutOff tells whether a code of a patch lies at an end of what the scan can hold.
func cutOff(codes [3]uint16) bool {
	return min(codes[0], codes[1], codes[2]) == 0 || max(codes[0], codes[1], codes[2]) >= blown
}

// sample is the median of each channel over a square about a place, linear by the scan's own
// curves, and as codes.
func sample(s *scan.Scan, x, y, side float64) (light [3]float64, codes [3]uint16, ok bool) {
	x0, y0, n := int(math.Round(x-side/2)), int(math.Round(y-side/2)), max(int(side), 1)
	if x0 < 0 || y0 < 0 || x0+n > s.W || y0+n > s.H {
		return light, codes, false
	}
	values := make([]uint16, 0, n*n)
	for ch := range light {
		values = values[:0]
		for row := range n {
			values = append(values, s.Planes[ch].Row(y0 + row)[x0:x0+n]...)
		}
		slices.Sort(values)
		codes[ch] = values[len(values)/2]
		light[ch] = float64(s.Curves[ch][codes[ch]])
	}
	return light, codes, true
}
