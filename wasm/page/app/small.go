package app

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/jpeg"

	"threeply/proof/desk"
	"threeply/proof/picture"
	"threeply/proof/plane"
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

// Thumb gives the smallest level of a source as light as the scan is beside the others, the lightest of
// the three white, RGBA; ok is false where there is none.
func (a *App) Thumb(source int) (w, h int, rgba []byte, ok bool) {
	if !a.Plates.Open() || source < 0 || source > 2 {
		return 0, 0, nil, false
	}
	smallest := func(source int) *plane.Plane { return a.Plates[source][len(a.Plates[source])-1] }
	p := smallest(source)
	rgba = make([]byte, 4*len(p.Pix))
	for i, v := range plate.Seen(p, plate.Lightest(smallest(0), smallest(1), smallest(2))).Pix {
		rgba[4*i], rgba[4*i+1], rgba[4*i+2], rgba[4*i+3] = v, v, v, 255
	}
	return p.W, p.H, rgba, true
}

// thumbSide is the longer side of the picture in the list of kept sets, in pixels.
const thumbSide = 144

// thumbRows are how many rows of it are drawn at a time.
const thumbRows = 24

// thumb is a small picture of the print of a document, on its way.
type thumb struct {
	of      *desk.Document
	picture *image.NRGBA // nil for none
	row     func(y int, rgba []uint8)
	drawn   int // rows
}

// TakeThumb makes a piece of a small picture of the print for the list of kept sets, and tells whether
// it is to be called again, for the next. anew begins with one of the print as it is.
func (a *App) TakeThumb(anew bool) (more bool) {
	if anew {
		return a.beginThumb()
	}
	t := &a.thumb
	if t.picture == nil {
		return false
	}
	if h := t.picture.Rect.Dy(); t.drawn < h {
		for end := min(t.drawn+thumbRows, h); t.drawn < end; t.drawn++ {
			t.row(t.drawn, t.picture.Pix[t.drawn*t.picture.Stride:][:t.picture.Stride])
		}
		return true
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, t.picture, &jpeg.Options{Quality: 85}); err == nil {
		t.of.SetThumb("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(out.Bytes()))
	}
	a.thumb = thumb{}
	return false
}

func (a *App) beginThumb() (ok bool) {
	a.thumb = thumb{}
	a.CatchUp()
	small, ok := a.Small()
	if !ok || a.doc == nil {
		return false
	}
	likely := a.Prints.Likely()
	w, h, row := likely.SmallRows(&a.State, likely.Curves, small, thumbSide)
	a.thumb = thumb{of: a.doc, picture: image.NewNRGBA(image.Rect(0, 0, w, h)), row: row}
	return true
}
