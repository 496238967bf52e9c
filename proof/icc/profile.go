package icc

import (
	"encoding/binary"
	"math"
	"slices"
	"time"

	"threeply/proof/spectrum"
)

// The numbers of ICC.1:2001-04 (version 2.4): header 6.1, tag table 6.2.
const (
	headerSize = 128
	entrySize  = 12
	version    = 0x02400000
)

// d50 is the profile connection space's illuminant as the standard writes it.
var d50 = spectrum.XYZ{96.42, 100, 82.49}

// tag is one entry of the tag table. Tags may share their bytes.
type tag struct {
	names []string
	data  []byte
}

// The kinds of profile: class, device colours, connection space.
const (
	outputKind  = "prtrCMY Lab "
	displayKind = "mntrRGB XYZ "
)

// assemble puts header, tag table and data together, each tag on a multiple of
// four.
func assemble(kind string, made time.Time, tags []tag) []byte {
	count := 0
	for _, t := range tags {
		count += len(t.names)
	}
	head := make([]byte, headerSize+4, headerSize+4+entrySize*count)
	big := binary.BigEndian
	big.PutUint32(head[8:], version)
	copy(head[12:], kind)
	made = made.UTC()
	for i, v := range []int{made.Year(), int(made.Month()), made.Day(), made.Hour(), made.Minute(), made.Second()} {
		big.PutUint16(head[24+2*i:], uint16(v))
	}
	copy(head[36:], "acsp")
	big.PutUint32(head[64:], 1) // media-relative colorimetric
	copy(head[68:], xyz(d50))
	big.PutUint32(head[headerSize:], uint32(count))
	var body []byte
	start := headerSize + 4 + entrySize*count
	for _, t := range tags {
		for _, name := range t.names {
			head = append(head, name...)
			head = big.AppendUint32(head, uint32(start+len(body)))
			head = big.AppendUint32(head, uint32(len(t.data)))
		}
		body = append(body, t.data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	out := slices.Concat(head, body)
	big.PutUint32(out, uint32(len(out)))
	return out
}

// xyz is an XYZNumber, 1 for Y 100, in signed 15.16 fixed point.
func xyz(x spectrum.XYZ) []byte {
	var b []byte
	for _, v := range x {
		b = binary.BigEndian.AppendUint32(b, uint32(int32(math.Round(v/100*65536))))
	}
	return b
}

// xyzTag is an XYZType (6.5.26).
func xyzTag(x spectrum.XYZ) []byte { return append([]byte("XYZ \x00\x00\x00\x00"), xyz(x)...) }

// textTag is a textType (6.5.22), seven-bit ASCII.
func textTag(s string) []byte { return append(append([]byte("text\x00\x00\x00\x00"), ascii(s)...), 0) }

// descTag is a textDescriptionType (6.5.17) without the other two scripts.
func descTag(s string) []byte {
	b := []byte("desc\x00\x00\x00\x00")
	s = ascii(s)
	b = binary.BigEndian.AppendUint32(b, uint32(len(s)+1))
	b = append(append(b, s...), 0)
	return append(b, make([]byte, 4+4+2+1+67)...)
}

// ascii replaces what seven bits do not hold.
func ascii(s string) string {
	b := []byte{}
	for _, r := range s {
		if r < 32 || r > 126 {
			r = '?'
		}
		b = append(b, byte(r))
	}
	return string(b)
}

// lut is a lut16Type (6.5.9) of three inputs: curves, a grid of which the first
// input turns slowest, curves.
type lut struct {
	in    []uint16 // the same for all three inputs
	grid  int
	nodes []uint16
	out   []uint16 // the same for all outputs
	outs  int
}

func (l lut) bytes() []byte {
	big := binary.BigEndian
	b := append([]byte("mft2\x00\x00\x00\x00"), 3, byte(l.outs), byte(l.grid), 0)
	for i := range 9 { // the matrix, for XYZ alone: the identity
		one := uint32(0)
		if i%4 == 0 {
			one = 1 << 16
		}
		b = big.AppendUint32(b, one)
	}
	b = big.AppendUint16(b, uint16(len(l.in)))
	b = big.AppendUint16(b, uint16(len(l.out)))
	put := func(values []uint16) {
		for _, v := range values {
			b = big.AppendUint16(b, v)
		}
	}
	for range 3 {
		put(l.in)
	}
	put(l.nodes)
	for range l.outs {
		put(l.out)
	}
	return b
}

// curve tabulates f from 0..1 to 0..1 in n steps.
func curve(n int, f func(x float64) float64) []uint16 {
	c := make([]uint16, n)
	for i := range c {
		c[i] = sixteen(f(float64(i) / float64(n-1)))
	}
	return c
}

func sixteen(v float64) uint16 { return uint16(math.Round(min(max(v, 0), 1) * 65535)) }

// labCode is the 16-bit encoding of CIELAB in version 2 tables: L* 100 at
// 0xFF00, a* and b* 0 at 0x8000, 256 a unit.
func labCode(l spectrum.Lab) [3]uint16 {
	clip := func(v float64) uint16 { return uint16(math.Round(min(max(v, 0), 65535))) }
	return [3]uint16{clip(l[0] * 652.8), clip(256 * (l[1] + 128)), clip(256 * (l[2] + 128))}
}

// codeLab is the CIELAB of a place 0..1 on each axis of a table whose input is
// CIELAB in that encoding.
func codeLab(u [3]float64) spectrum.Lab {
	return spectrum.Lab{u[0] * 65535 / 652.8, u[1]*65535/256 - 128, u[2]*65535/256 - 128}
}
