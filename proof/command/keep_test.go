package command

import (
	"errors"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// The numbers and serial numbers of steps tell what of a history has changed since
// it was kept.
func TestStepsTellWhatChanged(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	must(t, h, Order{Order: "cmy"}, Palette{ID: "earth"}, Limit{Value: 0.9})
	before, _ := h.Steps()
	revision := h.Revision()
	if err := h.Undo(); err != nil {
		t.Fatal(err)
	}
	if after, at := h.Steps(); at != 2 || len(after) != 4 || h.Revision() == revision {
		t.Errorf("after undo: step %d of %d", at, len(after))
	}
	must(t, h, Light{ID: "A"})
	after, at := h.Steps()
	if at != 3 || len(after) != 4 {
		t.Fatalf("after another command: step %d of %d", at, len(after))
	}
	for i := range after {
		if same := before[i].Serial == after[i].Serial; same != (i < 3) || after[i].Number != i {
			t.Errorf("step %d: number %d, serial %d, before %d", i, after[i].Number, after[i].Serial, before[i].Serial)
		}
	}
}

func TestTheOldestStepsMakeRoom(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	for i := range depth + 10 {
		must(t, h, Limit{Value: float64(i%7+3) / 10})
	}
	steps, at := h.Steps()
	if len(steps) != depth+1 || at != depth || steps[0].Number != 10 {
		t.Errorf("%d steps, at %d, the first is number %d", len(steps), at, steps[0].Number)
	}
	for h.UndoWords() != "" {
		if err := h.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if h.Limit != 0.5 { // the tenth command's: (9 mod 7 + 3)/10
		t.Errorf("the oldest step has limit %g", h.Limit)
	}
}

func TestAHistoryIsTakenUpAgain(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	must(t, h, Order{Order: "cmy"}, Palette{ID: "earth"}, Light{ID: "A"})
	if err := h.Undo(); err != nil {
		t.Fatal(err)
	}
	steps, at := h.Steps()
	reads := make([]int, len(steps))
	for i, s := range steps {
		steps[i].State = func() (session.State, error) {
			if reads[i]++; i == 0 {
				return session.State{}, errors.New("step 0 is damaged")
			}
			return s.State()
		}
	}
	again, err := Restore(steps, at)
	if err != nil {
		t.Fatal(err)
	}
	if reads[0]+reads[1]+reads[3] != 0 || reads[2] != 1 {
		t.Errorf("the steps were read %v times", reads)
	}
	if !again.State.Equal(h.State) || again.UndoWords() != "palette" || again.RedoWords() != "light" {
		t.Errorf("undo %q, redo %q", again.UndoWords(), again.RedoWords())
	}
	if err := again.Undo(); err != nil || again.Palette == "earth" || again.Order != "cmy" {
		t.Errorf("after undo: %v, %s, %s", err, again.Palette, again.Order)
	}
	if err := again.Undo(); err == nil || again.Order != "cmy" {
		t.Errorf("a damaged step is gone to: %v", err)
	}
	for _, wrong := range []int{-1, len(steps)} {
		if _, err := Restore(steps, wrong); err == nil {
			t.Errorf("step %d is taken up", wrong)
		}
	}
}
