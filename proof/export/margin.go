package export

import (
	"image"
	"image/draw"

	"threeply/proof/lettering"
)

// margin is the white paper around a proof, with words below it.
type margin struct {
	w, h  int // with the proof
	proof image.Rectangle
	words *image.Alpha // as large as the whole, ink where letters are
}

// The margin's width and the height of its letters, as shares of the proof's longer side, and
// the least height in pixels.
const (
	marginWide    = 0.04
	marginLetters = 0.016
	leastLetters  = 11
)

// newMargin lays a proof of w × h pixels on a margin.
func newMargin(w, h int, title, says string) (*margin, error) {
	side := float64(max(w, h))
	edge, high := int(marginWide*side), max(marginLetters*side, leastLetters)
	lines, err := lettering.Wrapped(title, lettering.Bold, 1.25*high, w)
	if err != nil {
		return nil, err
	}
	rest, err := lettering.Wrapped(says, lettering.Regular, high, w)
	if err != nil {
		return nil, err
	}
	m := &margin{w: w + 2*edge, proof: image.Rect(edge, edge, edge+w, edge+h)}
	at := m.proof.Max.Add(image.Pt(-w, edge/2))
	m.h = at.Y + edge
	for _, line := range append(lines, rest...) {
		m.h += line.Rect.Dy()
	}
	m.words = image.NewAlpha(image.Rect(0, 0, m.w, m.h))
	for _, line := range append(lines, rest...) {
		draw.Draw(m.words, line.Rect.Add(at).Intersect(image.Rect(edge, 0, edge+w, m.h)), line, image.Point{}, draw.Src)
		at.Y += line.Rect.Dy()
	}
	return m, nil
}

// inkCode is the code of the letters, of 8 bits.
const inkCode = 26

// row is a row of the whole, four bytes a pixel; proof gives one of the proof.
func (m *margin) row(y int, rgba []byte, proof func(y int, rgba []byte)) {
	for x := range m.w {
		v := uint8(255 - (uint32(m.words.AlphaAt(x, y).A)*(255-inkCode)+127)/255)
		rgba[4*x], rgba[4*x+1], rgba[4*x+2], rgba[4*x+3] = v, v, v, 255
	}
	if y >= m.proof.Min.Y && y < m.proof.Max.Y {
		proof(y-m.proof.Min.Y, rgba[4*m.proof.Min.X:4*m.proof.Max.X])
	}
}

// fineRow is row in three values of 16 bits a pixel.
func (m *margin) fineRow(y int, row []uint16, proof func(y int, row []uint16)) {
	for x := range m.w {
		ink := uint32(m.words.AlphaAt(x, y).A)
		v := uint16(0xffff - ink*(255-inkCode)*257/255)
		row[3*x], row[3*x+1], row[3*x+2] = v, v, v
	}
	if y >= m.proof.Min.Y && y < m.proof.Max.Y {
		proof(y-m.proof.Min.Y, row[3*m.proof.Min.X:3*m.proof.Max.X])
	}
}
