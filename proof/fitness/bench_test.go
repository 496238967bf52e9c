package fitness

import (
	"testing"

	"threeply/proof/plane"
)

// BenchmarkStreaks looks for streaks in 24 megapixels.
func BenchmarkStreaks(b *testing.B) {
	p := plane.New(6000, 4000)
	for i := range p.Pix {
		p.Pix[i] = uint16(i*2654435761>>16) / 16
	}
	for b.Loop() {
		StreaksOf(p, [4]int{0, 0, p.W, p.H})
	}
}

// BenchmarkCodes counts the codes of 24 megapixels.
func BenchmarkCodes(b *testing.B) {
	p := plane.New(6000, 4000)
	for i := range p.Pix {
		p.Pix[i] = uint16(i * 2654435761 >> 16)
	}
	for b.Loop() {
		CodesOf(p, [4]int{0, 0, p.W, p.H})
	}
}
