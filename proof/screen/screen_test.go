package screen

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"threeply/proof/pigment"
)

// Every rank stands once, so that a tint covers its area to half a dot of the square.
func TestTintsCoverTheirArea(t *testing.T) {
	for _, p := range pigment.Printers() {
		a := Of(p)
		seen := [Side * Side]bool{}
		for _, rank := range a {
			if seen[rank] {
				t.Fatalf("%s: the rank %d stands twice", p, rank)
			}
			seen[rank] = true
		}
		for area := 0.0; area <= 1; area += 0.05 {
			n := 0
			for y := range Side {
				for x := range Side {
					if a.At(x+3*Side, y) < area {
						n++
					}
				}
			}
			if got := float64(n) / (Side * Side); math.Abs(got-area) > 1.0/(Side*Side) {
				t.Errorf("%s: a tint of %.2f covers %.5f", p, area, got)
			}
		}
	}
}

// spectrum is the radially averaged power of a tint's pattern, by whole periods a square,
// relative to its variance.
func spectrumOf(a *Array, area float64) []float64 {
	var grid [Side][Side]complex128
	for y := range Side {
		for x := range Side {
			if a.At(x, y) < area {
				grid[y][x] = complex(1-area, 0)
			} else {
				grid[y][x] = complex(-area, 0)
			}
		}
	}
	fft := fourier.NewCmplxFFT(Side)
	for y := range Side {
		copy(grid[y][:], fft.Coefficients(nil, grid[y][:]))
	}
	var column [Side]complex128
	power, count := make([]float64, Side/2), make([]float64, Side/2)
	for x := range Side {
		for y := range Side {
			column[y] = grid[y][x]
		}
		for y, c := range fft.Coefficients(nil, column[:]) {
			fx, fy := float64((x+Side/2)%Side-Side/2), float64((y+Side/2)%Side-Side/2)
			r := int(math.Round(math.Hypot(fx, fy)))
			if r > 0 && r < Side/2 {
				power[r] += real(c)*real(c) + imag(c)*imag(c)
				count[r]++
			}
		}
	}
	for r := range power {
		power[r] /= max(count[r], 1) * area * (1 - area) * Side * Side
	}
	return power
}

// Blue noise: next to nothing below the principal frequency, which is the root of the
// tint (of what is left of it above a half), in dots, and a peak near it (R. Ulichney,
// Digital Halftoning, 1987, section 8.1, by whose measure white noise has the power 1
// everywhere).
func TestNoiseIsBlue(t *testing.T) {
	for _, p := range pigment.Printers() {
		for _, area := range []float64{0.05, 0.125, 0.25, 0.5, 0.8} {
			power := spectrumOf(Of(p), area)
			principal := min(math.Sqrt(min(area, 1-area)), 0.5) * Side // the square holds no finer than two dots
			low, n, peak := 0.0, 0.0, 0.0
			for r := 1; r < len(power); r++ {
				if float64(r) < principal/2 {
					low += power[r]
					n++
				}
				if f := float64(r); f > 0.7*principal && f < 1.4*principal {
					peak = max(peak, power[r])
				}
			}
			t.Logf("%s %.3f: %.3f below half of the principal frequency, %.2f at its peak", p, area, low/n, peak)
			if low/n > 0.1 || peak < 1.2 {
				t.Errorf("%s: the noise of a tint of %.3f is not blue", p, area)
			}
		}
	}
}

// The dots of two layers fall as if by chance: tints of a half cover each other on a
// quarter.
func TestLayersAreIndependent(t *testing.T) {
	for _, pair := range [][2]pigment.Printer{{0, 1}, {0, 2}, {1, 2}} {
		both := 0
		for y := range Side {
			for x := range Side {
				if Of(pair[0]).At(x, y) < 0.5 && Of(pair[1]).At(x, y) < 0.5 {
					both++
				}
			}
		}
		if got := float64(both) / (Side * Side); math.Abs(got-0.25) > 0.01 {
			t.Errorf("%s and %s cover each other on %.3f", pair[0], pair[1], got)
		}
	}
}

func BenchmarkArray(b *testing.B) {
	for b.Loop() {
		voidAndCluster(7)
	}
}
