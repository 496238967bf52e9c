// Package lettering writes on pictures that leave the tool: labels of films, margins of proofs.
package lettering

import (
	"fmt"
	"image"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// The fonts are read when they are first asked for; a program that never asks is built without
// them.
var (
	loaded [2]*opentype.Font
	failed error
	once   sync.Once
)

func fonts() ([2]*opentype.Font, error) {
	once.Do(func() {
		for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
			if loaded[i], failed = opentype.Parse(ttf); failed != nil {
				failed = fmt.Errorf("lettering: the fonts: %w", failed)
				return
			}
		}
	})
	return loaded, failed
}

// Weights of letters.
const Regular, Bold = 0, 1

// Text is a text as pixels, so many high. The error is one of the fonts, which come with the
// program.
func Text(s string, weight int, high float64) (*image.Alpha, error) {
	both, err := fonts()
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(both[weight], &opentype.FaceOptions{Size: high, DPI: 72})
	if err != nil {
		return nil, fmt.Errorf("lettering: letters %.1f pixels high: %w", high, err)
	}
	defer face.Close()
	m := face.Metrics()
	img := image.NewAlpha(image.Rect(0, 0, font.MeasureString(face, s).Ceil(), (m.Ascent + m.Descent).Ceil()))
	d := font.Drawer{Dst: img, Src: image.Opaque, Face: face, Dot: fixed.Point26_6{Y: m.Ascent}}
	d.DrawString(s)
	return img, nil
}

// Wrapped is a text in as many lines as a width of so many pixels asks for, one below the
// other. A word that is wider than that is cut.
func Wrapped(s string, weight int, high float64, width int) ([]*image.Alpha, error) {
	var out []*image.Alpha
	line, last := "", (*image.Alpha)(nil)
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(line + " " + word)
		img, err := Text(longer, weight, high)
		if err != nil {
			return nil, err
		}
		if img.Rect.Dx() > width && last != nil {
			out = append(out, last)
			longer = word
			if img, err = Text(word, weight, high); err != nil {
				return nil, err
			}
		}
		line, last = longer, img
	}
	if last != nil {
		out = append(out, last)
	}
	return out, nil
}
