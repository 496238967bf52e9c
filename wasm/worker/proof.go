//go:build js

package main

import (
	"fmt"
	"syscall/js"
	"time"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/setter"
)

// Files that several workers draw: each call of the same job draws some of the bands; see
// draw. All of them say that they were made at one moment, at.

// drawn reads a message's session, has a file of it made ready, and draws of it what the page
// wants.
func drawn(m js.Value, progress func(float64, string), words string, ready func(s *session.State, planes [3]*plane.Plane, made label.Made) (drawing, error)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	planes := unread(&s)
	d, err := ready(&s, planes, label.Made{Tool: label.Tool(), At: time.UnixMilli(int64(m.Get("at").Float()))})
	if err != nil {
		return nil, nil, err
	}
	result, transfer, err := draw(m, d, planes, func(share float64) { progress(share, words) })
	if joined, ok := result.(map[string]any); ok {
		joined["note"] = export.NotInRegister(&s)
	}
	return result, transfer, err
}

// proof: session, at, picture "print" or "reference", space "srgb" or "p3", form "png"
// or "tiff", crop to the picture, margin with words → the file at the key's full size, and a
// note where its plates are not in register.
func proof(m js.Value, progress func(float64, string)) (any, []any, error) {
	return drawn(m, progress, "rendering the "+m.Get("picture").String(), func(s *session.State, planes [3]*plane.Plane, made label.Made) (drawing, error) {
		space, err := export.SpaceOf(m.Get("space").String())
		if err != nil {
			return drawing{}, err
		}
		kind := render.Print
		if m.Get("picture").String() == "reference" {
			kind = render.Reference
		}
		printing, err := printingOf(m, s)
		if err != nil {
			return drawing{}, err
		}
		p := export.ProofOf(s, printing, planes, kind, space, made)
		if m.Get("crop").Truthy() {
			p.Crop(s, planes)
		}
		if m.Get("margin").Truthy() {
			if err := p.Mount(); err != nil {
				return drawing{}, err
			}
		}
		switch form := m.Get("form").String(); form {
		case "png":
			return drawing{p.PNG(), p.Needs}, nil
		case "tiff":
			return drawing{p.TIFF(), p.Needs}, nil
		default:
			return drawing{}, fmt.Errorf("no form “%s” for a proof: there are png and tiff", form)
		}
	})
}

// tiff: session, at, picture "red", "green" or "blue", for the plate of that filter, or
// "reference" → a TIFF of 16 bits in the key's frame.
func tiff(m js.Value, progress func(float64, string)) (any, []any, error) {
	return drawn(m, progress, "writing the TIFF", func(s *session.State, planes [3]*plane.Plane, made label.Made) (drawing, error) {
		if err := export.InRegister(s); err != nil {
			return drawing{}, err
		}
		wanted := m.Get("picture").String()
		if wanted == "reference" {
			d := export.ReferencePicture(s, planes, made)
			return drawing{d, d.Needs}, nil
		}
		for _, f := range filter.All {
			if f.String() == wanted {
				d := export.RegisteredPlate(s, planes, f, made)
				return drawing{d, d.Needs}, nil
			}
		}
		return drawing{}, fmt.Errorf("no picture “%s” to save: there are red, green, blue and reference", wanted)
	})
}

// negative: session, at, printer → that layer's printing negative, and a note on what to mind
// of it.
func negative(m js.Value, progress func(float64, string)) (any, []any, error) {
	name := m.Get("printer").String()
	return drawn(m, progress, "drawing the "+name+" negative", func(s *session.State, planes [3]*plane.Plane, made label.Made) (drawing, error) {
		for _, p := range pigment.Printers() {
			if p.String() != name {
				continue
			}
			printing, err := printingOf(m, s)
			if err != nil {
				return drawing{}, err
			}
			n, err := setter.Of(s, printing, planes, made)
			if err != nil {
				return drawing{}, err
			}
			t, err := n.TIFF(p)
			return drawing{t, n.Needs(p)}, err
		}
		return drawing{}, fmt.Errorf("no layer “%s”: there are yellow, magenta and cyan", name)
	})
}
