package register

import (
	"context"
	"reflect"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestAnyNumberOfProcessors holds that a plate of which a strip moved comes out the same by
// one processor and by several.
func TestAnyNumberOfProcessors(t *testing.T) {
	t.Parallel()
	s := drawn(420, 330, 3)
	key := view(s, 1)
	other := square(view(s, 2), 0.8, 0, 1, 1, 9, -7)
	var first [3]Plate
	for _, workers := range []int{1, 4} {
		got, err := Planes(context.Background(), [3]*plane.Plane{key, other, flatPlane(40, 40)}, Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if workers == 1 {
			first = got
		} else if !reflect.DeepEqual(got, first) {
			t.Errorf("by %d processors plate 1 lies by %v, confidence %.4f; by one by %v, %.4f", workers, got[1].Matrix, got[1].Confidence, first[1].Matrix, first[1].Confidence)
		}
	}
	if first[1].Matrix == affine.Identity || first[1].Outvoted == 0 {
		t.Errorf("nothing is told of the strip: %v", first[1].Outcome)
	}
}
