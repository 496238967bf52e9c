package command

import (
	"fmt"

	"threeply/proof/pigment"
	"threeply/proof/session"
)

// History is a state with the steps that led to it and, after an undo, those that
// can be taken again.
type History struct {
	session.State         // as it is now: that of steps[at]
	steps         []entry // the oldest first
	first         int     // number of steps[0]
	at            int     // place of the present step in steps
	serial        int
	revision      int
}

// entry is a step as it is held: its state may wait to be read.
type entry struct {
	lean
	read    func() (session.State, error) // gives the state where it was not read yet; nil once it was
	words   string                        // names the command that led here, "" for the first
	gesture string                        // steps of one continued gesture are one
	serial  int
}

// Step is one state of a history, for what keeps it.
type Step struct {
	Number int    // stays the same while the step is kept
	Words  string // names the command that led here, "" for the first
	Serial int    // is another one once the step holds another state
	State  func() (session.State, error)
}

// depth bounds the steps that can be undone; a State is about 4 kB, its slices
// shared, and so are blocks of its notes.
const depth = 200

// NewHistory begins a history at a state.
func NewHistory(s session.State) *History {
	return &History{State: s, steps: []entry{{lean: leanOf(s, &lean{})}}}
}

// Restore takes up a history that was kept: its steps from the oldest on, and the
// place among them of the present one. Only that one is read at once; a step that
// cannot be read is refused when it is gone to. The serial numbers of the steps are
// their places.
func Restore(steps []Step, at int) (*History, error) {
	if at < 0 || at >= len(steps) {
		return nil, fmt.Errorf("a history of %d steps has no step %d", len(steps), at)
	}
	h := &History{first: steps[0].Number, at: at, serial: len(steps)}
	for i, s := range steps {
		h.steps = append(h.steps, entry{read: s.State, words: s.Words, serial: i})
	}
	err := h.goTo(at)
	h.revision = 0
	return h, err
}

// Do carries a command out. On an error nothing changes, nor does anything where the
// command leaves all as it was. Commands that come one after another with the same
// gesture, such as those of a drag or of a held key, are one step of undo; with the
// gesture "" each is a step of its own.
func (h *History) Do(c Command, gesture string) error {
	next, err := h.after(c)
	if err != nil || next.Equal(h.State) {
		return err
	}
	if now := h.steps[h.at]; gesture != "" && now.gesture == gesture && h.at == len(h.steps)-1 && h.at > 0 {
		h.put(next, now.words, gesture)
		return nil
	}
	h.add(next, c.Words(), gesture)
	return nil
}

// Glide goes on with the gesture of a NudgeBy, moving its layer further, and tells whether it
// did: where that is not the last step, or the layer cannot lie there, NudgeBy is for it.
// It allocates nothing, so that the layer follows a hand.
func (h *History) Glide(p pigment.Printer, dxUm, dyUm float64, gesture string) bool {
	e := &h.steps[h.at]
	if gesture == "" || e.gesture != gesture || e.words != (NudgeBy{}).Words() || h.at != len(h.steps)-1 || h.Locked[p] {
		return false
	}
	o := h.Offsets[p]
	o.DX, o.DY = o.DX+dxUm, o.DY+dyUm
	across, _ := session.RangeAt("offsets.dx_um")
	down, _ := session.RangeAt("offsets.dy_um")
	if !session.Within(o.DX, across.Low, across.High) || !session.Within(o.DY, down.Low, down.High) {
		return false
	}
	h.serial++
	h.Offsets[p], e.state.Offsets[p], e.serial = o, o, h.serial
	h.revision++
	return true
}

// Begin carries out a command that belongs to the start, such as the first
// register: where nothing was done yet, it leaves no step to go back over.
func (h *History) Begin(c Command) error {
	if len(h.steps) > 1 {
		return h.Do(c, "")
	}
	next, err := h.after(c)
	if err == nil {
		h.put(next, "", "")
	}
	return err
}

// after is the state as a command makes it, where that is sound.
func (h *History) after(c Command) (session.State, error) {
	next := h.State
	if err := c.Apply(&next); err != nil {
		return session.State{}, err
	}
	next.KeepSeen(&h.State)
	return next, next.Check()
}

// Replace takes a whole other state, such as an opened session's, as one step.
func (h *History) Replace(next session.State, words string) {
	h.add(next, words, "")
}

// put changes what the present step holds.
func (h *History) put(s session.State, words, gesture string) {
	h.serial++
	now := &h.steps[h.at]
	*now = entry{lean: leanOf(s, &now.lean), words: words, gesture: gesture, serial: h.serial}
	h.State = s
	h.revision++
}

// add makes a new step; those that could be redone are gone.
func (h *History) add(s session.State, words, gesture string) {
	h.steps = append(h.steps[:h.at+1:h.at+1], entry{lean: h.steps[h.at].lean})
	h.at++
	if h.at > depth {
		h.steps = h.steps[1:]
		h.first++
		h.at--
	}
	h.put(s, words, gesture)
}

// Peek is the state so many steps on, or back where steps is negative; the present one
// where there is none. It fails where that step was kept and cannot be read.
func (h *History) Peek(steps int) (session.State, error) {
	if at := h.at + steps; at >= 0 && at < len(h.steps) {
		err := h.load(at)
		return h.steps[at].whole(), err
	}
	return h.State, nil
}

// Before is the last state before the present one in which the print was another one; ok is
// false where there is none. It fails where a step in between was kept and cannot be read.
func (h *History) Before() (was session.State, ok bool, err error) {
	now := h.Shown()
	for at := h.at - 1; at >= 0; at-- {
		if err := h.load(at); err != nil {
			return was, false, err
		}
		if e := &h.steps[at]; e.state.Shown() != now {
			return e.whole(), true, nil
		}
	}
	return was, false, nil
}

// Go goes so many steps on, or back where steps is negative; see Undo.
func (h *History) Go(steps int) error { return h.goTo(h.at + steps) }

// load reads a step's state where that was not read yet.
func (h *History) load(at int) error {
	e := &h.steps[at]
	if e.read == nil {
		return nil
	}
	s, err := e.read()
	if err == nil {
		e.lean, e.read = leanOf(s, &h.steps[h.at].lean), nil
	}
	return err
}

// Undo goes back a step; it does nothing at the beginning. It fails, and changes
// nothing, where that step was kept and cannot be read.
func (h *History) Undo() error { return h.goTo(h.at - 1) }

// Redo takes an undone step again; it does nothing at the end. It fails as Undo
// does.
func (h *History) Redo() error { return h.goTo(h.at + 1) }

func (h *History) goTo(at int) error {
	if at < 0 || at >= len(h.steps) {
		return nil
	}
	if err := h.load(at); err != nil {
		return err
	}
	h.steps[h.at].gesture = "" // what comes after going there is not part of it
	h.at, h.State = at, h.steps[at].whole()
	h.revision++
	return nil
}

// UndoWords names the step that Undo goes back over, "" at the beginning.
func (h *History) UndoWords() string { return h.steps[h.at].wordsUnlessFirst(h.at) }

// RedoWords names the step that Redo takes, "" at the end.
func (h *History) RedoWords() string {
	if h.at+1 == len(h.steps) {
		return ""
	}
	return h.steps[h.at+1].words
}

// wordsUnlessFirst are the words of a step at a place: the oldest cannot be gone
// back over.
func (e entry) wordsUnlessFirst(at int) string {
	if at == 0 {
		return ""
	}
	return e.words
}

// Steps gives all steps, the oldest first, and the place of the present one.
func (h *History) Steps() (steps []Step, at int) {
	for i, e := range h.steps {
		state := e.read
		if state == nil {
			state = func() (session.State, error) { return e.whole(), nil }
		}
		steps = append(steps, Step{Number: h.first + i, Words: e.words, Serial: e.serial, State: state})
	}
	return steps, h.at
}

// Revision grows with everything that changes the history, undo and redo included.
func (h *History) Revision() int { return h.revision }
