package session_test

import (
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// Each print but for one thing differs from the chosen one, can be shown, and is named apart.
func TestButs(t *testing.T) {
	s := sessiontest.Marked()
	names := map[string]bool{}
	for _, but := range s.Buts() {
		h, ok := s.But(but.What, but.ID)
		as, err := s.With(&h)
		if !ok || err != nil || h.Seen == s.Shown() || as.Shown() != h.Seen || h.Name != but.Name || names[h.Name] {
			t.Errorf("%v: %+v, %v", but, h, err)
		}
		names[h.Name] = true
	}
	if len(names) < 1+5+2+2+4+1 {
		t.Errorf("%d prints", len(names))
	}
	masked := s
	masked.Masked = true
	if h, _ := masked.But(session.ButWay, "straight"); h.Seen.Masked || !h.Seen.Way.Straight {
		t.Errorf("a straight print goes through masks: %+v", h.Seen)
	}
	for _, but := range [][2]string{{"way", "loud"}, {"order", "yyy"}, {"paper", "none"}, {"light", "moon"}, {"room", ""}, {"sheen", "gloss"}, {"finish", "wet"}} {
		if h, ok := s.But(but[0], but[1]); ok {
			t.Errorf("%v: %+v", but, h)
		}
	}
}
