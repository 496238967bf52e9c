package mask

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

func tones(rnd *rand.Rand, n int) [][3]float64 {
	var all [][3]float64
	for range n {
		all = append(all, [3]float64{rnd.Float64(), rnd.Float64(), rnd.Float64()})
	}
	return all
}

func TestFindsItsOwnMatrix(t *testing.T) {
	rnd := rand.New(rand.NewPCG(17, 18))
	want := Matrix{1.3, -0.25, -0.05, -0.1, 1.35, -0.25, 0.02, -0.12, 1.1}
	plates := tones(rnd, 50)
	var wanted [][3]float64
	for _, p := range plates {
		wanted = append(wanted, want.Apply(p))
	}
	plates = append(plates, [3]float64{math.NaN(), 0, 0})
	wanted = append(wanted, [3]float64{})
	m, err := Fit(plates, wanted)
	for i := range m {
		if err != nil || !(math.Abs(m[i]-want[i]) < 1e-10) {
			t.Fatalf("%v %v, want %v", m, err, want)
		}
	}
}

// The general-purpose library solves the same least squares by QR.
func TestFitAgainstLibrary(t *testing.T) {
	rnd := rand.New(rand.NewPCG(19, 20))
	plates, wanted := tones(rnd, 40), tones(rnd, 40)
	m, err := Fit(plates, wanted)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		a, b := mat.NewDense(len(plates), 2, nil), mat.NewVecDense(len(plates), nil)
		for s, p := range plates {
			a.Set(s, 0, p[j]-p[i])
			a.Set(s, 1, p[k]-p[i])
			b.SetVec(s, wanted[s][i]-p[i])
		}
		var x mat.VecDense
		if err := x.SolveVec(a, b); err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(x.AtVec(0)-m[3*i+j]) < 1e-10 && math.Abs(x.AtVec(1)-m[3*i+k]) < 1e-10) {
			t.Errorf("row %d: %v, library %v", i, m, x)
		}
		if !(math.Abs(m[3*i]+m[3*i+1]+m[3*i+2]-1) < 1e-12) {
			t.Errorf("row %d does not sum to 1", i)
		}
	}
}

func TestNothingToFind(t *testing.T) {
	grey := [][3]float64{{0, 0, 0}, {.5, .5, .5}, {.7, .7, .7}, {1, 1, 1}}
	for _, p := range [][][3]float64{nil, grey[:2], grey} {
		if m, err := Fit(p, p); !errors.Is(err, ErrTooFew) || m != None {
			t.Errorf("%v: %v %v", p, m, err)
		}
	}
	if _, err := Fit(grey, grey[:1]); err == nil {
		t.Error("unequal numbers pass")
	}
}

// On real tissues masks must bring the print nearer to colours it can reach.
func TestMasksHelpARealPrint(t *testing.T) {
	p, _ := pigment.PaletteByID("arylide")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	c := cube.New(r, light, 33)
	scale := balance.Neutral(r, light, balance.DefaultLimit)
	rnd := rand.New(rand.NewPCG(21, 22))
	var plates, wanted [][3]float64
	var aims []spectrum.Lab
	for range 150 {
		// A colour of the scene through three narrow filters: the tones of L*.
		lin := [3]float64{0.05 + 0.5*rnd.Float64(), 0.05 + 0.5*rnd.Float64(), 0.05 + 0.5*rnd.Float64()}
		want := spectrum.SRGBLab(lin)
		x, _ := balance.Near(c, want, math.Inf(1))
		var u [3]float64
		for i, v := range [3]float64{lin[2], lin[1], lin[0]} {
			l := 116*math.Cbrt(v) - 16
			u[i] = min(max((scale.Paper[0]-l)/(scale.Paper[0]-scale.Depth.Lab[0]), 0), 1)
		}
		plates, wanted, aims = append(plates, u), append(wanted, scale.Tones(x)), append(aims, want)
	}
	m, err := Fit(plates, wanted)
	if err != nil {
		t.Fatal(err)
	}
	off := func(m Matrix) float64 {
		sum := 0.0
		for s, u := range plates {
			var x [3]float64
			for i, v := range m.Apply(u) {
				x[i] = scale.Thickness(v)[i]
			}
			sum += spectrum.DeltaE00(light.Lab(r.Reflectance(x)), aims[s])
		}
		return sum / float64(len(aims))
	}
	unmasked, masked := off(None), off(m)
	t.Logf("mean ΔE00 unmasked %.2f, masked %.2f by %.2f", unmasked, masked, m)
	if !(masked < 0.8*unmasked) {
		t.Error("masks do not help")
	}
}
