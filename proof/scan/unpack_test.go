package scan

import (
	"encoding/binary"
	"math/rand/v2"
	"testing"
)

// Rows of any length are read code by code, and differences added up, as the plain way does;
// nothing beyond the row is written.
func TestWordsAndSumsOfAnyLength(t *testing.T) {
	rnd := rand.New(rand.NewPCG(16, 2))
	for n := range 40 {
		row := make([]byte, 2*n+rnd.IntN(9)) // a row of a tile may be longer than what is wanted of it
		for i := range row {
			row[i] = byte(rnd.IntN(256))
		}
		whole, added := make([]uint16, n+5), make([]uint16, n+5)
		words(whole[:n], row)
		sums(added[:n], row)
		sum := uint16(0)
		for i := range whole {
			var code, upTo uint16
			if i < n {
				code = binary.LittleEndian.Uint16(row[2*i:])
				sum += code
				upTo = sum
			}
			if whole[i] != code || added[i] != upTo {
				t.Fatalf("%d codes: at %d %d and %d, want %d and %d", n, i, whole[i], added[i], code, upTo)
			}
		}
	}
}
