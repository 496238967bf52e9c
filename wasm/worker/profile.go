//go:build js

package main

import (
	"syscall/js"
	"time"

	"threeply/proof/balance"
	"threeply/proof/icc"
	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// recipe reads a message's session for its tissues and light.
func recipe(m js.Value) (stack.Recipe, spectrum.Light, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return stack.Recipe{}, spectrum.Light{}, err
	}
	return picture.Recipe(&s)
}

// profile: session → its recipe as an ICC output profile.
func profile(m js.Value, _ func(float64, string)) (any, []any, error) {
	r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	b := bytesTo(icc.Output(r, light, balance.DefaultLimit, icc.Title(r, light), time.Now()))
	return b, []any{b.Get("buffer")}, nil
}
