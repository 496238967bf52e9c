//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"threeply/proof/affine"
	"threeply/proof/plane"
	found "threeply/proof/register"
)

// located is where a feature was found, in pixels of the whole plate.
type located struct {
	Source    int     `json:"source"`
	OK        bool    `json:"ok"`
	X         float64 `json:"x"`
	Y         float64 `json:"y"`
	Certainty float64 `json:"certainty"`
}

// locate: tries [{source, key, other, map, polarity, x, y, ox, oy}], each an
// Around of a source with its parts as {w, h, bytes} → the surest
// place of each source, as text.
func locate(m js.Value, progress func(float64, string)) (any, []any, error) {
	best := []located{}
	tries := m.Get("tries")
	for i := range tries.Length() {
		t := tries.Index(i)
		a := found.Around{
			Polarity: [2]bool{t.Get("polarity").Index(0).Bool(), t.Get("polarity").Index(1).Bool()},
			Map:      matrixOf(t.Get("map")),
			X:        t.Get("x").Float(), Y: t.Get("y").Float(), OX: t.Get("ox").Float(), OY: t.Get("oy").Float(),
		}
		var err error
		if a.Key, err = planeOf(t.Get("key")); err != nil {
			return nil, nil, err
		}
		if a.Other, err = planeOf(t.Get("other")); err != nil {
			return nil, nil, err
		}
		at, ok := a.Find()
		best = surest(best, located{t.Get("source").Int(), ok, at.X, at.Y, at.Certainty})
		progress(float64(i+1)/float64(tries.Length()), "looking for the mark in the other plates")
	}
	text, err := json.Marshal(best)
	return string(text), nil, err
}

// surest keeps one place a source.
func surest(best []located, now located) []located {
	for i, b := range best {
		if b.Source != now.Source {
			continue
		}
		if now.OK && (!b.OK || now.Certainty > b.Certainty) {
			best[i] = now
		}
		return best
	}
	return append(best, now)
}

func matrixOf(v js.Value) affine.Matrix {
	var m affine.Matrix
	for i := range m {
		m[i] = v.Index(i).Float()
	}
	return m
}

func planeOf(v js.Value) (*plane.Plane, error) {
	p := plane.New(v.Get("w").Int(), v.Get("h").Int())
	if n := js.CopyBytesToGo(bytesOf(p.Pix), v.Get("bytes")); n != 2*len(p.Pix) {
		return nil, fmt.Errorf("a part of a plate did not arrive whole (%d bytes of %d)", n, 2*len(p.Pix))
	}
	return p, nil
}
