package register

import (
	"context"
	"reflect"
	"testing"

	"threeply/proof/plane"
)

// TestPatchesLookedForElsewhere holds that a plate of which a strip moved comes out the same, to the last
// digit, where another program looks for half of the patches, where it never answers, and where what it
// answers is no answer.
func TestPatchesLookedForElsewhere(t *testing.T) {
	t.Parallel()
	s := drawn(1300, 1000, 3)
	planes := [3]*plane.Plane{view(s, 0), view(s, 1), square(view(s, 2), 0.8, 0, 1, 1, 9, -7)}
	names := [3]string{"red", "green", "blue"}
	register := func(beside func(plate int, errand []float64) func() []float64) ([3]Plate, Proposal) {
		opt := Options{Key: 1, Workers: 1, Others: Others{Beside: beside}}
		found, key, err := PlanesAndKey(context.Background(), planes, opt, names)
		if err != nil {
			t.Fatal(err)
		}
		return found, key
	}
	want, wantKey := register(nil)
	if want[2].Confidence < FoundFrom || want[2].Outvoted == 0 {
		t.Errorf("nothing is told of the strip: %v", want[2].Outcome)
	}
	sent, patches := 0, 0
	for what, answers := range map[string]func(h *Helper, errand []float64) []float64{
		"another program helps": func(h *Helper, errand []float64) []float64 {
			sent, patches = sent+1, patches+(len(errand)-errandHead)/errandOfEach
			answer, err := h.Do(errand)
			if err != nil {
				t.Error(err)
			}
			return answer
		},
		"another program does not answer": func(*Helper, []float64) []float64 { return nil },
		"another program answers less":    func(h *Helper, errand []float64) []float64 { return make([]float64, answerToEach) },
	} {
		var helpers [3]*Helper
		for i := range helpers {
			helpers[i] = NewHelper(planes[1], planes[i], [2]bool{}, [2][4]int{})
		}
		got, gotKey := register(func(plate int, errand []float64) func() []float64 {
			return func() []float64 { return answers(helpers[plate], errand) }
		})
		if !reflect.DeepEqual(got, want) || !reflect.DeepEqual(gotKey, wantKey) {
			t.Errorf("%s: the plates lie by %v and %v, want %v and %v; key %+v, want %+v", what, got[0].Matrix, got[2].Matrix, want[0].Matrix, want[2].Matrix, gotKey, wantKey)
		}
	}
	if t.Logf("%d errands of %d patches", sent, patches); sent < 8 {
		t.Errorf("only %d errands were sent", sent)
	}
	for _, numbers := range [][]float64{nil, make([]float64, errandHead-1), make([]float64, errandHead+1)} {
		if _, err := NewHelper(planes[1], planes[0], [2]bool{}, [2][4]int{}).Do(numbers); err == nil {
			t.Errorf("%d numbers were taken for an errand", len(numbers))
		}
	}
}
