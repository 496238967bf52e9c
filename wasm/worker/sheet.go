//go:build js

package main

import (
	"fmt"
	"syscall/js"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/sheet"
)

// parts collects a file as Uint8Arrays, so that a large one never lies in the
// program's own memory whole.
type parts struct{ list, buffers []any }

func (p *parts) Write(b []byte) (int, error) {
	v := bytesTo(b)
	p.list, p.buffers = append(p.list, v), append(p.buffers, v.Get("buffer"))
	return len(b), nil
}

// tiff: session, picture "red", "green" or "blue", for the plate of that filter, or
// "reference" → the parts of a TIFF of 16 bits in the key's frame.
func tiff(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	if err := export.InRegister(&s); err != nil {
		return nil, nil, err
	}
	var t sheet.TIFF
	wanted := m.Get("picture").String()
	progress(0, "resampling")
	switch wanted {
	case "reference":
		t = export.ReferencePicture(&s, planes, label.Now())
	case "red", "green", "blue":
		for _, f := range filter.All {
			if f.String() == wanted {
				t = export.RegisteredPlate(&s, planes, f, label.Now())
			}
		}
	default:
		return nil, nil, fmt.Errorf("no picture “%s” to save: there are red, green, blue and reference", wanted)
	}
	t.Progress = func(share float64) { progress(0.3+0.7*share, "writing the TIFF") }
	var out parts
	if err := t.Write(&out); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}
