package negative

import "math"

// Box is a rectangle of pixels: x from X0 up to but not X1, y alike.
type Box struct{ X0, Y0, X1, Y1 int }

// W is the width, H the height.
func (b Box) W() int { return b.X1 - b.X0 }
func (b Box) H() int { return b.Y1 - b.Y0 }

func (b Box) grown(by int) Box { return Box{b.X0 - by, b.Y0 - by, b.X1 + by, b.Y1 + by} }

// flipped is the box in a file of that width that is mirrored.
func (b Box) flipped(w int) Box { return Box{w - b.X1, b.Y0, w - b.X0, b.Y1} }

// Lengths of what lies around the picture, in mm.
const (
	marksWide  = 14.0 // from the trim allowance to the safe edge
	markAt     = 5.5  // centres of the marks from the trim allowance
	MarkArm    = 4.0  // of a mark's cross, from its middle
	barAt      = 2.0  // scale bars from the window's edge
	wedgeHigh  = 6.0
	stepMost   = 4.0
	stepLeast  = 1.0 // below this a step cannot be read
	letterHigh = 7.0
	LabelHigh  = 10.0 // of the strip without a punch
)

// The wedges: Steps of Step from the clear film on, and FineSteps of FineStep about the
// density that the wash is about to take. From paper to L* 80 a print spans but 0.065 in
// log exposure (derived from the working curve), so that a wedge of 0.15 has half a step
// there.
const (
	Steps, Step         = 31, 0.05
	FineSteps, FineStep = 21, 0.02
)

// barLengths are those that a scale bar can have, in mm, the longest that fits first.
var barLengths = []float64{100, 50, 20, 10}

// Bar is a scale bar: the middles of its two ticks, Length mm apart to a pixel.
type Bar struct {
	X0, Y0, X1, Y1 int
	Length         float64
}

// Layout is where everything lies in the file, the same for all three layers.
type Layout struct {
	W, H     int
	PPI      float64
	Mirrored bool // the picture lies mirrored in the file

	Trim    Box // the print
	Picture Box // with the trim allowance
	Window  Box // with the marks: what prints
	Opaque  Box // with the safe edge
	Strip   Box // for label and punch, outside

	Marks       [][2]int // centres: the corners, then the middles of the sides
	Bars        []Bar    // across, and down
	Wedge, Fine []Box    // a box a step, the densest last; none where the print is too small for them
	Letter      Box      // empty without marks
}

// Of lays out negatives of a picture of w × h mm.
func Of(s Setup, w, h float64, mirrored bool) Layout {
	px := func(mm float64) int { return int(math.Round(mm * s.PPI / 25.4)) }
	l := Layout{PPI: s.PPI, Mirrored: mirrored}
	around := px(s.Allowance)
	if s.Marks {
		around += px(marksWide)
	}
	strip, edge := px(max(s.Punch, LabelHigh)), px(s.SafeEdge)
	trimW, trimH := max(px(w), 1), max(px(h), 1)
	l.W, l.H = trimW+2*(around+edge), strip+trimH+2*(around+edge)
	l.Strip = Box{0, 0, l.W, strip}
	l.Opaque = Box{0, strip, l.W, l.H}
	l.Window = l.Opaque.grown(-edge)
	l.Trim = l.Window.grown(-around)
	l.Picture = l.Trim.grown(px(s.Allowance))
	if s.Marks {
		l.mark(px)
	}
	if mirrored {
		l.flip()
	}
	return l
}

// mark lays marks, bars, wedges and letter around the picture, as the print shows them.
func (l *Layout) mark(px func(mm float64) int) {
	out := px(markAt)
	left, top, right, bottom := l.Picture.X0-out, l.Picture.Y0-out, l.Picture.X1-1+out, l.Picture.Y1-1+out
	cx, cy := (left+right)/2, (top+bottom)/2
	l.Marks = [][2]int{{left, top}, {right, top}, {right, bottom}, {left, bottom}, {cx, top}, {right, cy}, {cx, bottom}, {left, cy}}

	if length, n := barFor(px, l.Window.W()-4*px(barAt)); n > 0 {
		y, x := l.Window.Y0+px(barAt), cx-n/2
		l.Bars = append(l.Bars, Bar{x, y, x + n, y, length})
	}
	if length, n := barFor(px, l.Window.H()-4*px(barAt)); n > 0 {
		x, y := l.Window.X0+px(barAt), cy-n/2
		l.Bars = append(l.Bars, Bar{x, y, x, y + n, length})
	}

	// Wedges lie along the longer side, between its marks.
	clear := px(MarkArm + 1.5)
	high := px(wedgeHigh)
	size := px(letterHigh)
	if l.Trim.W() >= l.Trim.H() {
		room := cx - left - 2*clear
		at := Box{left + clear, bottom - high/2, 0, bottom - high/2 + high}
		l.Wedge = row(at, room, Steps, px, false)
		at.X0 = cx + clear
		l.Fine = row(at, room, FineSteps, px, false)
		if room >= size {
			l.Letter = Box{left + clear, top - size/2, left + clear + size, top - size/2 + size}
		}
		return
	}
	room := cy - top - 2*clear
	at := Box{right - high/2, top + clear, right - high/2 + high, 0}
	l.Wedge = row(at, room, Steps, px, true)
	at.Y0 = cy + clear
	l.Fine = row(at, room, FineSteps, px, true)
	if room >= size {
		l.Letter = Box{left - size/2, top + clear, left - size/2 + size, top + clear + size}
	}
}

// barFor is the longest bar that room pixels hold, in mm and in pixels; 0 where none is
// held.
func barFor(px func(mm float64) int, room int) (length float64, n int) {
	for _, length := range barLengths {
		if n := px(length); n <= room {
			return length, n
		}
	}
	return 0, 0
}

// row is a wedge of n steps from the corner of at on, across or down, in so much room.
func row(at Box, room, n int, px func(mm float64) int, down bool) []Box {
	step := min(px(stepMost), room/n)
	if step < max(px(stepLeast), 1) {
		return nil
	}
	out := make([]Box, n)
	for i := range out {
		b := at
		if down {
			b.Y0 += i * step
			b.Y1 = b.Y0 + step
		} else {
			b.X0 += i * step
			b.X1 = b.X0 + step
		}
		out[i] = b
	}
	return out
}

// flip mirrors the layout, left to right.
func (l *Layout) flip() {
	for _, b := range []*Box{&l.Trim, &l.Picture, &l.Window, &l.Opaque, &l.Strip, &l.Letter} {
		*b = b.flipped(l.W)
	}
	for i := range l.Marks {
		l.Marks[i][0] = l.W - 1 - l.Marks[i][0]
	}
	for i, b := range l.Bars {
		l.Bars[i].X0, l.Bars[i].X1 = l.W-1-b.X1, l.W-1-b.X0
	}
	for _, wedge := range [][]Box{l.Wedge, l.Fine} {
		for i, b := range wedge {
			wedge[i] = b.flipped(l.W)
		}
	}
}

// SizeMM is the size of the negative in mm.
func (l *Layout) SizeMM() (w, h float64) {
	return float64(l.W) / l.PPI * 25.4, float64(l.H) / l.PPI * 25.4
}
