package register

import (
	"context"
	"errors"
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestRefineFindsWhatAHandHasLaid starts from places that a person might reach
// by eye: some per cent and degrees off.
func TestRefineFindsWhatAHandHasLaid(t *testing.T) {
	t.Parallel()
	s := drawn(900, 675, 6)
	key := s.shoot(900, 675, 1, shot{mix: [3]float64{0.1, 0.8, 0.1}, gamma: 0.8, negative: true, noise: 0.02, m: affine.Identity}, 1)
	truth := about(900, 675, affine.Parts{DX: 135, DY: -68, Turn: 97, StretchX: 0.93, StretchY: -0.93})
	other := s.shoot(900, 900, 1, shot{mix: [3]float64{0.7, 0.3, 0}, gamma: 0.9, noise: 0.02, m: truth}, 2)
	for _, slip := range []affine.Parts{
		{DX: 22, DY: -15, StretchX: 1, StretchY: 1},
		{DX: -15, DY: 25, Turn: 4, StretchX: 1, StretchY: 1},
		{DX: 10, DY: 10, Turn: -2, StretchX: 1.05, StretchY: 1.05},
	} {
		start := truth.Mul(about(900, 675, slip))
		got, err := Refine(context.Background(), key, other, [2]bool{true, false}, [2][4]int{}, start, nil)
		if err != nil {
			t.Fatal(err)
		}
		rms, worst := errorsOf(got.Matrix, truth, 900, 675)
		t.Logf("%+v: rms %.3f, worst %.3f px, confidence %.2f, %s", slip, rms, worst, got.Confidence, got.Outcome)
		if rms > 0.25 || got.Confidence < 0.6 {
			t.Errorf("laid %+v off: rms %.2f px, confidence %.2f", slip, rms, got.Confidence)
		}
	}
}

// TestRefineIsNotSureOfWhatIsNotThere lays plates where they do not lie, and
// plates of other pictures.
func TestRefineIsNotSureOfWhatIsNotThere(t *testing.T) {
	t.Parallel()
	a, b := view(drawn(360, 290, 1), 1), view(drawn(360, 290, 2), 2)
	for name, c := range map[string]struct {
		other *plane.Plane
		start affine.Matrix
	}{
		"another picture": {b, affine.Identity},
		"a quarter turn":  {a, about(360, 290, affine.Parts{Turn: 90, StretchX: 1, StretchY: 1})},
		"off the plate":   {a, affine.Translate(5000, 0)},
		"one grey":        {flatPlane(360, 290), affine.Identity},
		"a few pixels":    {flatPlane(3, 2), affine.Identity},
		"noise":           {noise(360, 290, 3), affine.Identity},
	} {
		got, err := Refine(context.Background(), a, c.other, [2]bool{}, [2][4]int{}, c.start, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: confidence %.2f, %s", name, got.Confidence, got.Outcome)
		rms, _ := errorsOf(got.Matrix, affine.Identity, 360, 290)
		if (got.Confidence > 0.3 && !(c.other == a && rms < 1)) || got.Outcome == "" || math.IsNaN(rms) {
			t.Errorf("%s: confidence %.2f, %s", name, got.Confidence, got.Outcome)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Refine(ctx, a, a, [2]bool{}, [2][4]int{}, affine.Identity, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
