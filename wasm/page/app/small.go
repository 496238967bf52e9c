package app

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/png"

	"threeply/proof/desk"
	"threeply/proof/picture"
	"threeply/proof/plate"
	"threeply/proof/strict"
	"threeply/wasm/page/prints"
)

// Small is what small prints and the figures of the picture are made of: one level finer
// than those that masks are found on where there is one. ok is false where no plates are
// open.
func (a *App) Small() (small picture.Reduced, ok bool) {
	if !a.Plates.Open() {
		return small, false
	}
	level := max(min(len(a.Plates[0]), len(a.Plates[1]), len(a.Plates[2]))-2, 0)
	return picture.Reduced{Planes: a.Plates.Level(level), Level: level, Frame: a.View.Shown}, true
}

// Tried takes what became of the small print that the board's card with this key asked for:
// its figures, a picture.Tried as JSON, or why there are none.
func (a *App) Tried(key, figures, why string) error {
	try := prints.Try{Why: why}
	if why == "" {
		if err := strict.Read([]byte(figures), &try.Figures); err != nil {
			return fmt.Errorf("the figures of a small print: %w", err)
		}
	}
	a.Prints.Tries.Take(key, try)
	return nil
}

// Thumb gives the smallest level of a source as light as the scan is, RGBA; ok is false
// where there is none.
func (a *App) Thumb(source int) (w, h int, rgba []byte, ok bool) {
	if !a.Plates.Open() || source < 0 || source > 2 {
		return 0, 0, nil, false
	}
	levels := a.Plates[source]
	p := levels[len(levels)-1]
	rgba = make([]byte, 4*len(p.Pix))
	for i, v := range plate.Seen(p).Pix {
		rgba[4*i], rgba[4*i+1], rgba[4*i+2], rgba[4*i+3] = v, v, v, 255
	}
	return p.W, p.H, rgba, true
}

// thumbSide is the longer side of the picture in the list of kept sets, in pixels.
const thumbSide = 144

// thumb is a small picture of the print of a document, not yet packed.
type thumb struct {
	of      *desk.Document
	picture *image.NRGBA
}

// TakeThumb makes a small picture of the print for the list of kept sets, in two pieces: it tells
// whether it is to be called again, for the second.
func (a *App) TakeThumb() (more bool) {
	if t := a.thumb; t.picture != nil {
		a.thumb = thumb{}
		var out bytes.Buffer
		if err := png.Encode(&out, t.picture); err == nil {
			t.of.SetThumb("data:image/png;base64," + base64.StdEncoding.EncodeToString(out.Bytes()))
		}
		return false
	}
	a.CatchUp()
	small, ok := a.Small()
	if !ok || a.doc == nil {
		return false
	}
	likely := a.Prints.Likely()
	a.thumb = thumb{a.doc, likely.SmallPrint(&a.State, likely.Curves, small, thumbSide)}
	return true
}
