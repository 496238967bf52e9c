package command

import (
	"testing"

	"threeply/proof/place"
	"threeply/proof/session/sessiontest"
	"threeply/proof/verdict"
	"threeply/proof/warp"
)

// The local register is switched for one plate or for all.
func TestLocalForOnePlate(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	for i := range 3 {
		s.Local[i] = warp.Local{W: 1000, H: 700}
	}
	on := func() (out [3]bool) {
		for i := range out {
			out[i] = place.Local(&s.State, i) != nil
		}
		return out
	}
	for _, step := range []struct {
		c    Command
		want [3]bool
	}{
		{Local{On: true, Filter: "red"}, [3]bool{true, false, false}},
		{Local{On: true, Filter: "blue"}, [3]bool{true, false, true}},
		{Local{On: false, Filter: "red"}, [3]bool{false, false, true}},
		{Local{On: false, Filter: "blue"}, [3]bool{}},
		{Local{On: true}, [3]bool{true, true, true}},
		{Local{On: false, Filter: "red"}, [3]bool{false, true, true}},
		{Local{On: true}, [3]bool{true, true, true}},
		{Local{}, [3]bool{}},
	} {
		must(t, s, step.c)
		if on() != step.want {
			t.Errorf("%+v: %v, want %v", step.c, on(), step.want)
		}
	}
	if err := s.Do(Local{On: true, Filter: "violet"}, ""); err == nil {
		t.Error("a violet plate is bent")
	}
	// What lies elsewhere does not bend with the film.
	s.Found[0].Max, s.Found[0].P95, s.Outvoted[0] = 12, 9, 0.2
	must(t, s, Local{On: true})
	if r := verdict.RestOf(&s.State, 0); !r.Local || r.Max != 12 || r.P95 != 9 {
		t.Errorf("outvoted places are gone: %+v", r)
	}
}
