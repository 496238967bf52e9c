package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"threeply/proof/spread"
	"threeply/proof/strict"
)

// Write returns the state as indented JSON, always of the present Version.
func Write(s State) ([]byte, error) { return WriteFile(s, nil) }

// Written says what wrote a session to a file, when, and how it was looked at. It is no part of
// the state.
type Written struct {
	By    string `json:"by"`                                   // the tool with its version
	At    string `json:"at"`                                   // RFC 3339
	Sight string `json:"sight,omitempty" like:"written.sight"` // how it was looked at, JSON of the page's own; "" for nothing
}

// SightIn is how a session was looked at when it was written to a file, "" where its text does not
// say so.
func SightIn(text []byte) string {
	var f struct {
		Written Written `json:"written"`
	}
	if json.Unmarshal(bytes.TrimPrefix(text, []byte("\ufeff")), &f) != nil || len(f.Written.Sight) > LettersAt("written.sight") {
		return ""
	}
	return f.Written.Sight
}

// file is a session as it lies in a file.
type file struct {
	State
	Written *Written `json:"written,omitempty"`
}

// WriteFile is Write for a file that leaves the tool.
func WriteFile(s State, w *Written) ([]byte, error) {
	s.Version = Version
	return json.MarshalIndent(file{s, w}, "", "  ")
}

// The ends of messages: what to do about a text that is no session, and about one
// that is damaged.
const (
	openSaved = "open the .json that “Save the session” wrote"
	correctIt = "correct the file, or begin anew with the scans"
)

// firstOfThisKind is the version from which on each has the fields of the one before,
// and new ones that a text can leave out.
const firstOfThisKind = 3

// Read takes a saved state back: to the letter, older ones with what they did not have
// filled in. It refuses text that is no session, keys
// that are not known, sessions of a later version, and whatever the rest of the
// program does not stand, naming the file, the place, the reason and what to do.
func Read(name string, text []byte) (State, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // as some programs begin their texts
	var head struct {
		Version int `json:"version"`
	}
	if err := (strict.Reader{PassUnknown: true}).Read(text, &head); err != nil {
		return State{}, fmt.Errorf("%s: it is not a session of Threeply (%v); %s", name, err, openSaved)
	}
	var s State
	var err error
	switch v := head.Version; {
	case v < 1:
		return State{}, fmt.Errorf("%s: it is not a session of Threeply (its version is %d); %s", name, v, openSaved)
	case v > Version:
		return State{}, fmt.Errorf("%s: it was written by a later Threeply (session version %d, this one reads up to %d); reload the page to get the current one", name, v, Version)
	case v < firstOfThisKind:
		s, err = readOld(text)
	default:
		var doubts *spread.Unknowns
		var f file
		if text, doubts, err = earlier3(text); err == nil {
			err = strict.Read(text, &f)
		}
		if s = f.State; doubts != nil {
			s.Unknowns = doubts
		}
		s.Version = Version // what later versions have besides, the text of an earlier one leaves out
	}
	if err == nil {
		err = s.Check()
	}
	if err == nil {
		if wrong := s.checkPlans(); wrong != nil {
			err = wrong
		}
	}
	if f, ok := errors.AsType[*Fault](err); ok {
		return State{}, fmt.Errorf("%s: “%s”: %s; %s", name, f.Place, f.Reason, correctIt)
	}
	if err != nil {
		return State{}, fmt.Errorf("%s: %v; %s", name, err, correctIt)
	}
	return s, nil
}
