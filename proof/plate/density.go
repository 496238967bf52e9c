package plate

import (
	"math"
	"runtime"
	"sync"

	"threeply/proof/density"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// densityTable gives the density code of each of a scan's 65536 codes.
//
//	D = -log10(T),  T = curve(code)
//
// T = 0 gives density 4.
func densityTable(c scan.Curve) []uint16 {
	t := make([]uint16, len(c))
	for i, v := range c {
		t[i] = 65535
		if v > 0 {
			t[i] = density.Code(-math.Log10(float64(v)))
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
