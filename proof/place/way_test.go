package place

import (
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// By both ways, a plate that was not found lies by its marks alone: where it was scanned
// says nothing.
func TestWhatWasNotFoundIsLeftOutOfBoth(t *testing.T) {
	s := sessiontest.Opened()
	truth := affine.Translate(30, -20)
	for k, at := range [][2]float64{{100, 100}, {900, 120}, {500, 600}, {130, 580}} {
		key, red := session.Pin{Set: true, X: at[0], Y: at[1], Certainty: 1}, session.Pin{Set: true, Certainty: 1}
		red.X, red.Y = truth.Apply(at[0], at[1])
		s.Marks = append(s.Marks, session.Pinned{N: k + 1, Weight: 1, At: [3]session.Pin{red, key, {}}})
	}
	s.By = session.ByBoth
	if way := WayOf(&s, 0); way != WayBoth {
		t.Errorf("found and marked it lies by %s", way)
	}
	s.Found[0] = session.Found{Matrix: affine.Identity, Confidence: 0.1}
	if way := WayOf(&s, 0); way != WayMarks {
		t.Errorf("not found and marked it lies by %s", way)
	}
	if x, y := Register(&s, 0).Apply(500, 350); (x-530)*(x-530)+(y-330)*(y-330) > 1e-12 {
		t.Errorf("the middle lies at %g, %g", x, y)
	}
}
