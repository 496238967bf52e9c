//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/session"
)

// The longer sides of small prints in pixels: on the board, and three in a row.
const (
	smallSide = 320
	thirdSide = 200
)

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

// ways: session and the reduced picture → how its print measures tuned and straight, as text.
func ways(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, err := reduced(m)
	if err != nil {
		return nil, nil, err
	}
	w, err := picture.TryWays(&s, r)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(w)
	return string(text), nil, err
}

// thirds: session, printer and the reduced picture → three small prints, {w, h, rgba}: that
// layer exposed by a third of a stop less, as meant, and by a third more.
func thirds(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, err := reduced(m)
	if err != nil {
		return nil, nil, err
	}
	for _, printer := range pigment.Printers() {
		if printer.String() != m.Get("printer").String() {
			continue
		}
		prints, err := picture.TryExposures(&s, printer, []float64{-relief.Third, 0, relief.Third}, r, thirdSide)
		if err != nil {
			return nil, nil, err
		}
		var out, buffers []any
		for _, img := range prints {
			px := bytesTo(img.Pix)
			out = append(out, map[string]any{"w": img.Bounds().Dx(), "h": img.Bounds().Dy(), "rgba": px})
			buffers = append(buffers, px.Get("buffer"))
		}
		return out, buffers, nil
	}
	return nil, nil, fmt.Errorf("no layer “%s”", m.Get("printer").String())
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
