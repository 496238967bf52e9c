//go:build js

package main

import (
	"encoding/json"
	"syscall/js"

	"threeply/proof/spectrum"
)

// paper: file → the CIELAB under D50 of a scanned sheet of paper and how its
// codes were read, as text.
func paper(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := decoded(m.Get("file"))
	if err != nil {
		return nil, nil, err
	}
	d50, _ := spectrum.LightByID("D50")
	text, err := json.Marshal(map[string]any{"lab": spectrum.XYZ(s.Middle()).Lab(d50.White), "read": s.Encoding})
	return string(text), nil, err
}
