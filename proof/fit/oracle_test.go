package fit

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"

	"threeply/proof/pigment"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// On a small sheet, a general-purpose optimiser that is given the sum of squares and
// nothing else (the BFGS of gonum, with slopes by differences)
// finds no better fit than ours, and the same one.
func TestAgainstAnOptimiser(t *testing.T) {
	p, _ := pigment.PaletteByID("arylide")
	s := testsheet.Sheet{Rows: 3, Cols: 8, DarkRow: 3}
	put := func(row, col int, logE ...float64) {
		patch := testsheet.Patch{ID: testsheet.ID(row, col), Use: testsheet.Fit, Ground: testsheet.White, Row: row, Col: col}
		for l, e := range logE {
			patch.Has[l], patch.LogE[l] = e < 1, e
		}
		s.Patches = append(s.Patches, patch)
	}
	steps := []float64{0, -0.25, -0.5, -0.75, -1}
	for i, e := range steps {
		put(0, i, e, 9, 9)
		put(1, i, 9, e, 9)
		put(2, i, 9, 9, e)
	}
	put(0, 6)
	put(1, 6, -0.25, -0.25, -0.25)
	put(2, 6, -0.5, -0.5, -0.5)
	tr := workshop(p, 1)
	r, err := Take(&s, "", File{"a.txt", []byte(tr.sheet(s, 0.003, 0, 1, 20, false))})
	if err != nil {
		t.Fatal(err)
	}
	r.from, r.to, r.step = 12, 52, 20 // three wavelengths
	job := Job{Sheet: s, Readings: r, Recipe: stack.DefaultRecipe(p)}
	f, err := job.prepare(1)
	if err != nil {
		t.Fatal(err)
	}
	f.coat = 0.02
	begin := append([]float64{}, f.x...)
	for range 5 {
		if err := f.run(context.Background(), 60); err != nil {
			t.Fatal(err)
		}
	}
	ours := f.settle(f.x)

	// The optimiser is given the last difference of amounts as what the amount at the base
	// exposure differs from 1 by, in thousandths: that it is 1 is held firmly.
	free := func(y []float64) []float64 {
		x := append([]float64{}, y...)
		for l := range 3 {
			last := f.iT(l, len(steps)-1)
			x[last] = 1 + y[last]/1000
			for i := f.iT(l, 0); i < last; i++ {
				x[last] -= x[i]
			}
		}
		return x
	}
	cost := func(x []float64) float64 {
		for i := range f.solver.own {
			f.solver.own[i] = [3]float64{}
		}
		f.settle(free(x))
		return f.settle(free(x)) // what coats differ by is settled in two goes
	}
	problem := optimize.Problem{Func: cost, Grad: func(grad, x []float64) {
		for i := range x {
			const h = 1e-5
			at := x[i]
			x[i] = at + h
			up := cost(x)
			x[i] = at - h
			grad[i] = (up - cost(x)) / (2 * h)
			x[i] = at
		}
	}}
	for l := range 3 {
		begin[f.iT(l, len(steps)-1)] = 0
	}
	found, err := optimize.Minimize(problem, begin, &optimize.Settings{MajorIterations: 400, GradientThreshold: 1e-3}, &optimize.BFGS{})
	if found == nil {
		t.Fatal(err)
	}
	t.Logf("sum of squares: ours %.6f, the optimiser's %.6f (%v, %d steps)", ours, found.F, found.Status, found.MajorIterations)
	if ours > found.F*1.001+1e-6 {
		t.Error("the optimiser finds a better fit")
	}
	a, b := f.unpack(f.x), f.unpack(free(found.X))
	for l := range 3 {
		for k := range a.amount[l] {
			if math.Abs(a.amount[l][k]-b.amount[l][k]) > 0.02 {
				t.Errorf("layer %d, step %d: %.4f, the optimiser has %.4f", l, k, a.amount[l][k], b.amount[l][k])
			}
		}
	}
}
