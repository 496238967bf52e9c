package register

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

func flatPlane(w, h int) *plane.Plane {
	p := plane.New(w, h)
	for i := range p.Pix {
		p.Pix[i] = 12000
	}
	return p
}

func noise(w, h int, seed uint64) *plane.Plane {
	rnd := rand.New(rand.NewPCG(seed, 1))
	p := plane.New(w, h)
	for i := range p.Pix {
		p.Pix[i] = uint16(rnd.IntN(65536))
	}
	return p
}

func view(s *scene, seed uint64) *plane.Plane {
	return s.shoot(s.w, s.h, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, noise: 0.01, border: 0.05, m: affine.Identity}, seed)
}

// TestNothingInCommon holds that plates without a common picture never pass
// for registered, whatever they are.
func TestNothingInCommon(t *testing.T) {
	t.Parallel()
	a, b := view(drawn(360, 290, 1), 1), view(drawn(360, 290, 2), 2)
	for name, planes := range map[string][3]*plane.Plane{
		"another picture":   {a, b, noise(360, 290, 1)},
		"one grey":          {a, flatPlane(360, 290), flatPlane(300, 300)},
		"the key one grey":  {flatPlane(360, 290), a, b},
		"the key noise":     {noise(360, 290, 3), a, flatPlane(90, 90)},
		"a few pixels":      {a, flatPlane(3, 2), noise(23, 23, 1)},
		"the key one pixel": {flatPlane(1, 1), a, b},
		"long and narrow":   {a, view(drawn(700, 90, 4), 1), noise(30, 1200, 5)},
		"just large enough": {noise(24, 24, 1), noise(24, 24, 2), noise(30, 26, 2)},
	} {
		got, err := Planes(context.Background(), planes, Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i := 1; i < 3; i++ {
			t.Logf("%s, plate %d: confidence %.2f, %s", name, i, got[i].Confidence, got[i].Outcome)
			if got[i].Confidence > 0.3 || got[i].Outcome == "" {
				t.Errorf("%s, plate %d: confidence %.2f, %s", name, i, got[i].Confidence, got[i].Outcome)
			}
			if want := affine.Translate(float64(planes[i].W-planes[0].W)/2, float64(planes[i].H-planes[0].H)/2); got[i].Matrix != want || len(got[i].Field) > 0 {
				t.Errorf("%s, plate %d: not found, and it lies by %v with %d places, not centre on centre", name, i, got[i].Matrix, len(got[i].Field))
			}
		}
	}
}

func TestMissingPlatesAndKeys(t *testing.T) {
	a := flatPlane(40, 40)
	if _, err := Planes(context.Background(), [3]*plane.Plane{a, nil, a}, Options{}); err == nil {
		t.Error("a missing plane is no error")
	}
	if _, err := Planes(context.Background(), [3]*plane.Plane{a, a, a}, Options{Key: 3}); err == nil {
		t.Error("key 3 is no error")
	}
}

// TestCancel ends a registration at several points of its way; each time it
// comes back with ctx's error and not with a result.
func TestCancel(t *testing.T) {
	t.Parallel()
	a := view(drawn(220, 180, 1), 1)
	b := view(drawn(220, 180, 2), 2)
	for _, at := range []float64{0.01, 0.1, 0.35, 0.42, 0.9} {
		ctx, cancel := context.WithCancel(context.Background())
		planes := [3]*plane.Plane{a, b, a}
		var stopped time.Time
		_, err := Planes(ctx, planes, Options{Progress: func(done float64, _ string) {
			if done > at && stopped.IsZero() {
				stopped = time.Now()
				cancel()
			}
		}})
		cancel()
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled at %.2f: error %v", at, err)
			continue
		}
		t.Logf("cancelled at %.2f: back after %v", at, time.Since(stopped))
	}
}

func TestProgressRisesToOne(t *testing.T) {
	t.Parallel()
	a := view(drawn(500, 400, 1), 1)
	last := 0.0
	if _, err := Planes(context.Background(), [3]*plane.Plane{a, a, a}, Options{Progress: func(done float64, what string) {
		if done < last || what == "" {
			t.Errorf("%.2f after %.2f, %q", done, last, what)
		}
		last = done
	}}); err != nil {
		t.Fatal(err)
	}
	if last < 0.999 {
		t.Errorf("ends at %.2f", last)
	}
}

// TestOrnament holds that a pattern that repeats, and so fits itself in many places, is
// never believed where it is wrong, whatever else the picture shows: nothing but the
// pattern, four small places of its own, or twelve. Where there are enough of them, and the
// pattern is not too small, the plate is found, however far it lies.
func TestOrnament(t *testing.T) {
	t.Parallel()
	const w, h = 480, 400
	believed := 0
	for _, tile := range []int{24, 60, 110} {
		pattern, own := drawn(tile, tile, 8), drawn(w, h, 31)
		for _, places := range []int{0, 4, 12} {
			s := &scene{name: "ornament", w: w, h: h}
			for c := range s.rgb {
				s.rgb[c] = make([]float32, w*h)
				for i := range s.rgb[c] {
					x, y := i%w, i/w
					s.rgb[c][i] = pattern.rgb[c][y%tile*tile+x%tile]
					for k := range places {
						if dx, dy := x-60-k*97%360, y-60-k*61%280; dx*dx+dy*dy < 25*25 {
							s.rgb[c][i] = own.rgb[c][i]
						}
					}
				}
			}
			var shifts []affine.Matrix
			var planes []*plane.Plane
			for _, shift := range []float64{25, 70} {
				if shift != 70 && tile != 60 || tile == 24 && places == 12 {
					continue // as before: the tile is small, or the shift is less than it
				}
				m := affine.Translate(shift, -shift/3)
				look := shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, noise: 0.01, border: 0.05, m: m}
				shifts, planes = append(shifts, m), append(planes, s.shoot(w, h, 1, look, 2))
			}
			for i, p := range registerAll(t, view(s, 1), Options{}, planes...) {
				rms, _ := errorsOf(p.Matrix, shifts[i], w, h)
				shift := shifts[i][2]
				t.Logf("every %d px, %d places of its own, shifted %.0f px: rms %.1f px, confidence %.2f, %s", tile, places, shift, rms, p.Confidence, p.Outcome)
				sure := p.Confidence >= believedFrom
				if sure && rms > 1 {
					t.Errorf("every %d px, %d places of its own, shifted %.0f px: believed (%.2f) but %.1f px off", tile, places, shift, p.Confidence, rms)
				}
				if sure && places == 0 {
					t.Errorf("every %d px, shifted %.0f px: believed (%.2f) though nothing tells one tile from the next", tile, shift, p.Confidence)
				}
				if sure && places == 12 && tile > 24 {
					believed++
				}
			}
		}
	}
	if believed < 2 {
		t.Errorf("%d of 3 pictures with large ornament and much else were found", believed)
	}
}
