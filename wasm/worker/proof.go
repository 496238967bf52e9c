//go:build js

package main

import (
	"fmt"
	"syscall/js"

	"threeply/proof/export"
	"threeply/proof/label"
	"threeply/proof/render"
)

// proof: session, picture "print" or "reference", space "srgb" or "p3", form "png"
// or "tiff", crop to the picture, margin with words → the parts of the file at the key's full size, and a note where its
// plates are not in register.
func proof(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	space, err := export.SpaceOf(m.Get("space").String())
	if err != nil {
		return nil, nil, err
	}
	kind := render.Print
	if m.Get("picture").String() == "reference" {
		kind = render.Reference
	}
	p, err := export.NewProof(&s, planes, kind, space, label.Now())
	if err != nil {
		return nil, nil, err
	}
	if m.Get("crop").Truthy() {
		p.Crop(&s, planes)
	}
	if m.Get("margin").Truthy() {
		if err := p.Mount(); err != nil {
			return nil, nil, err
		}
	}
	p.Progress = func(share float64) { progress(share, "rendering the "+m.Get("picture").String()) }
	var out parts
	switch form := m.Get("form").String(); form {
	case "png":
		err = p.WritePNG(&out)
	case "tiff":
		err = p.WriteTIFF(&out)
	default:
		err = fmt.Errorf("no form “%s” for a proof: there are png and tiff", form)
	}
	if err != nil {
		return nil, nil, err
	}
	return map[string]any{"parts": out.list, "note": export.NotInRegister(&s)}, out.buffers, nil
}
