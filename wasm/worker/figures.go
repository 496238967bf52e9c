//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"syscall/js"

	of "threeply/proof/figures"
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// figures: session → the figures of its recipe, as text.
func figures(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(of.Of(r, light, s.Limit))
	return string(text), nil, err
}

// sureness: session, and the densities of a point by printer or nothing → how sure the
// greys of its print are, or the point, as text.
func sureness(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	var sure []of.Sureness
	if at := m.Get("densities"); at.Truthy() {
		var d [3]float64
		for i := range d {
			v := at.Index(i)
			if v.Type() != js.TypeNumber || math.IsNaN(v.Float()) {
				return nil, nil, fmt.Errorf("the %s layer's plate has no density there", pigment.Printer(i))
			}
			d[i] = v.Float()
		}
		var one of.Sureness
		one, err = of.SureOfPoint(&s, d)
		sure = []of.Sureness{one}
	} else {
		sure, err = of.SureOfGreys(&s)
	}
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(sure)
	return string(text), nil, err
}
