package scan

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf16"
)

// Layout of a profile: ICC.1:2010 (ISO 15076-1), clauses 7.2 (header), 7.3
// (tag table), 10.5 (curveType), 10.13 (multiLocalizedUnicodeType), 10.15
// (parametricCurveType), 10.31 (XYZType); annex F for grey and matrix/TRC
// models.
const (
	iccHeader     = 128
	iccSpaceAt    = 16
	iccPCSAt      = 20
	iccSignature  = 36
	iccTagEntry   = 12
	maxICCBytes   = 16 << 20
	maxCurveTable = 65536
)

// iccProfile is the bytes of a profile with its tag table.
type iccProfile struct {
	data []byte
	tags map[string][]byte
}

// parseICC reads a profile's look-up table where it has one (A2B1, A2B0), else the tone
// curves of a grey profile (kTRC) or those and the matrix of an RGB profile (rTRC, gTRC,
// bTRC, rXYZ, gXYZ, bXYZ).
func parseICC(data []byte, channels int) (*encoding, error) {
	p, err := openICC(data)
	if err != nil {
		return nil, err
	}
	space, want := string(data[iccSpaceAt:iccSpaceAt+4]), "RGB "
	if channels == 1 {
		want = "GRAY"
	}
	if space != want {
		return nil, fmt.Errorf("it is for %s, the file is %s", colourSpace(space), colourSpace(want))
	}
	e := &encoding{words: p.words(), weights: rec709, toXYZ: rec709ToXYZ}
	if tag := p.lookupTag(); tag != "" {
		l, err := p.lookup(tag, channels)
		if err != nil {
			return nil, err
		}
		// What a channel alone says is read along the greys.
		e.linear = []func(float64) float64{func(x float64) float64 { return l.xyz([3]float64{x, x, x})[1] }}
		if channels == 3 {
			e.lookup = l
		}
		return e, nil
	}
	if channels == 1 {
		trc, err := p.curve("kTRC")
		if err != nil {
			return nil, err
		}
		if string(data[iccPCSAt:iccPCSAt+4]) == "Lab " {
			lightness := trc
			trc = func(x float64) float64 { return luminanceOfL(100 * lightness(x)) }
		}
		e.linear = []func(float64) float64{trc}
		return e, nil
	}
	for _, tag := range []string{"rTRC", "gTRC", "bTRC"} {
		trc, err := p.curve(tag)
		if err != nil {
			return nil, err
		}
		e.linear = append(e.linear, trc)
	}
	if string(p.tags["rTRC"]) == string(p.tags["gTRC"]) && string(p.tags["rTRC"]) == string(p.tags["bTRC"]) {
		e.linear = e.linear[:1]
	}
	var y [3]float64
	var m [9]float64
	for i, tag := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		xyz := p.tags[tag]
		if len(xyz) < 20 || string(xyz[:4]) != "XYZ " {
			return nil, fmt.Errorf("it has no %s tag, so it is not of the matrix kind", tag)
		}
		y[i] = max(s15Fixed16(xyz[12:]), 0)
		for row := range 3 {
			m[3*row+i] = s15Fixed16(xyz[8+4*row:])
		}
	}
	if sum := y[0] + y[1] + y[2]; sum > 0 {
		e.weights = [3]float64{y[0] / sum, y[1] / sum, y[2] / sum}
		e.toXYZ = m
	}
	return e, nil
}

func colourSpace(signature string) string {
	switch signature {
	case "GRAY":
		return "grey"
	case "RGB ":
		return "RGB"
	case "CMYK":
		return "CMYK"
	}
	return "another colour space"
}

func openICC(data []byte) (*iccProfile, error) {
	if len(data) < iccHeader+4 || string(data[iccSignature:iccSignature+4]) != "acsp" {
		return nil, errors.New("it is damaged")
	}
	p := &iccProfile{data: data, tags: map[string][]byte{}}
	table := data[iccHeader+4:]
	n := int(min(binary.BigEndian.Uint32(data[iccHeader:]), uint32(len(table)/iccTagEntry)))
	for i := range n {
		e := table[i*iccTagEntry:]
		at, size := uint64(binary.BigEndian.Uint32(e[4:])), uint64(binary.BigEndian.Uint32(e[8:]))
		if at+size <= uint64(len(data)) {
			p.tags[string(e[:4])] = data[at : at+size]
		}
	}
	return p, nil
}

func s15Fixed16(b []byte) float64 {
	return float64(int32(binary.BigEndian.Uint32(b))) / 65536
}

// curve reads a curveType or parametricCurveType tag.
func (p *iccProfile) curve(tag string) (func(float64) float64, error) {
	b := p.tags[tag]
	if len(b) < 12 {
		return nil, fmt.Errorf("it has no %s curve", tag)
	}
	f, _, err := curveAt(b)
	if err != nil {
		return nil, fmt.Errorf("its %s curve is %w", tag, err)
	}
	return f, nil
}

var (
	errDamagedCurve = errors.New("damaged")
	errOtherCurve   = errors.New("of a kind that is not read")
)

// curveAt reads the curve that b, of 12 bytes or more, begins with, and says how many
// bytes it takes.
func curveAt(b []byte) (f func(float64) float64, length int, err error) {
	switch string(b[:4]) {
	case "curv":
		return tableCurve(b)
	case "para":
		return parametricCurve(b)
	}
	return nil, 0, errOtherCurve
}

func tableCurve(b []byte) (f func(float64) float64, length int, err error) {
	n := int(min(binary.BigEndian.Uint32(b[8:]), math.MaxInt32))
	b = b[12:]
	if n > maxCurveTable || len(b) < 2*n {
		return nil, 0, errDamagedCurve
	}
	length = 12 + 2*n
	switch n {
	case 0:
		return identity, length, nil
	case 1:
		return power(float64(binary.BigEndian.Uint16(b)) / 256), length, nil
	}
	return func(x float64) float64 {
		at := min(max(x, 0), 1) * float64(n-1)
		i := min(int(at), n-2)
		lo, hi := float64(binary.BigEndian.Uint16(b[2*i:])), float64(binary.BigEndian.Uint16(b[2*i+2:]))
		return (lo + (hi-lo)*(at-float64(i))) / 65535
	}, length, nil
}

func parametricCurve(b []byte) (f func(float64) float64, length int, err error) {
	counts := []int{1, 3, 4, 5, 7}
	kind := int(binary.BigEndian.Uint16(b[8:]))
	if kind >= len(counts) || len(b) < 12+4*counts[kind] {
		return nil, 0, errDamagedCurve
	}
	length = 12 + 4*counts[kind]
	var v [7]float64
	for i := range counts[kind] {
		v[i] = s15Fixed16(b[12+4*i:])
	}
	g, a, bb, c, d, e, add := v[0], v[1], v[2], v[3], v[4], v[5], v[6]
	switch kind {
	case 0: // Y = X^g
		return power(g), length, nil
	case 1: // Y = (aX+b)^g above -b/a, else 0
		c, d, e, add = 0, -bb/a, 0, 0
	case 2: // Y = (aX+b)^g + c above -b/a, else c
		c, d, e, add = 0, -bb/a, c, c
	case 3: // Y = (aX+b)^g from d, else cX
		e, add = 0, 0
	}
	return func(x float64) float64 { // kind 4: Y = (aX+b)^g + e from d, else cX + f, here add
		if x >= d {
			return math.Pow(a*x+bb, g) + e
		}
		return c*x + add
	}, length, nil
}

// luminanceOfL is the luminance 0 … 1 of CIE lightness L* 0 … 100; CIE 15:2018.
func luminanceOfL(l float64) float64 {
	if l <= 8 {
		return l * 27 / 24389
	}
	t := (l + 16) / 116
	return t * t * t
}

// words names the profile by its description tag.
func (p *iccProfile) words() string {
	name := ""
	switch b := p.tags["desc"]; {
	case len(b) >= 12 && string(b[:4]) == "desc":
		n := min(int(binary.BigEndian.Uint32(b[8:])&0xffff), len(b)-12)
		name = string(b[12 : 12+n])
	case len(b) >= 28 && string(b[:4]) == "mluc":
		n, at := uint64(binary.BigEndian.Uint32(b[20:])), uint64(binary.BigEndian.Uint32(b[24:]))
		if at+n <= uint64(len(b)) {
			var u []uint16
			for s := b[at : at+n]; len(s) >= 2; s = s[2:] {
				u = append(u, binary.BigEndian.Uint16(s))
			}
			name = string(utf16.Decode(u))
		}
	}
	name = strings.TrimSpace(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, name))
	if r := []rune(name); len(r) > 60 {
		name = string(r[:60]) + "…"
	}
	if name == "" {
		return "ICC profile"
	}
	return "ICC profile “" + name + "”"
}
