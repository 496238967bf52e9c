package scan

import (
	"bytes"
	"io"
	"math/rand/v2"
	"testing"
	"testing/iotest"

	tifflzw "golang.org/x/image/tiff/lzw"
)

// codedLZW writes so many codes, each at random of those that can come next, as TIFF 6.0,
// section 13, has them. Of 1000 codes so many are the string that only just begins; clear says
// after how many codes the strings are forgotten.
func codedLZW(random *rand.Rand, codes, own, clear int) []byte {
	var out []byte
	held, have := uint(0), uint(0)
	next, bits := lzwFirst, uint(lzwLeastBits)
	put := func(code int) {
		for held, have = held<<bits|uint(code), have+bits; have >= 8; have -= 8 {
			out = append(out, byte(held>>(have-8)))
		}
	}
	put(lzwClear)
	since := 0
	for range codes {
		code := random.IntN(256)
		switch {
		case since > 0 && next < 4095 && random.IntN(1000) < own:
			code = next
		case next > lzwFirst && random.IntN(3) > 0:
			code = lzwFirst + random.IntN(next-lzwFirst)
		}
		put(code)
		if since++; since > 1 && next < 4095 {
			next++
		}
		if next+1 >= 1<<bits && bits < lzwMostBits {
			bits++
		}
		if since == clear {
			put(lzwClear)
			next, bits, since = lzwFirst, lzwLeastBits, 0
		}
	}
	put(lzwEnd)
	return append(out, byte(held<<(8-have)))
}

// What is unpacked is what golang.org/x/image/tiff/lzw makes of it: of strings of all lengths, of
// strings that begin with the one before, of as many as there can be, forgotten sooner or later; also
// where the data are cut, and where they come byte by byte.
func TestLZWAgainstLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(14, 6))
	r := newLZWReader(bytes.NewReader(nil))
	for _, kind := range []struct {
		what              string
		codes, own, clear int
	}{
		{"forgotten as the table is full", 20_000, 50, 3837},
		{"forgotten often", 20_000, 300, 7},
		{"forgotten at once", 500, 0, 1},
		{"never forgotten", 9_000, 10, 0},
		{"each string a byte longer than the one before", 3_000, 1000, 3837},
	} {
		coded := codedLZW(random, kind.codes, kind.own, kind.clear)
		for _, cut := range []int{len(coded), len(coded) - 3, len(coded) / 2, 1, 0} {
			want, wantErr := io.ReadAll(tifflzw.NewReader(bytes.NewReader(coded[:cut]), tifflzw.MSB, 8))
			r.Reset(bytes.NewReader(coded[:cut]))
			got, err := io.ReadAll(r)
			if !bytes.Equal(got, want) || err != wantErr {
				t.Errorf("%s, %d bytes of %d: %d bytes, %v; want %d, %v", kind.what, cut, len(coded), len(got), err, len(want), wantErr)
			}
		}
		r.Reset(iotest.OneByteReader(bytes.NewReader(coded)))
		slowly, err := io.ReadAll(iotest.OneByteReader(r))
		r.Reset(bytes.NewReader(coded))
		if whole, _ := io.ReadAll(r); err != nil || !bytes.Equal(slowly, whole) || len(whole) < kind.codes {
			t.Errorf("%s: %d bytes come byte by byte (%v), %d at once", kind.what, len(slowly), err, len(whole))
		}
	}
}

// A code of a string that there is not yet is an error, right after the strings were forgotten too.
func TestLZWRefuses(t *testing.T) {
	for what, coded := range map[string][]byte{
		"a string as the first code":             {0x80, 0x40, 0x80, 0, 0},       // 256, 258
		"a string that is not there for a while": {0x80, 0x10, 0x60, 0x60, 0, 0}, // 256, 65, 259
	} {
		if got, err := io.ReadAll(newLZWReader(bytes.NewReader(coded))); err != errLZW {
			t.Errorf("%s: %v, %v", what, got, err)
		}
	}
}

// LZW with the lowest bit first, as some programs wrote it before TIFF 6.0, is refused by name.
func TestOldLZW(t *testing.T) {
	f := tiffFile{w: 30, h: 8, bits: 8, samples: 1, pixels: noise(240, 256), rows: 4, tags: map[int]any{tagCompression: compressionLZW}}
	f.pixels[0], f.pixels[1] = 0, 1 // the code that forgets all, 256 in nine bits
	f.pixels[120], f.pixels[121] = 0, 1
	checkRefusal(t, "old.tif", f.bytes(), "it is a TIFF with LZW compression of before TIFF 6.0, which is not read", true)
}
