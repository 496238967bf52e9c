package model

import (
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/warp"
)

// Where plates are out of register the page says what can be done: a bend where one would better
// it, marks where none would or one is on already. Else it says nothing.
func TestWhatNextOutOfRegister(t *testing.T) {
	bend := warp.Local{W: 1000, H: 700, CX: [7]float64{1}, Before: warp.Residual{Median: 2, P95: 3}, After: warp.Residual{Median: 0.1, P95: 0.4}}
	for name, c := range map[string]struct {
		off  float64
		do   func(s *session.State)
		says string
	}{
		"in register": {0.05, func(*session.State) {}, ""},
		"out of it":   {2, func(*session.State) {}, "Marks"},
		"bent":        {2, func(s *session.State) { s.Local[0] = bend }, "A smooth bend"},
		"bent, by a bend that betters nothing": {2, func(s *session.State) {
			s.Local[0] = bend
			s.Local[0].After = bend.Before
		}, "Marks"},
	} {
		s := sessiontest.Opened()
		s.Survey[0] = sessiontest.Surveyed(c.off)
		c.do(&s)
		got := makeRegister(registerOn{session: s}).Register
		if got.Next == "" != (c.says == "") || !strings.Contains(got.Next, c.says) {
			t.Errorf("%s: “%s”: %q, want it to name %q", name, got.Sentence, got.Next, c.says)
		}
	}
}
