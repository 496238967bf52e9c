package plate

import (
	"math"
	"runtime"
	"sync"

	"threeply/proof/plane"
	"threeply/proof/scan"
)

// MaxDensity is the density of the code 65535; see FromDensity.
const MaxDensity = 4.0

// FromDensity returns the code of density d, clamped to 0 … 4.
func FromDensity(d float64) uint16 {
	return uint16(math.Round(min(max(d, 0), MaxDensity) / MaxDensity * 65535))
}

// ToDensity returns the density of a code.
func ToDensity(code uint16) float64 { return float64(code) * (MaxDensity / 65535) }

// densityTable maps a scan's codes to density codes.
//
//	D = -log10(T),  T = curve(code)
//
// T = 0 gives density 4.
func densityTable(c scan.Curve) []uint16 {
	t := make([]uint16, len(c))
	for i, v := range c {
		t[i] = 65535
		if v > 0 {
			t[i] = FromDensity(-math.Log10(float64(v)))
		}
	}
	return t
}

// toDensity replaces the codes of p by density codes, in place, on all
// processors.
func toDensity(p *plane.Plane, c scan.Curve) {
	t := densityTable(c)
	parts := max(runtime.GOMAXPROCS(0), 1)
	size := (len(p.Pix) + parts - 1) / parts
	var done sync.WaitGroup
	for from := 0; from < len(p.Pix); from += size {
		part := p.Pix[from:min(from+size, len(p.Pix))]
		done.Go(func() {
			table := (*[65536]uint16)(t)
			for i, v := range part {
				part[i] = table[v]
			}
		})
	}
	done.Wait()
}
