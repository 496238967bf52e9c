package register

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestAgainstPhaseCorrelation cuts the three plates out of one picture, moved
// by whole pixels, and holds the register to what phase correlation finds (C. D.
// Kuglin and D. C. Hines, Proc. IEEE Int. Conf. Cybernetics and Society, 1975,
// 163), built on gonum's transforms: on exactly shifted planes it is exact.
func TestAgainstPhaseCorrelation(t *testing.T) {
	t.Parallel()
	const side, margin = 512, 40
	whole := drawn(side+2*margin, side+2*margin, 5).shoot(side+2*margin, side+2*margin, 1, shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.8, negative: true, noise: 0.01, m: affine.Identity}, 3)
	cut := func(dx, dy int) *plane.Plane {
		p := plane.New(side, side)
		for y := range side {
			copy(p.Row(y), whole.Row(y + margin + dy)[margin+dx:])
		}
		return p
	}
	shifts := [3][2]int{{13, -7}, {0, 0}, {-22, 31}}
	var planes [3]*plane.Plane
	for i, s := range shifts {
		planes[i] = cut(s[0], s[1])
	}
	found, err := Planes(context.Background(), planes, Options{Key: 1, Polarity: [3]bool{true, true, true}})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range found {
		dx, dy := phaseShift(planes[1], planes[i])
		if dx != -shifts[i][0] || dy != -shifts[i][1] {
			t.Fatalf("phase correlation itself finds %d, %d for a plate cut at %v", dx, dy, shifts[i])
		}
		worst := 0.0
		for _, c := range [][2]float64{{50, 50}, {460, 50}, {50, 460}, {460, 460}, {255, 255}} {
			x, y := p.Matrix.Apply(c[0], c[1])
			worst = max(worst, math.Hypot(x-c[0]-float64(dx), y-c[1]-float64(dy)))
		}
		t.Logf("plate %d: moved by %d, %d; register lies %.4f px off at worst", i, dx, dy, worst)
		if worst > 0.02 || p.Confidence < 0.9 {
			t.Errorf("plate %d lies %.4f px from what phase correlation finds, with confidence %.2f", i, worst, p.Confidence)
		}
	}
}

// phaseShift returns by how many whole pixels b's picture is moved against a's,
// both square and with soft edges (a Hann window).
func phaseShift(a, b *plane.Plane) (dx, dy int) {
	n := a.W
	transform := func(p *plane.Plane) []complex128 {
		mean := 0.0
		for _, v := range p.Pix {
			mean += float64(v) / float64(len(p.Pix))
		}
		f := make([]complex128, n*n)
		hann := func(i int) float64 { return 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(n)) }
		for i, v := range p.Pix {
			f[i] = complex((float64(v)-mean)*hann(i%n)*hann(i/n), 0)
		}
		return along2(f, n, (*fourier.CmplxFFT).Coefficients)
	}
	fa, fb := transform(a), transform(b)
	for i := range fa {
		c := fb[i] * cmplx.Conj(fa[i])
		if m := cmplx.Abs(c); m > 0 {
			fa[i] = c / complex(m, 0)
		}
	}
	peak := along2(fa, n, (*fourier.CmplxFFT).Sequence)
	best := 0
	for i, v := range peak {
		if real(v) > real(peak[best]) {
			best = i
		}
	}
	wrap := func(i int) int { return (i+n/2)%n - n/2 }
	return wrap(best % n), wrap(best / n)
}

// along2 transforms rows and then columns of an n × n plane.
func along2(f []complex128, n int, line func(*fourier.CmplxFFT, []complex128, []complex128) []complex128) []complex128 {
	plan := fourier.NewCmplxFFT(n)
	column := make([]complex128, n)
	for y := range n {
		line(plan, f[y*n:(y+1)*n], f[y*n:(y+1)*n])
	}
	for x := range n {
		for y := range n {
			column[y] = f[y*n+x]
		}
		line(plan, column, column)
		for y := range n {
			f[y*n+x] = column[y]
		}
	}
	return f
}
