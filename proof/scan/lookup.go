package scan

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"threeply/proof/spectrum"
)

// lookup is the model of a profile that looks colours up in a grid (ICC.1:2010, 10.8
// lut16Type, 10.9 lut8Type, 10.10 lutAToBType), from device values 0 … 1 to the
// connection space. Steps that a kind lacks are left out:
//
//	first curves → grid → middle curves → matrix → last curves
type lookup struct {
	channels int // of the device: 1 or 3
	first    []func(float64) float64
	points   []int     // of the grid, for each channel
	grid     []float32 // three values a node, the last channel varies fastest
	middle   []func(float64) float64
	matrix   []float64 // 3 × 3, row by row, then what is added
	last     []func(float64) float64
	// toXYZ takes the three values, 0 … 1, to XYZ with Y 1 for white under D50.
	toXYZ func(v [3]float64) [3]float64
}

var errLookup = errors.New("its look-up table is damaged")

// lookupTag is the tag that takes device values to the connection space, by relative
// colorimetry where the profile has it; "" where it has no look-up table.
func (p *iccProfile) lookupTag() string {
	for _, tag := range []string{"A2B1", "A2B0"} {
		if len(p.tags[tag]) > 0 {
			return tag
		}
	}
	return ""
}

func (p *iccProfile) lookup(tag string, channels int) (*lookup, error) {
	b := p.tags[tag]
	if len(b) < 32 {
		return nil, errLookup
	}
	if int(b[8]) != channels || b[9] != 3 {
		return nil, fmt.Errorf("its look-up table is from %d to %d channels", b[8], b[9])
	}
	l := &lookup{channels: channels}
	var err error
	kind := string(b[:4])
	switch kind {
	case "mft1", "mft2":
		err = l.readTables(b, kind == "mft2")
	case "mAB ":
		err = l.readSteps(b)
	default:
		err = errors.New("its look-up table is of a kind that is not read")
	}
	if err != nil {
		return nil, err
	}
	switch lab := string(p.data[iccPCSAt:iccPCSAt+4]) == "Lab "; {
	case !lab: // u1Fixed15, 6.3.4.2
		l.toXYZ = func(v [3]float64) [3]float64 {
			const largest = 1 + 32767./32768
			return [3]float64{v[0] * largest, v[1] * largest, v[2] * largest}
		}
	case kind == "mft2": // 10.8: L* 100 is code FF00, a* and b* 0 are 8000, as of old
		l.toXYZ = labToXYZ(65535./65280, 65535./256, 128)
	default: // 6.3.4.2
		l.toXYZ = labToXYZ(1, 255, 128)
	}
	return l, nil
}

func labToXYZ(lightness, colour, zero float64) func(v [3]float64) [3]float64 {
	return func(v [3]float64) [3]float64 {
		return spectrum.Lab{100 * lightness * v[0], colour*v[1] - zero, colour*v[2] - zero}.XYZ(whiteD50)
	}
}

// xyz looks a colour up; of a grey profile the first value counts.
func (l *lookup) xyz(device [3]float64) [3]float64 {
	for i, f := range l.first {
		device[i] = within(f(device[i]))
	}
	v := device
	if l.grid != nil {
		v = l.between(device)
	}
	for i, f := range l.middle {
		v[i] = within(f(v[i]))
	}
	if m := l.matrix; m != nil {
		var w [3]float64
		for i := range w {
			w[i] = within(m[3*i]*v[0] + m[3*i+1]*v[1] + m[3*i+2]*v[2] + m[9+i])
		}
		v = w
	}
	for i, f := range l.last {
		v[i] = within(f(v[i]))
	}
	return l.toXYZ(v)
}

// within holds v to 0 … 1; what is no number becomes 0.
func within(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	return min(v, 1)
}

// between interpolates in the grid: along the line of a grey profile, within the
// tetrahedron whose corners the colour lies between in that of three channels.
func (l *lookup) between(device [3]float64) [3]float64 {
	var order [3]int // channels, the one that lies furthest on first
	var part [3]float64
	var step [3]int
	at, stride := 0, 3
	for i := l.channels - 1; i >= 0; i-- {
		n := l.points[i]
		place := device[i] * float64(n-1)
		low := min(int(place), max(n-2, 0))
		part[i], step[i] = place-float64(low), stride
		if n == 1 {
			step[i] = 0
		}
		at += low * stride
		stride *= n
	}
	for i := range l.channels {
		j := i
		for ; j > 0 && part[order[j-1]] < part[i]; j-- {
			order[j] = order[j-1]
		}
		order[j] = i
	}
	node := l.grid[at : at+3]
	v := [3]float64{float64(node[0]), float64(node[1]), float64(node[2])}
	for _, i := range order[:l.channels] {
		next := l.grid[at+step[i] : at+step[i]+3]
		for c := range v {
			v[c] += part[i] * float64(next[c]-node[c])
		}
		at, node = at+step[i], next
	}
	return v
}

// readTables reads a lut8Type or lut16Type. Its matrix is for XYZ on the device's side only.
func (l *lookup) readTables(b []byte, words bool) error {
	first, last, at, unit := 256, 256, 48, 1
	if words {
		if len(b) < 52 {
			return errLookup
		}
		first, last, at, unit = int(binary.BigEndian.Uint16(b[48:])), int(binary.BigEndian.Uint16(b[50:])), 52, 2
	}
	n := int(b[10])
	nodes := n
	for range l.channels - 1 {
		nodes *= n
	}
	if first < 2 || last < 2 || n < 2 || len(b) < at+unit*(l.channels*first+3*nodes+3*last) {
		return errLookup
	}
	take := func(n int) []float32 {
		v := fractions(b[at:], n, unit)
		at += n * unit
		return v
	}
	for range l.channels {
		l.first = append(l.first, lineThrough(take(first)))
		l.points = append(l.points, n)
	}
	l.grid = take(3 * nodes)
	for range 3 {
		l.last = append(l.last, lineThrough(take(last)))
	}
	return nil
}

// readSteps reads a lutAToBType.
func (l *lookup) readSteps(b []byte) (err error) {
	offset := func(i int) int {
		return int(min(binary.BigEndian.Uint32(b[12+4*i:]), math.MaxInt32))
	}
	curves := func(at, n int) (out []func(float64) float64, err error) {
		for i := 0; at > 0 && i < n; i++ {
			if at > len(b)-12 {
				return nil, errLookup
			}
			f, length, err := curveAt(b[at:])
			if err != nil {
				return nil, err
			}
			out = append(out, f)
			at += (length + 3) / 4 * 4
		}
		return out, nil
	}
	if l.last, err = curves(offset(0), 3); err != nil {
		return err
	}
	if at := offset(1); at > 0 {
		if at > len(b)-48 {
			return errLookup
		}
		for i := range 12 {
			l.matrix = append(l.matrix, s15Fixed16(b[at+4*i:]))
		}
	}
	if l.middle, err = curves(offset(2), 3); err != nil {
		return err
	}
	if l.first, err = curves(offset(4), l.channels); err != nil {
		return err
	}
	at := offset(3)
	if at == 0 {
		if l.channels != 3 {
			return errLookup
		}
		return nil
	}
	if at > len(b)-20 {
		return errLookup
	}
	nodes, unit := 1, int(b[at+16])
	for i := range l.channels {
		l.points = append(l.points, int(b[at+i]))
		nodes *= int(b[at+i])
	}
	if unit != 1 && unit != 2 || nodes == 0 || at+20+3*nodes*unit > len(b) {
		return errLookup
	}
	l.grid = fractions(b[at+20:], 3*nodes, unit)
	return nil
}

// fractions are n whole numbers of one or two bytes as 0 … 1.
func fractions(b []byte, n, unit int) []float32 {
	out := make([]float32, n)
	for i := range out {
		if unit == 2 {
			out[i] = float32(binary.BigEndian.Uint16(b[2*i:])) / 65535
		} else {
			out[i] = float32(b[i]) / 255
		}
	}
	return out
}

// lineThrough runs straight from value to value, from 0 to 1.
func lineThrough(values []float32) func(float64) float64 {
	return func(x float64) float64 {
		at := min(max(x, 0), 1) * float64(len(values)-1)
		i := min(int(at), len(values)-2)
		return float64(values[i]) + float64(values[i+1]-values[i])*(at-float64(i))
	}
}
