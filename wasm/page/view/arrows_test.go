package view

import (
	"cmp"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/warp"
)

// residual is what a register left at three places, in pixels of the key: of the red
// plate one that agrees and one far off, of the blue one a third.
func residual(s *session.State) *Residual {
	return &Residual{Found: s.Found, Fields: [3][]register.Offset{
		{{X: 510, Y: 340, DX: 2, DY: -1, Certainty: 0.9}, {X: 600, Y: 400, DX: 30, DY: -40, Certainty: 0.9, Outvoted: true}},
		nil,
		{{X: 480, Y: 360, DX: -1, DY: 0, Certainty: 0.1}},
	}}
}

// At 100 % about the key's 500, 350 in the middle of the one pane, at 400, 269. Of an
// offset of 50 pixels at 10 CSS pixels each 72 are drawn: 3/5 and 4/5 of that.
func TestArrows(t *testing.T) {
	v, s := pinned(t)
	do(t, v, s, TakeLook{"edges"})
	r := residual(s)
	got := v.ArrowsIn(s, v.Panes()[0], r, 10)
	want := []Arrow{
		{X: 410, Y: 259, DX: 20, DY: -10, Printer: "cyan", Sure: true},
		{X: 500, Y: 319, DX: 43.2, DY: -57.6, Printer: "cyan", Sure: true, Outvoted: true, Cut: true},
		{X: 380, Y: 279, DX: -10, Printer: "yellow"},
	}
	if !reflect.DeepEqual(got.Arrows, want) {
		t.Errorf("arrows\n%+v, want\n%+v", got.Arrows, want)
	}
	if got.BarPx != 5 || got.BarCSS != 50 { // the largest round number within 60 CSS pixels
		t.Errorf("the scale says %g px are %g", got.BarPx, got.BarCSS)
	}
	if got.Ring != nil {
		t.Error("a ring before the worst place was gone to")
	}
	v.Centre[0] = 1000 // the middle of the pane, which is 380 to either side
	if arrows := v.ArrowsIn(s, v.Panes()[0], r, 10).Arrows; len(arrows) != 0 {
		t.Errorf("arrows beyond the pane: %v", arrows)
	}
}

// The local register is taken off where it is on; another key is gone through.
func TestArrowsOfTheRegisterAsItIs(t *testing.T) {
	v, s := pinned(t)
	do(t, v, s, TakeLook{"edges"})
	s.LocalOn = true
	s.Local[2] = warp.Local{W: 1001, H: 700, CX: [7]float64{0: 6}} // at u = (480-500)/500: 6·(3·0.0016-1)/2 = -2.9856
	r := residual(s)
	got := v.ArrowsIn(s, v.Panes()[0], r, 10).Arrows
	if last := got[len(got)-1]; last.DX != 19.9 { // (-1 + 2.9856)·10
		t.Errorf("less the local register it is %g long, want 19.9", last.DX)
	}

	s.LocalOn = false
	s.Key = "blue"
	s.Found[2].Matrix = affine.Translate(7, -4)
	r.Found = s.Found
	v.Follow(s)
	v.Centre = [2]float64{500, 350}
	if got := v.ArrowsIn(s, v.Panes()[0], r, 10).Arrows[0]; got.X != 417 || got.Y != 255 || got.DX != 20 {
		t.Errorf("against the blue key it is %+v, want it 7 to the right and 4 up", got)
	}
}

func TestResidualBelongsToItsRegister(t *testing.T) {
	v, s := pinned(t)
	r := residual(s)
	if !r.Known(s) {
		t.Error("what register left does not fit it")
	}
	s.Found[0].Confidence = 0.5
	s.Survey = [3]survey.Map{}
	if r.Known(s) || v.Do(GoToWorst{}, Subject{s, r}) == nil {
		t.Error("what another register left is shown")
	}
	if (&Residual{Found: s.Found}).Known(s) {
		t.Error("something is known where nothing was measured")
	}
}

// surveyed has the picture surveyed in 4 × 2 cells of 250 pixels a side: the red plate lies
// 3 px off at the upper right, and shows nothing at the lower left; the blue one lies as
// found.
func surveyed(s *session.State) {
	grid := survey.New([4]int{0, 0, 1000, 500}, 8)
	grid.Cells = strings.Repeat(string(survey.Measured), 8)
	s.FoundKey = s.KeySource()
	for _, f := range []filter.Filter{filter.Red, filter.Blue} {
		m := grid
		m.DX, m.DY, m.Within = make([]float64, 8), make([]float64, 8), make([]float64, 8)
		if f == filter.Red {
			m.DX[3] = 3
			m.Cells = "mmmmeemm"
		}
		s.Survey[s.Assign[f]] = m
	}
}

// After a reload the fields are gone, and the survey that the session keeps is drawn: an
// arrow in the middle of each cell that was measured, and what was not hatched.
func TestArrowsOfTheSurvey(t *testing.T) {
	v, s := pinned(t)
	surveyed(s)
	do(t, v, s, TakeLook{"edges"})
	do(t, v, s, Zoom{Fit: true})
	r := &Residual{}
	if !r.Known(s) {
		t.Fatal("what the session keeps of register is not known")
	}
	pane := v.Panes()[0]
	got := v.ArrowsIn(s, pane, r, 10)
	if len(got.Arrows) != 6+8 {
		t.Errorf("%d arrows", len(got.Arrows))
	}
	if long := slices.MaxFunc(got.Arrows, func(a, b Arrow) int { return cmp.Compare(a.DX, b.DX) }); long.DX != 30 || long.Printer != "cyan" {
		t.Errorf("the longest is %+v", long)
	}
	x0, y0 := v.PixelAt(pane, got.Blank[0][0], got.Blank[0][1])
	x1, y1 := v.PixelAt(pane, got.Blank[0][0]+got.Blank[0][2], got.Blank[0][1]+got.Blank[0][3])
	for i, d := range []float64{x0 + 0.5, y0 - 249.5, x1 - 499.5, y1 - 499.5} {
		if math.Abs(d) > 1 {
			t.Errorf("edge %d of what was not measured lies %.1f px off: %v", i, d, got.Blank)
		}
	}
	if len(got.Blank) != 1 {
		t.Errorf("blank: %v", got.Blank)
	}
}

// Going to the worst place shows the two plates that lie apart there, where a place was
// measured, and rings the spot in every look; the whole picture ends it.
func TestWorstPairInEveryLook(t *testing.T) {
	v, s := pinned(t)
	surveyed(s)
	r := &Residual{Found: s.Found, Fields: [3][]register.Offset{}}
	r.Fields[s.Assign[filter.Red]] = []register.Offset{{X: 900, Y: 200, DX: 3.2, Certainty: 0.9}, {X: 100, Y: 100, Certainty: 0.9}}
	v.Edges, v.Plates = [2]int{0, 1}, [2]int{0, 1}
	if err := v.Do(GoToWorst{}, Subject{s, r}); err != nil {
		t.Fatal(err)
	}
	at := v.WorstAt(s)
	if at.Off != 3 || at.X != 900 || at.Y != 200 || at.First != filter.Red {
		t.Errorf("the worst place is %+v", at)
	}
	if pair := [2]int{int(at.First.Printer()), int(at.Second.Printer())}; v.Edges != pair || v.Plates != pair {
		t.Errorf("edges of %v, plates %v are shown, not of %v", v.Edges, v.Plates, pair)
	}
	for _, l := range Looks {
		do(t, v, s, TakeLook{l.ID})
		if l.ID == "board" {
			continue
		}
		for _, p := range v.Panes() {
			if v.ArrowsIn(s, p, r, 10).Ring == nil && p.wholeW == p.W { // of a divided picture one half has it
				t.Errorf("look %s, %s: no ring", l.ID, p.ID)
			}
		}
	}
	do(t, v, s, TakeLook{"beside"})
	do(t, v, s, Zoom{Fit: true})
	if v.WorstAt(s) != nil {
		t.Error("the whole picture does not end the walk")
	}
}

// The worst place first, then the next, then the worst again.
func TestWorst(t *testing.T) {
	v, s := pinned(t)
	s.Survey = [3]survey.Map{} // then the places of the fields are walked over
	do(t, v, s, Zoom{Fit: true})
	on := Subject{s, residual(s)}
	for n, want := range [][2]float64{{600, 400}, {510, 340}, {600, 400}} {
		if err := v.Do(GoToWorst{}, on); err != nil {
			t.Fatal(err)
		}
		if at := v.WorstAt(s); v.Centre != want || at.N != n%2+1 || at.Of != 2 || v.Zoom != 1 || v.Fitted {
			t.Errorf("step %d: at %v, want %v; %+v, zoom %g", n, v.Centre, want, at, v.Zoom)
		}
	}
	do(t, v, s, TakeLook{"edges"})
	if ring := v.ArrowsIn(s, v.Panes()[0], on.Residual, 10).Ring; ring == nil || *ring != [2]float64{400, 269} {
		t.Errorf("the ring is at %v, want the middle", ring)
	}
	s.Found[2].Confidence = 0.7 // registered anew
	on.Residual.Found = s.Found
	if v.WorstAt(s) != nil {
		t.Error("the place of the register before still stands")
	}
	if err := v.Do(GoToWorst{}, on); err != nil || v.WorstAt(s).N != 1 {
		t.Errorf("the walk over the new register does not begin at the worst: %v", err)
	}
}

func TestWhereArrowsAreShown(t *testing.T) {
	v, s := looking(t, "beside")
	shown := map[string]bool{}
	for _, on := range []bool{false, true} {
		do(t, v, s, ShowArrows{Hidden: !on})
		for _, l := range Looks {
			v.Look = l.ID
			shown[l.ID] = v.ArrowsShown()
			if want := l.ID != "marks" && (on || l.ID == "edges"); shown[l.ID] != want {
				t.Errorf("asked for: %t, look %s: shown %t", on, l.ID, shown[l.ID])
			}
		}
	}
}
