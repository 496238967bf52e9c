package session

import (
	"encoding/json"
	"fmt"
)

// Session is a state with its past and, after an undo, its future.
type Session struct {
	State
	past, future []step
}

type step struct {
	state State // before the command, or after it in the future
	what  string
	merge string // commands of one continued gesture share it
}

// depth bounds the history; a State is about 4 kB, its slices shared.
const depth = 200

// NewSession begins a history at a state.
func NewSession(s State) *Session { return &Session{State: s} }

// Do carries a command out. On an error nothing changes. Commands of the same
// continued gesture (a drag, a held key) fold into one step of undo.
func (s *Session) Do(c Command) error {
	next := s.State
	if err := c.apply(&next); err != nil {
		return err
	}
	if next.Equal(s.State) {
		return nil
	}
	merge := c.gesture()
	if n := len(s.past); merge == "" || n == 0 || s.past[n-1].merge != merge || len(s.future) > 0 {
		s.past = append(s.past, step{s.State, c.What(), merge})
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
func (s *Session) Begin(c Command) error {
	untouched := len(s.past) == 0 && len(s.future) == 0
	err := s.Do(c)
	if untouched {
		s.past = nil
	}
	return err
}

// Replace takes a whole other state, such as an opened session's, as one step.
func (s *Session) Replace(next State, what string) {
	s.past = append(s.past, step{state: s.State, what: what})
	s.future = nil
	s.State = next
}

// EndGesture keeps the next command from folding into the last one.
func (s *Session) EndGesture() {
	if n := len(s.past); n > 0 {
		s.past[n-1].merge = ""
	}
}

// Undo goes back a step; it does nothing at the beginning.
func (s *Session) Undo() { s.travel(&s.past, &s.future) }

// Redo takes an undone step again; it does nothing at the end.
func (s *Session) Redo() { s.travel(&s.future, &s.past) }

func (s *Session) travel(from, to *[]step) {
	n := len(*from)
	if n == 0 {
		return
	}
	last := (*from)[n-1]
	*from = (*from)[:n-1]
	*to = append(*to, step{state: s.State, what: last.what})
	s.State = last.state
}

// UndoWhat names the step that Undo goes back over, "" at the beginning.
func (s *Session) UndoWhat() string { return lastWhat(s.past) }

// RedoWhat names the step that Redo takes, "" at the end.
func (s *Session) RedoWhat() string { return lastWhat(s.future) }

func lastWhat(steps []step) string {
	if len(steps) == 0 {
		return ""
	}
	return steps[len(steps)-1].what
}

// Write returns the state as indented JSON.
func Write(s State) ([]byte, error) { return json.MarshalIndent(s, "", "  ") }

// Read takes a saved state back. It refuses text that is no session, sessions
// of a later version and values out of range, naming the file, the reason and
// what to do.
func Read(name string, text []byte) (State, error) {
	s := New()
	s.Version = 0
	if err := json.Unmarshal(text, &s); err != nil {
		return State{}, fmt.Errorf("%s: it is not a session of Threeply (%v); open the .json that “Save the session” wrote", name, err)
	}
	if s.Version < 1 {
		return State{}, fmt.Errorf("%s: it is not a session of Threeply (no version); open the .json that “Save the session” wrote", name)
	}
	if s.Version > Version {
		return State{}, fmt.Errorf("%s: it was written by a later Threeply (session version %d, this one reads up to %d); reload the page to get the current one", name, s.Version, Version)
	}
	if err := s.check(); err != nil {
		return State{}, fmt.Errorf("%s: %v; correct the file, or begin anew with the scans", name, err)
	}
	return s, nil
}
