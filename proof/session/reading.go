package session

import (
	"encoding/json"
	"errors"
	"fmt"
)

// UnmarshalJSON reads a state over what s holds. A value of the wrong kind is named
// by its place in the file, not in words of the decoder.
func (s *State) UnmarshalJSON(text []byte) error {
	type plain State
	err := json.Unmarshal(text, (*plain)(s))
	kind, ok := errors.AsType[*json.UnmarshalTypeError](err)
	switch {
	case !ok:
		return err
	case kind.Field == "":
		return fmt.Errorf("its text is of the kind “%s”, and settings are an object", kind.Value)
	}
	return fmt.Errorf("“%s” cannot be of the kind “%s”", kind.Field, kind.Value)
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
	if err := s.Check(); err != nil {
		return State{}, fmt.Errorf("%s: %v; correct the file, or begin anew with the scans", name, err)
	}
	return s, nil
}
