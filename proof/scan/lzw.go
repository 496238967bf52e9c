package scan

import (
	"encoding/binary"
	"errors"
	"io"
)

// LZW as TIFF has it (TIFF 6.0, section 13): codes of 9 to 12 bits, the highest bit first,
// which become longer one code sooner than elsewhere.
const (
	lzwClear     = 256 // the strings are forgotten
	lzwEnd       = 257
	lzwFirst     = 258 // the first code of a string
	lzwLeastBits = 9
	lzwMostBits  = 12
)

// lzwAtOnce is about how many bytes are unpacked before they are handed out, and
// lzwIn how many are read at once.
const (
	lzwAtOnce = 16 << 10
	lzwIn     = 16 << 10
	lzwWord   = 8 // bytes that are copied at once: so much room lies behind all that is unpacked
)

// oldLZW is a kind that has the lowest bit first. It begins with the code lzwClear too, of which
// it is known, as libtiff knows it (tif_lzw.c; from memory).
const oldLZW = "LZW compression of before TIFF 6.0"

var errLZW = errors.New("LZW: a code that stands for nothing")

// lzwReader unpacks LZW. A string is the one before it and the first byte of what follows, so
// it lies in what was unpacked: of a code it is known where, and how long. For that all is
// kept that was unpacked since the strings were last forgotten: mostly some ten kilobytes, at
// most 8 MB, where each of the 4096 strings is a byte longer than the one before.
type lzwReader struct {
	in    io.Reader
	fault error // what in ended with

	ahead  [lzwIn]byte
	packed []byte // of ahead, not looked at yet
	held   uint64 // bits of codes, the next one highest
	have   uint   // how many

	out       []byte // the 256 bytes that stand for themselves, and behind them what was unpacked
	at, given int    // up to where it is unpacked, and handed out
	kept      int    // up to where strings lie, once there are as many as there can be
	strings   [1 << lzwMostBits]lzwString
	next      int  // the code of the next string
	bits      uint // of a code
	last      lzwString
	begun     bool // the next string begins with the last one
	cleared   bool // the strings are to be forgotten, once what was unpacked is handed out
	err       error
}

// lzwString is where a string lies.
type lzwString struct{ from, length uint32 }

func newLZWReader(in io.Reader) *lzwReader {
	r := &lzwReader{out: make([]byte, lzwClear, lzwClear+2*lzwAtOnce)}
	for i := range r.out {
		r.out[i] = byte(i)
		r.strings[i] = lzwString{uint32(i), 1}
	}
	r.Reset(in)
	return r
}

// Reset begins to unpack something else.
func (r *lzwReader) Reset(in io.Reader) {
	r.in, r.fault, r.err = in, nil, nil
	r.packed, r.held, r.have = nil, 0, 0
	r.forget()
}

// forget forgets the strings, and what was unpacked.
func (r *lzwReader) forget() {
	r.at, r.given, r.kept = lzwClear, lzwClear, 0
	r.next, r.bits, r.begun, r.cleared = lzwFirst, lzwLeastBits, false, false
}

// Read hands out what is unpacked. Where the data end before the code that says so, the error
// is io.ErrUnexpectedEOF.
func (r *lzwReader) Read(p []byte) (int, error) {
	for r.given == r.at {
		if r.err != nil {
			return 0, r.err
		}
		if r.cleared {
			r.forget()
		}
		if r.kept > 0 { // no string lies in what follows
			r.at, r.given = r.kept, r.kept
		}
		r.err = r.unpack()
	}
	n := copy(p, r.out[r.given:r.at])
	r.given += n
	return n, nil
}

// unpack unpacks some codes, or what is left of them: an error then says why no more.
func (r *lzwReader) unpack() (err error) {
	end := r.at + lzwAtOnce
	if need := end + len(r.strings) + lzwWord; need > len(r.out) {
		r.out = append(r.out[:r.at], make([]byte, need-r.at)...)
	}
	out, packed, held, have := r.out, r.packed, r.held, r.have // in registers
	at, next, bits, last, begun := r.at, r.next, r.bits, r.last, r.begun
	for at < end {
		if have < lzwMostBits {
			if len(packed) < lzwWord {
				packed = r.more(packed)
			}
			if len(packed) >= lzwWord { // bits beyond those that count are the same next time
				held |= binary.BigEndian.Uint64(packed) >> have
				n := (63 - have) / 8
				packed, have = packed[n:], have+8*n
			} else {
				for ; have <= 56 && len(packed) > 0; packed, have = packed[1:], have+8 {
					held |= uint64(packed[0]) << (56 - have)
				}
				if have < bits {
					err = r.fault
					break
				}
			}
		}
		code := int(held >> (64 - bits&63))
		held, have = held<<(bits&63), have-bits
		if code == lzwClear {
			r.cleared = true
			break
		}
		if code == lzwEnd {
			err = io.EOF
			break
		}
		if code > next || code == next && !begun {
			err = errLZW
			break
		}
		if begun {
			r.strings[next&(len(r.strings)-1)] = lzwString{last.from, last.length + 1}
			next++
		}
		s := r.strings[code&(len(r.strings)-1)]
		if to := out[at:]; s.length <= lzwWord {
			binary.LittleEndian.PutUint64(to, binary.LittleEndian.Uint64(out[s.from:]))
		} else {
			copy(to[:s.length], out[s.from:])
		}
		n := int(s.length)
		if begun && code == next-1 { // the byte after the last string is the first of this one, which begins with the last
			out[at+n-1] = out[at]
		}
		last, begun = lzwString{uint32(at), s.length}, true
		at += n
		if next+1 >= 1<<bits {
			if bits < lzwMostBits {
				bits++
			} else if begun = false; r.kept == 0 {
				r.kept = at
			}
		}
	}
	r.packed, r.held, r.have = packed, held, have
	r.at, r.next, r.bits, r.last, r.begun = at, next, bits, last, begun
	return err
}

// more reads more behind what was not looked at yet.
func (r *lzwReader) more(packed []byte) []byte {
	n := copy(r.ahead[:], packed)
	for n < lzwWord && r.fault == nil {
		var got int
		got, r.fault = r.in.Read(r.ahead[n:])
		n += got
	}
	if r.fault == io.EOF {
		r.fault = io.ErrUnexpectedEOF
	}
	return r.ahead[:n]
}
