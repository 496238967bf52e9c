//go:build js

package main

import (
	"encoding/json"
	"syscall/js"

	"threeply/proof/audit"
	"threeply/proof/levels"
	"threeply/proof/session"
	"threeply/proof/strict"
)

// enough reads a message's session and fetches its planes, no finer than greys are
// read of.
func enough(m js.Value) (s session.State, planes levels.Planes, err error) {
	if s, err = session.Read("the session", []byte(m.Get("session").String())); err == nil {
		planes.Level = levels.EnoughLevel(&s)
		planes.By, err = fetchLevel(m, &s, planes.Level)
	}
	return s, planes, err
}

// findLevels: session, and what films are to rest on as a levels.Want → the films, as
// text.
func findLevels(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, planes, err := enough(m)
	if err != nil {
		return nil, nil, err
	}
	var want levels.Want
	text := js.Global().Get("JSON").Call("stringify", m.Get("want")).String()
	if err := strict.Read([]byte(text), &want); err != nil {
		return nil, nil, err
	}
	l, err := levels.Find(&s, planes, want)
	if err != nil {
		return nil, nil, err
	}
	out, err := json.Marshal(l)
	return string(out), nil, err
}

// auditOf: session, and blur, how far each source's edges are spread → an audit.Audit
// as text.
func auditOf(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, planes, err := enough(m)
	if err != nil {
		return nil, nil, err
	}
	var blur [3]float64
	for i := range blur {
		blur[i] = m.Get("blur").Index(i).Float()
	}
	a, err := audit.Of(&s, planes, blur)
	if err != nil {
		return nil, nil, err
	}
	out, err := json.Marshal(a)
	return string(out), nil, err
}
