package warp

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestFitOnAStiffPlateChangesLittle(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var places []Place
	for range 100 {
		places = append(places, Place{X: rnd.Float64() * 2000, Y: rnd.Float64() * 1500, DX: rnd.NormFloat64() * 0.1, DY: rnd.NormFloat64() * 0.1, Weight: 0.8})
	}
	l, ok := Fit(places, 2000, 1500)
	if !ok {
		t.Fatal("no displacement")
	}
	var largest float64
	for j := range 21 {
		for i := range 21 {
			largest = max(largest, math.Hypot(l.At(float64(i)*100, float64(j)*75)))
		}
	}
	t.Logf("noise of 0.1 px: before %.3f, after %.3f, largest displacement %.3f px", l.Before.Median, l.After.Median, largest)
	if l.Worth() || largest > 0.25 || l.After.Median < 0.8*l.Before.Median {
		t.Errorf("largest %.3f px; before %+v, after %+v", largest, l.Before, l.After)
	}
}

func TestFitNeverFolds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	accepted := 0
	for range 200 {
		var places []Place
		size := math.Exp2(rnd.Float64() * 9)
		for range 60 {
			places = append(places, Place{X: rnd.Float64() * 400, Y: rnd.Float64() * 300, DX: rnd.NormFloat64() * size, DY: rnd.NormFloat64() * size, Weight: rnd.Float64()})
		}
		l, ok := Fit(places, 400, 300)
		if !ok {
			continue
		}
		accepted++
		// A finer look than its own at the sign of the area.
		for j := range 99 {
			for i := range 99 {
				x, y := float64(i)*4, float64(j)*3
				ax, ay := l.At(x, y)
				bx, by := l.At(x+0.5, y)
				cx, cy := l.At(x, y+0.5)
				if (1+(bx-ax)*2)*(1+(cy-ay)*2)-(cx-ax)*2*(by-ay)*2 <= 0 {
					t.Fatalf("folds at %.0f, %.0f with offsets of %.0f px", x, y, size)
				}
			}
		}
	}
	t.Logf("%d of 200 accepted", accepted)
	if accepted == 0 || accepted == 200 {
		t.Errorf("%d of 200 accepted: the test shows nothing", accepted)
	}
	if _, ok := Fit(nil, 400, 300); ok {
		t.Error("a displacement of no places")
	}
}

// A displacement of the basis' own is found again from its places.
func TestFitFindsADisplacement(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 2))
	want := Local{W: 800, H: 600, CX: [terms]float64{1.5, -0.7, 0, 0.3, 0, 0, 1}, CY: [terms]float64{0, 2, -1.1, 0, 0.4}}
	var places []Place
	for range 400 {
		x, y := 799*rnd.Float64(), 599*rnd.Float64()
		dx, dy := want.At(x, y)
		places = append(places, Place{x, y, dx, dy, 0.2 + rnd.Float64()})
	}
	got, ok := Fit(places, 800, 600)
	worst := 0.0
	for x := 0.0; x < 800; x += 20 {
		for y := 0.0; y < 600; y += 20 {
			ax, ay := got.At(x, y)
			bx, by := want.At(x, y)
			worst = max(worst, math.Hypot(ax-bx, ay-by))
		}
	}
	t.Logf("off by %.4f px at most; what was not seen is left with %.4f px of %.2f", worst, got.After.Max, got.Before.Max)
	if !ok || !got.Worth() || worst > 0.05*want.Largest() {
		t.Errorf("ok %v, off by %.3f px", ok, worst)
	}
}

func TestSummary(t *testing.T) {
	var all []float64
	for i := range 100 {
		all = append(all, float64((i*37)%100))
	}
	if got, want := Summary(all), (Residual{Median: 50, P95: 95, Max: 99}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := Summary(nil); got != (Residual{}) {
		t.Errorf("of none: %+v", got)
	}
}
