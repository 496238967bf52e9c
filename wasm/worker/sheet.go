//go:build js

package main

import (
	"io"
	"syscall/js"

	"threeply/proof/label"
	"threeply/proof/process"
	"threeply/proof/session"
	"threeply/proof/setter"
)

// parts collects a file as Uint8Arrays, so that a large one never lies in the
// program's own memory whole.
type parts struct{ list, buffers []any }

func (p *parts) Write(b []byte) (int, error) {
	v := bytesTo(b)
	p.list, p.buffers = append(p.list, v), append(p.buffers, v.Get("buffer"))
	return len(b), nil
}

// written are the parts of what write writes.
func written(write func(io.Writer) error) (any, []any, error) {
	var out parts
	if err := write(&out); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
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
	return written(wedge.Write)
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
	return written(sheet.Write)
}
