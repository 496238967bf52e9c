package main

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// smallSet is one set for the tests that only look.
var smallSet = sync.OnceValue(func() *demoSet {
	s := makeSet(480, 4, 7)
	return &s
})

func TestSameSeedSameBytes(t *testing.T) {
	a, b, other := makeSet(160, 1, 3), makeSet(160, 1, 3), makeSet(160, 1, 4)
	for k, name := range plateNames {
		if !slices.Equal(a.scans[k], b.scans[k]) {
			t.Errorf("%s differs from run to run", name)
		}
		if slices.Equal(a.scans[k], other.scans[k]) {
			t.Errorf("%s does not depend on the seed", name)
		}
	}
}

// densityAt is what a densitometer reads in the scan of plate k, averaged over
// a box of the key frame.
func densityAt(s *demoSet, k int, box [4]int) float64 {
	m := s.truth.Plates[plateNames[k]].Matrix
	sum := 0.0
	for y := range box[3] {
		for x := range box[2] {
			px, py := m.Apply(float64(box[0]+x), float64(box[1]+y))
			code := s.scans[k][int(math.Round(py))*s.w+int(math.Round(px))]
			sum -= math.Log10(max(float64(code), 1) / 65535)
		}
	}
	return sum / float64(box[2]*box[3])
}

func TestGreyScaleHasTheDensitiesOfTheTruth(t *testing.T) {
	s := smallSet()
	for k, name := range plateNames {
		worst := 0.0
		for i, g := range s.truth.GreyScale {
			off := math.Abs(densityAt(s, k, g.Box) - g.OnPlate[name])
			worst = max(worst, off)
			if off > 0.03 {
				t.Errorf("%s, step %d: %.3f in the scan, %.3f in the truth", name, i, densityAt(s, k, g.Box), g.OnPlate[name])
			}
		}
		t.Logf("%s: within %.4f", name, worst)
	}
}

// On the straight line a step of reflection density comes out γ times as large,
// as in any text on sensitometry. The light falls off along the scale, in the
// same way on the three plates, so the slopes go as the gammas do.
func TestGreyScaleFollowsGamma(t *testing.T) {
	s := smallSet()
	var ratio [3]float64
	for k, name := range plateNames {
		film := s.truth.Plates[name].Film
		light, dark := s.truth.GreyScale[0], s.truth.GreyScale[6]
		slope := (densityAt(s, k, light.Box) - densityAt(s, k, dark.Box)) / (dark.Density - light.Density)
		ratio[k] = slope / film.Gamma
		t.Logf("%s: slope %.3f, γ %.3f", name, slope, film.Gamma)
		if math.Abs(ratio[k]-1) > 0.13 {
			t.Errorf("%s: slope %.3f, γ %.3f", name, slope, film.Gamma)
		}
	}
	if spread := slices.Max(ratio[:]) - slices.Min(ratio[:]); spread > 0.02 {
		t.Errorf("slope over γ differs by %.3f between the plates", spread)
	}
}

// exposureAt undoes the film at a place of the scan of plate k, by halving.
func exposureAt(s *demoSet, k int, x, y float64) float64 {
	i, j := int(x), int(y)
	film := s.truth.Plates[plateNames[k]].Film
	linear := func(i, j int) float64 {
		d := -math.Log10(float64(s.scans[k][j*s.w+i]) / 65535)
		lo, hi := -4.0, 2.0
		for range 40 {
			if mid := (lo + hi) / 2; film.density(math.Pow(10, mid)) < d {
				lo = mid
			} else {
				hi = mid
			}
		}
		return math.Pow(10, lo)
	}
	fx, fy := x-float64(i), y-float64(j)
	top := linear(i, j)*(1-fx) + linear(i+1, j)*fx
	return top*(1-fy) + (linear(i, j+1)*(1-fx)+linear(i+1, j+1)*fx)*fy
}

// blackEnd finds in the scan of plate k, along the key's row y, where the black
// step ends and the white border begins: the half-way point of the exposure,
// which no even blur moves, as a position along the key's row.
func blackEnd(s *demoSet, k int, y, from, to float64) float64 {
	m := s.truth.Plates[plateNames[k]].Matrix
	at := func(x float64) float64 {
		px, py := m.Apply(x, y)
		return exposureAt(s, k, px, py)
	}
	half := (at(from) + at(to)) / 2
	for x := from; x < to; x += 0.02 {
		if at(x) > half {
			return x
		}
	}
	return to
}

// The end of the black step lies in every plate where the matrix takes it, and
// elsewhere without the matrix.
func TestMatricesTakeTheKeyToThePlates(t *testing.T) {
	s := smallSet()
	set := arrange(s.w, s.h)
	var ends [3][]float64
	for k := range ends {
		for _, up := range []float64{-0.25, -0.1, 0.05, 0.2} {
			x, y := set.greys.project(&set.camera, 1, up)
			ends[k] = append(ends[k], blackEnd(s, k, y, x-3, x+3)-x)
		}
	}
	for k, name := range plateNames {
		mean := 0.0
		for i := range ends[k] {
			mean += (ends[k][i] - ends[1][i]) / float64(len(ends[k]))
		}
		t.Logf("%s: %.3f px from the key", name, mean)
		if math.Abs(mean) > 0.3 {
			t.Errorf("%s: the black step ends %.2f px from where the matrix says", name, mean)
		}
		m := s.truth.Plates[name].Matrix
		cx, cy := float64(s.w-1)/2, float64(s.h-1)/2
		if px, py := m.Apply(cx, cy); name != "green" && math.Hypot(px-cx, py-cy) < 2 {
			t.Errorf("%s lies in register, which would prove nothing", name)
		}
	}
}

// BenchmarkSet makes the set at a quarter of the default size each way, with
// the default rays: the default set takes about sixteen times as long.
func BenchmarkSet(b *testing.B) {
	for b.Loop() {
		makeSet(defaultSize/4, defaultSamples, 1931)
	}
}

// What lies where the set would go stays as it is.
func TestWriteKeepsWhatIsThere(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, smallSet().truth.Plates["green"].File)
	if err := os.WriteFile(name, []byte("a master"), 0o644); err != nil {
		t.Fatal(err)
	}
	for dir, picture := range map[string]string{dir: "", "": name} {
		if err := smallSet().write(dir, picture); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%v", err)
		}
	}
	if b, err := os.ReadFile(name); err != nil || string(b) != "a master" {
		t.Errorf("%q, %v", b, err)
	}
}
