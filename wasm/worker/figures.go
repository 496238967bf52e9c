//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	of "threeply/proof/figures"
	"threeply/proof/pigment"
)

// figures: session → the figures of its recipe, as text.
func figures(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(of.Of(r, light, s.Limit, s.Spread))
	return string(text), nil, err
}

// sureness: session, thickness by printer → how sure that colour is, as text.
func sureness(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	var t [3]float64
	for _, p := range pigment.Printers() {
		v := m.Get("thickness").Get(p.String())
		if v.Type() != js.TypeNumber || !(v.Float() >= 0) {
			return nil, nil, fmt.Errorf("the %s layer has no thickness there", p)
		}
		t[p] = v.Float()
	}
	text, err := json.Marshal(of.SureOf("the point", s.Spread, r, light, t))
	return string(text), nil, err
}
