//go:build js

package main

import (
	"syscall/js"
	"time"

	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// recipe reads a message's session for its tissues and light.
func recipe(m js.Value) (session.State, stack.Recipe, spectrum.Light, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return s, stack.Recipe{}, spectrum.Light{}, err
	}
	r, light, err := picture.Recipe(&s)
	return s, r, light, err
}

// profile: session → its recipe as an ICC output profile.
func profile(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	b := bytesTo(icc.Output(r, light, s.Limit, icc.Title(r, light, s.Limit), label.Tool(), time.Now(), func(share float64) {
		progress(share, "computing the ICC profile")
	}))
	return b, []any{b.Get("buffer")}, nil
}
