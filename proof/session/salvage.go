package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"threeply/proof/strict"
)

// Salvage is Read for a text that may be damaged: what cannot be read begins anew, as New
// has it, and is named in lost. It fails where the text is of a later version, where its
// scans cannot be read, or where it is none at all; then the error is Read's.
func Salvage(name string, text []byte) (s State, lost []string, err error) {
	s, whole := Read(name, text)
	if whole == nil {
		return s, nil, nil
	}
	parts, cut := topOf(bytes.TrimPrefix(text, []byte("\ufeff")))
	var version int
	if json.Unmarshal(parts["version"], &version) != nil || version < firstOfThisKind || version > Version || parts["sources"] == nil || parts["assign"] == nil {
		return State{}, nil, whole
	}
	usual, err := Write(New())
	if err != nil {
		return State{}, nil, err
	}
	begin, _ := topOf(usual)
	for key, v := range begin { // what the text lacks
		if parts[key] == nil {
			parts[key] = v
			lost = append(lost, key)
		}
	}
	if cut {
		lost = append(lost, "what stood at its end")
	}
	for range len(parts) {
		joined, err := json.Marshal(parts)
		if err != nil {
			return State{}, nil, whole
		}
		s, err := Read(name, joined)
		if err == nil {
			slices.Sort(lost)
			return s, lost, nil
		}
		key := damagedPart(joined)
		if key == "" || key == "version" || key == "sources" || key == "assign" {
			return State{}, nil, whole
		}
		lost = append(lost, key)
		again := []string{key}
		if slices.Contains(ofRegister, key) { // a part of a register is none
			again = ofRegister
		}
		for _, key := range again {
			if v, usual := begin[key]; usual {
				parts[key] = v
			} else {
				delete(parts, key)
			}
		}
	}
	return State{}, nil, whole
}

// ofRegister are the parts that say together where the plates were found.
var ofRegister = []string{"registered", "found", "found_key", "local"}

// damagedPart names the top part of a text that Read refuses, "" where it cannot tell.
func damagedPart(text []byte) string {
	var f file
	err := strict.Read(text, &f)
	if err == nil {
		f.Version = Version
		err = f.State.Check()
	}
	if err == nil {
		if wrong := f.State.checkPlans(); wrong != nil {
			err = wrong
		}
	}
	place := ""
	if e, ok := errors.AsType[*strict.Error](err); ok {
		place = e.Place
	}
	if e, ok := errors.AsType[*Fault](err); ok {
		place = e.Place
	}
	key, _, _ := strings.Cut(place, ".")
	key, _, _ = strings.Cut(key, "[")
	return key
}

// topOf are the whole fields of an object at its top, as far as the text can be read; cut
// says that it could not be read to its end.
func topOf(text []byte) (parts map[string]json.RawMessage, cut bool) {
	parts = map[string]json.RawMessage{}
	d := json.NewDecoder(bytes.NewReader(text))
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return parts, true
	}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return parts, true
		}
		var v json.RawMessage
		if err := d.Decode(&v); err != nil {
			return parts, true
		}
		parts[fmt.Sprint(key)] = v
	}
	_, err := d.Token()
	return parts, err != nil
}
