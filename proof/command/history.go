package command

import (
	"threeply/proof/session"
)

// History is a state with its past and, after an undo, its future.
type History struct {
	session.State
	past, future []step
}

type step struct {
	state session.State // before the command, or after it in the future
	what  string
	merge string // commands of one continued gesture share it
}

// depth bounds the history; a State is about 4 kB, its slices shared.
const depth = 200

// NewHistory begins a history at a state.
func NewHistory(s session.State) *History { return &History{State: s} }

// Do carries a command out. On an error nothing changes. Commands of the same
// continued gesture (a drag, a held key) fold into one step of undo.
func (s *History) Do(c Command) error {
	next := s.State
	if err := c.apply(&next); err != nil {
		return err
	}
	if next.Equal(s.State) {
		return nil
	}
	merge := c.gesture()
	if n := len(s.past); merge == "" || n == 0 || s.past[n-1].merge != merge || len(s.future) > 0 {
		s.past = append(s.past, step{s.State, c.Words(), merge})
		if len(s.past) > depth {
			s.past = s.past[1:]
		}
	}
	s.future = nil
	s.State = next
	return nil
}

// Begin carries out a command that belongs to the start, such as the first
// register: where nothing was done yet, it leaves no step to go back over.
func (s *History) Begin(c Command) error {
	untouched := len(s.past) == 0 && len(s.future) == 0
	err := s.Do(c)
	if untouched {
		s.past = nil
	}
	return err
}

// Replace takes a whole other state, such as an opened session's, as one step.
func (s *History) Replace(next session.State, what string) {
	s.past = append(s.past, step{state: s.State, what: what})
	s.future = nil
	s.State = next
}

// EndGesture keeps the next command from folding into the last one.
func (s *History) EndGesture() {
	if n := len(s.past); n > 0 {
		s.past[n-1].merge = ""
	}
}

// Undo goes back a step; it does nothing at the beginning.
func (s *History) Undo() { s.travel(&s.past, &s.future) }

// Redo takes an undone step again; it does nothing at the end.
func (s *History) Redo() { s.travel(&s.future, &s.past) }

func (s *History) travel(from, to *[]step) {
	n := len(*from)
	if n == 0 {
		return
	}
	last := (*from)[n-1]
	*from = (*from)[:n-1]
	*to = append(*to, step{state: s.State, what: last.what})
	s.State = last.state
}

// UndoWords names the step that Undo goes back over, "" at the beginning.
func (s *History) UndoWords() string { return lastWhat(s.past) }

// RedoWords names the step that Redo takes, "" at the end.
func (s *History) RedoWords() string { return lastWhat(s.future) }

func lastWhat(steps []step) string {
	if len(steps) == 0 {
		return ""
	}
	return steps[len(steps)-1].what
}
