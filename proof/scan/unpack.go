package scan

import (
	"encoding/binary"
	"math"
)

// undo replaces the differences along a row by the values themselves.
func (t *tiffPicture) undo(row []byte) {
	k := t.pieceSamples()
	switch {
	case t.predictor == predictorFloat:
		for i := k; i < len(row); i++ {
			row[i] += row[i-k]
		}
	case t.predictor != predictorWhole:
	case t.bits == 8:
		for i := k; i < len(row); i++ {
			row[i] += row[i-k]
		}
	case t.sumsAsItUnpacks():
	case t.bits == 16 && t.order == binary.ByteOrder(binary.LittleEndian):
		for i := 2 * k; i+1 < len(row); i += 2 { // the order is written out: asked for, it takes half of the time
			binary.LittleEndian.PutUint16(row[i:], binary.LittleEndian.Uint16(row[i:])+binary.LittleEndian.Uint16(row[i-2*k:]))
		}
	case t.bits == 16:
		for i := 2 * k; i+1 < len(row); i += 2 {
			binary.BigEndian.PutUint16(row[i:], binary.BigEndian.Uint16(row[i:])+binary.BigEndian.Uint16(row[i-2*k:]))
		}
	case t.bits == 32:
		for i := 4 * k; i+3 < len(row); i += 4 {
			t.order.PutUint32(row[i:], t.order.Uint32(row[i:])+t.order.Uint32(row[i-4*k:]))
		}
	}
}

// sumsAsItUnpacks tells whether unpack undoes the differences of a row: those of the commonest
// kind, which is faster.
func (t *tiffPicture) sumsAsItUnpacks() bool {
	return t.predictor == predictorWhole && t.format != formatFloat && t.bits == 16 && t.pieceSamples() == 1 && t.order == binary.ByteOrder(binary.LittleEndian)
}

// unpack turns the bytes of a row into codes, 0 … 65535 from the least to the greatest
// value of the file's depth, rounded; floating-point numbers from 0 to white.
func (r *pieceReader) unpack(codes []uint16, row []byte) {
	switch {
	case r.format == formatFloat:
		r.unpackFloats(codes, row)
	case r.bits == 8:
		for i, v := range row[:len(codes)] {
			codes[i] = uint16(v) * 257
		}
	case r.sumsAsItUnpacks():
		sums(codes, row)
	case r.bits == 16 && r.order == binary.ByteOrder(binary.LittleEndian):
		words(codes, row)
	case r.bits == 16:
		row = row[:2*len(codes)]
		for i := range codes {
			codes[i] = uint16(row[2*i])<<8 | uint16(row[2*i+1])
		}
	case r.bits == 32:
		for i := range codes {
			codes[i] = uint16((uint64(r.order.Uint32(row[4*i:])) + 32768) / 65537)
		}
	default: // the bits of one value follow those of the one before, the highest first
		bits, largest := uint(r.bits), uint32(1)<<r.bits-1
		var held uint32
		var have uint
		at := 0
		for i := range codes {
			for have < bits {
				held = held<<8 | uint32(row[at])
				have += 8
				at++
			}
			have -= bits
			codes[i] = uint16((held>>have&largest*65535 + largest/2) / largest)
		}
	}
}

// words reads codes of 16 bits, the lower byte first, four at a time: their places are then checked
// once.
func words(codes []uint16, row []byte) {
	for len(codes) >= 4 && len(row) >= 8 {
		v, to := binary.LittleEndian.Uint64(row), (*[4]uint16)(codes)
		to[0], to[1], to[2], to[3] = uint16(v), uint16(v>>16), uint16(v>>32), uint16(v>>48)
		codes, row = codes[4:], row[8:]
	}
	for i := range codes {
		codes[i] = binary.LittleEndian.Uint16(row[2*i:])
	}
}

// sums reads differences of 16 bits as words does, and adds them up along the row.
func sums(codes []uint16, row []byte) {
	sum := uint16(0)
	for len(codes) >= 4 && len(row) >= 8 {
		v, to := binary.LittleEndian.Uint64(row), (*[4]uint16)(codes)
		a := sum + uint16(v)
		b := a + uint16(v>>16)
		c := b + uint16(v>>32)
		sum = c + uint16(v>>48)
		to[0], to[1], to[2], to[3] = a, b, c, sum
		codes, row = codes[4:], row[8:]
	}
	for i := range codes {
		sum += binary.LittleEndian.Uint16(row[2*i:])
		codes[i] = sum
	}
}

func (r *pieceReader) unpackFloats(codes []uint16, row []byte) {
	bytes := r.bits / 8
	for i := range codes {
		var v float64
		var wide uint64
		if r.predictor == predictorFloat { // all highest bytes of a row first, then all next ones
			for b := range bytes {
				wide = wide<<8 | uint64(row[b*len(codes)+i])
			}
		} else {
			for b := range bytes {
				at := i*bytes + b
				if r.order == binary.ByteOrder(binary.LittleEndian) {
					at = i*bytes + bytes - 1 - b
				}
				wide = wide<<8 | uint64(row[at])
			}
		}
		switch r.bits {
		case 16:
			v = half(uint16(wide))
		case 32:
			v = float64(math.Float32frombits(uint32(wide)))
		default:
			v = math.Float64frombits(wide)
		}
		v /= r.white
		switch {
		case v != v:
			r.notNumbers++
			codes[i] = 0
		case v > 1:
			r.beyond++
			codes[i] = 65535
		default:
			codes[i] = uint16(max(v, 0)*65535 + 0.5)
		}
	}
}

// half is a floating-point number of 16 bits, binary16 of IEEE 754-2008.
func half(b uint16) float64 {
	exponent, fraction := int(b>>10&31), float64(b&1023)
	var v float64
	switch exponent {
	case 0:
		v = math.Ldexp(fraction, -24)
	case 31:
		if fraction > 0 {
			return math.NaN()
		}
		v = math.Inf(1)
	default:
		v = math.Ldexp(1024+fraction, exponent-25)
	}
	if b>>15 == 1 {
		return -v
	}
	return v
}
