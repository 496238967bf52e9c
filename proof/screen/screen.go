// Package screen draws tones as dots: stochastic screens of blue noise, the way around
// highlights that the wash takes, for a dot is as high as the coat or is not there.
//
// Areas are shares of the print that dots cover, 0 to 1.
package screen

import (
	"math"
	"math/rand/v2"
	"sync"

	"threeply/proof/pigment"
)

// Side is that of a threshold array, in dots.
const Side = 128

// Array ranks the places of a square that repeats without a seam: the place of rank k
// gets the k-th dot.
type Array [Side * Side]uint16

// At is the area from which on a dot stands at column x, row y of an endless screen, above
// 0 and below 1.
func (a *Array) At(x, y int) float64 {
	return (float64(a[(y&(Side-1))*Side+x&(Side-1)]) + 0.5) / (Side * Side)
}

// seeds differ, so that the dots of the three layers fall independently and no pattern
// forms between them.
var seeds = [3]uint64{1893, 1913, 1931}

// arrays are made once each, when they are asked for; a program that never asks is built
// without what makes them.
var (
	arrays [3]*Array
	once   [3]sync.Once
)

// Of is the array of a layer, the same every time.
func Of(p pigment.Printer) *Array {
	once[p].Do(func() { arrays[p] = voidAndCluster(seeds[p]) })
	return arrays[p]
}

// sigma is the width of the blur by which voids and clusters are told, in dots, and reach
// how far it is followed.
const (
	sigma = 1.5
	reach = 8
)

// field is a pattern of dots and its blur, by which the tightest cluster and the largest
// void are found. Each row remembers its own.
type field struct {
	dot     [Side * Side]bool
	blur    [Side * Side]float64
	cluster [Side]int // place of the dot with the most around it, -1 for none
	void    [Side]int // place without a dot with the least around it, -1 for none
	kernel  [2*reach + 1][2*reach + 1]float64
}

// voidAndCluster makes an array by R. Ulichney's void-and-cluster method (Proc. SPIE 1913,
// 1993, 332): a pattern without clumps is ranked downwards by taking the tightest
// cluster away, and upwards by filling the largest void. Its noise is blue (R. Ulichney,
// Digital Halftoning, 1987).
func voidAndCluster(seed uint64) *Array {
	f := &field{}
	for j := range f.kernel {
		for i := range f.kernel[j] {
			f.kernel[j][i] = math.Exp(-float64((i-reach)*(i-reach)+(j-reach)*(j-reach)) / (2 * sigma * sigma))
		}
	}
	rnd := rand.New(rand.NewPCG(seed, seed))
	count := 0
	for count < Side*Side/10 {
		if at := rnd.IntN(Side * Side); !f.dot[at] {
			f.set(at, true)
			count++
		}
	}
	for {
		at := f.tightest()
		f.set(at, false)
		to := f.largest()
		f.set(to, true)
		if to == at {
			break
		}
	}
	var out Array
	first := *f
	for rank := count - 1; rank >= 0; rank-- {
		at := f.tightest()
		f.set(at, false)
		out[at] = uint16(rank)
	}
	f = &first
	for rank := count; rank < Side*Side; rank++ {
		at := f.largest()
		f.set(at, true)
		out[at] = uint16(rank)
	}
	return &out
}

// set puts a dot or takes it away.
func (f *field) set(at int, dot bool) {
	f.dot[at] = dot
	sign := 1.0
	if !dot {
		sign = -1
	}
	x, y := at%Side, at/Side
	for j := range f.kernel {
		row := (y + j - reach + Side) & (Side - 1)
		for i, k := range f.kernel[j] {
			f.blur[row*Side+(x+i-reach+Side)&(Side-1)] += sign * k
		}
		f.look(row)
	}
}

// look finds the tightest cluster and the largest void of a row.
func (f *field) look(row int) {
	cluster, void := -1, -1
	for at := row * Side; at < (row+1)*Side; at++ {
		if f.dot[at] {
			if cluster < 0 || f.blur[at] > f.blur[cluster] {
				cluster = at
			}
		} else if void < 0 || f.blur[at] < f.blur[void] {
			void = at
		}
	}
	f.cluster[row], f.void[row] = cluster, void
}

func (f *field) tightest() int {
	best := -1
	for _, at := range f.cluster {
		if at >= 0 && f.dot[at] && (best < 0 || f.blur[at] > f.blur[best]) {
			best = at
		}
	}
	return best
}

func (f *field) largest() int {
	best := -1
	for _, at := range f.void {
		if at >= 0 && !f.dot[at] && (best < 0 || f.blur[at] < f.blur[best]) {
			best = at
		}
	}
	return best
}
