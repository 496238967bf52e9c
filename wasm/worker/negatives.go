//go:build js

package main

import (
	"fmt"
	"syscall/js"

	"threeply/proof/export"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/process"
	"threeply/proof/session"
	"threeply/proof/setter"
)

// negative: session, printer → the parts of that layer's printing negative, and notes on
// what to mind of it.
func negative(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range pigment.Printers() {
		if p.String() != m.Get("printer").String() {
			continue
		}
		made, err := setter.New(&s, planes, label.Now())
		if err != nil {
			return nil, nil, err
		}
		t, err := made.TIFF(p)
		if err != nil {
			return nil, nil, err
		}
		t.Progress = func(share float64) { progress(share, "drawing the "+p.String()+" negative") }
		var out parts
		if err := t.Write(&out); err != nil {
			return nil, nil, err
		}
		return map[string]any{"parts": out.list, "note": export.NotInRegister(&s)}, out.buffers, nil
	}
	return nil, nil, fmt.Errorf("no layer “%s”: there are yellow, magenta and cyan", m.Get("printer").String())
}

// filmWedge: session → the parts of the film's own wedge.
func filmWedge(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	wedge, err := setter.OwnWedge(s.Setup(), label.Now())
	if err != nil {
		return nil, nil, err
	}
	var out parts
	if err := wedge.Write(&out); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}

// processSheet: session → the parts of its process sheet, an HTML page.
func processSheet(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	sheet, err := process.Of(&s, label.Now())
	if err != nil {
		return nil, nil, err
	}
	var out parts
	if err := sheet.Write(&out); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}
