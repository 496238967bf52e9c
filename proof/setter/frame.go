// Package setter draws printing negatives: the frame of marks, wedges and letters, and the
// plates within it, row by row as the file is written.
package setter

import (
	"fmt"
	"image"
	"math"

	"threeply/proof/film"
	"threeply/proof/lettering"
	"threeply/proof/negative"
	"threeply/proof/pigment"
)

// Label is what stands on the film's strip.
type Label struct {
	Layer pigment.Printer // its name and its hatching come first
	Name  string          // instead of them, where the film is of no layer
	Lines []string
}

// Frame draws all of a negative but its picture.
type Frame struct {
	negative.Layout
	opaque uint16
	shapes []shape
}

// Lengths of what is drawn, in mm.
const (
	markLine = 0.2
	markRing = 2.0
	barTick  = 2.0
	notchLeg = 6.0

	numeralHigh = 2.0
)

const clearFilm = film.Codes - 1

// shape is an area of one code: all of its box, or those of its pixels that inside tells.
type shape struct {
	negative.Box
	code   uint16
	inside func(x, y int) bool
}

// NewFrame makes the frame of one layer's negative. threshold is the density about which
// its wedge of fine steps lies. The error is one of the letters, which come with the
// program.
func NewFrame(l negative.Layout, s negative.Setup, coder film.Coder, threshold float64, label Label) (*Frame, error) {
	f := &Frame{Layout: l, opaque: coder.Code(s.Film.Max)}
	f.notch(s)
	f.marks()
	for i, b := range l.Wedge {
		f.add(b, coder.Code(float64(i)*negative.Step), nil)
	}
	for i, density := range FineDensities(threshold) {
		if i < len(l.Fine) {
			f.add(l.Fine[i], coder.Code(density), nil)
		}
	}
	fine := FineDensities(threshold)
	for _, err := range []error{
		f.numerals(l.Wedge, func(i int) float64 { return float64(i) * negative.Step }),
		f.numerals(l.Fine, func(i int) float64 { return fine[i] }),
		f.letters(), f.label(s, label),
	} {
		if err != nil {
			return nil, err
		}
	}
	return f, nil
}

// numerals writes the density of every fifth step outside its wedge.
func (f *Frame) numerals(wedge []negative.Box, density func(i int) float64) error {
	gap := f.px(0.4)
	for i := 0; i < len(wedge); i += 5 {
		img, err := lettering.Text(fmt.Sprintf("%.2f", density(i)), lettering.Regular, float64(f.px(numeralHigh)))
		if err != nil {
			return err
		}
		b, w, h := wedge[i], img.Rect.Dx(), img.Rect.Dy()
		x, y := (b.X0+b.X1-w)/2, b.Y1+gap
		if wedge[1].Y0 != wedge[0].Y0 { // a wedge that runs down: beside it
			x, y = b.X1+gap, (b.Y0+b.Y1-h)/2
			if f.Mirrored {
				x = b.X0 - gap - w
			}
		}
		f.print(img, x, y, clearFilm, f.Mirrored)
	}
	return nil
}

// FineDensities are those of the wedge of fine steps, about a threshold.
func FineDensities(threshold float64) [negative.FineSteps]float64 {
	var out [negative.FineSteps]float64
	for i := range out {
		out[i] = max(threshold+negative.FineStep*float64(i-negative.FineSteps/2), 0)
	}
	return out
}

func (f *Frame) add(b negative.Box, code uint16, inside func(x, y int) bool) {
	f.shapes = append(f.shapes, shape{b, code, inside})
}

func (f *Frame) px(mm float64) int { return int(math.Round(mm * f.PPI / 25.4)) }

func box(x0, y0, x1, y1 int) negative.Box { return negative.Box{X0: x0, Y0: y0, X1: x1, Y1: y1} }

// line is the width of fine lines, odd, so that they have a middle pixel.
func (f *Frame) line() int { return f.px(markLine)/2*2 + 1 }

// notch cuts the safe edge off at the upper right, as seen from the emulsion, where sheet
// film has its notches (common practice).
func (f *Frame) notch(s negative.Setup) {
	leg := f.px(min(notchLeg, 0.6*s.SafeEdge))
	right, top := f.Opaque.X1, f.Opaque.Y0
	f.add(box(right-leg, top, right, top+leg), clearFilm, func(x, y int) bool { return right-1-x+y-top < leg })
}

// marks draws register marks, a cross in a ring, and the scale bars.
func (f *Frame) marks() {
	half, arm := f.line()/2, f.px(negative.MarkArm)
	for _, m := range f.Marks {
		x, y := m[0], m[1]
		f.add(box(x-arm, y-half, x+arm+1, y+half+1), clearFilm, nil)
		f.add(box(x-half, y-arm, x+half+1, y+arm+1), clearFilm, nil)
		r, thick := float64(f.px(markRing)), float64(f.line())/2
		reach := int(r+thick) + 1
		f.add(box(x-reach, y-reach, x+reach+1, y+reach+1), clearFilm, func(px, py int) bool {
			return math.Abs(math.Hypot(float64(px-x), float64(py-y))-r) <= thick
		})
	}
	tick := f.px(barTick) / 2
	for _, b := range f.Bars {
		f.add(box(b.X0-half, b.Y0-half, b.X1+half+1, b.Y1+half+1), clearFilm, nil)
		for _, end := range [][2]int{{b.X0, b.Y0}, {b.X1, b.Y1}} {
			if b.Y0 == b.Y1 {
				f.add(box(end[0]-half, end[1]-tick, end[0]+half+1, end[1]+tick+1), clearFilm, nil)
			} else {
				f.add(box(end[0]-tick, end[1]-half, end[0]+tick+1, end[1]+half+1), clearFilm, nil)
			}
		}
	}
}

// print puts a text's pixels with their upper left corner at x, y, mirrored or not.
func (f *Frame) print(img *image.Alpha, x, y int, code uint16, mirrored bool) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	f.add(box(x, y, x+w, y+h), code, func(px, py int) bool {
		at := px - x
		if mirrored {
			at = w - 1 - at
		}
		return img.AlphaAt(at, py-y).A >= 128
	})
}

// letters draws the letter that tells the sides apart and the lengths of the bars. What
// prints lies as the picture does.
func (f *Frame) letters() error {
	if f.Letter.W() > 0 {
		img, err := lettering.Text("F", lettering.Bold, float64(f.Letter.H()))
		if err != nil {
			return err
		}
		f.print(img, (f.Letter.X0+f.Letter.X1-img.Rect.Dx())/2, f.Letter.Y0, clearFilm, f.Mirrored)
	}
	for _, b := range f.Bars {
		if b.Y0 != b.Y1 {
			continue
		}
		img, err := lettering.Text(fmt.Sprintf("%g mm", b.Length), lettering.Regular, float64(f.px(2.5)))
		if err != nil {
			return err
		}
		at := b.X1 + f.px(1.5)
		if f.Mirrored {
			at = b.X0 - f.px(1.5) - img.Rect.Dx()
		}
		if at > f.Window.X0 && at+img.Rect.Dx() < f.Window.X1 {
			f.print(img, at, b.Y0-img.Rect.Dy()/2, clearFilm, f.Mirrored)
		}
	}
	return nil
}

// label draws the layer's name, its hatching and the lines, all dense on clear film. It reads
// right from the lamp when the film lies on the tissue as it should.
func (f *Frame) label(s negative.Setup, label Label) error {
	mirrored := s.Side != negative.Base
	gap := f.px(2)
	high := float64(f.px(negative.LabelHigh)) - float64(gap)
	put := func(img *image.Alpha, x, y int) {
		if mirrored {
			x = f.W - x - img.Rect.Dx()
		}
		f.print(img, x, y, f.opaque, mirrored)
	}
	says, x := label.Name, gap
	if says == "" {
		says = label.Layer.String()
		x += f.hatch(label.Layer, gap, gap/2, f.px(10), int(high), mirrored) + gap
	}
	name, err := lettering.Text(says, lettering.Bold, 0.6*high)
	if err != nil {
		return err
	}
	put(name, x, gap/2+(int(high)-name.Rect.Dy())/2)
	x += name.Rect.Dx() + 2*gap
	room := f.W - x - gap
	if len(label.Lines) == 0 || room <= 0 {
		return nil
	}
	each := high / float64(len(label.Lines))
	for i, line := range label.Lines {
		img, err := lettering.Text(line, lettering.Regular, 0.8*each)
		if err != nil {
			return err
		}
		if wide := img.Rect.Dx(); wide > room {
			if img, err = lettering.Text(line, lettering.Regular, 0.8*each*float64(room)/float64(wide)); err != nil {
				return err
			}
		}
		put(img, x, gap/2+int(float64(i)*each))
	}
	return nil
}

// hatch draws the layer's hatching in a box at x, y and returns the box's width. The
// hatchings are those by which heralds have told colours in black and white since the
// 17th century (S. Petra Sancta, Tesserae gentilitiae, Rome 1638, from memory): dots
// for yellow, upright lines for red, here magenta, level lines for blue, here cyan.
func (f *Frame) hatch(layer pigment.Printer, x, y, w, h int, mirrored bool) int {
	if mirrored {
		x = f.W - x - w
	}
	pitch, line := max(f.px(1.4), 4), max(f.px(0.35), 1)
	f.add(box(x, y, x+w, y+h), f.opaque, func(px, py int) bool {
		u, v := px-x, py-y
		if u < line || v < line || u >= w-line || v >= h-line {
			return true
		}
		switch layer {
		case pigment.Magenta:
			return u%pitch < line
		case pigment.Cyan:
			return v%pitch < line
		}
		du, dv := u%pitch-pitch/2, v%pitch-pitch/2
		return du*du+dv*dv <= pitch*pitch/16
	})
	return w
}

// Row fills row y of the file with all but the picture, where it leaves the opaque
// ground.
func (f *Frame) Row(y int, row []uint16) {
	ground := uint16(clearFilm)
	if y >= f.Opaque.Y0 && y < f.Opaque.Y1 {
		ground = f.opaque
	}
	for x := range row {
		row[x] = ground
	}
	for i := range f.shapes {
		s := &f.shapes[i]
		if y < s.Y0 || y >= s.Y1 {
			continue
		}
		for x := max(s.X0, 0); x < min(s.X1, len(row)); x++ {
			if s.inside == nil || s.inside(x, y) {
				row[x] = s.code
			}
		}
	}
}
