//go:build js

package main

import (
	"encoding/json"
	"syscall/js"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// smallSide is the longer side of a small print, in pixels.
const smallSide = 320

// board: session, palette, and the reduced picture {level, frame, planes} → a
// small print with that palette, {w, h, rgba}, and its figures as text.
func board(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, err := reduced(m)
	if err != nil {
		return nil, nil, err
	}
	figures, img, err := picture.Try(&s, m.Get("palette").String(), r, smallSide)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(figures)
	if err != nil {
		return nil, nil, err
	}
	px := bytesTo(img.Pix)
	b := img.Bounds()
	return map[string]any{"w": b.Dx(), "h": b.Dy(), "rgba": px, "figures": string(text)}, []any{px.Get("buffer")}, nil
}

// masks: session and the reduced picture → how its print measures unmasked and
// masked, as text.
func masks(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, err := reduced(m)
	if err != nil {
		return nil, nil, err
	}
	w, err := picture.TryMasks(&s, r)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(w)
	return string(text), nil, err
}

// reduced reads a message's session and the picture that the page sends along.
func reduced(m js.Value) (session.State, picture.Reduced, error) {
	r := picture.Reduced{Level: m.Get("level").Int()}
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return s, r, err
	}
	for i := range r.Frame {
		r.Frame[i] = m.Get("frame").Index(i).Float()
	}
	for i := range r.Planes {
		p := m.Get("planes").Index(i)
		r.Planes[i] = plane.New(p.Get("w").Int(), p.Get("h").Int())
		js.CopyBytesToGo(bytesOf(r.Planes[i].Pix), p.Get("bytes"))
	}
	return s, r, nil
}
