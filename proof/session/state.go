// Package session holds what the user has decided: plain data, changed only by
// commands, so that undo, saving, reopening, tests without a browser and the
// command line come from one mechanism.
package session

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/tone"
)

// Version is written into every saved session; Read refuses later ones.
const Version = 1

// Source is one plate as it was opened, before it is said which filter it was
// taken through.
type Source struct {
	File      string    `json:"file"`
	W         int       `json:"width"`
	H         int       `json:"height"`
	Bits      int       `json:"bits"`
	PPI       float64   `json:"ppi"` // 0 where the file has none
	Encoding  string    `json:"encoding"`
	Film      tone.Film `json:"film"`
	Sure      float64   `json:"polarity_sure"` // of the guess of Film.Negative, 0 … 1
	Overruled bool      `json:"overruled"`     // Film.Negative is the user's, against the guess
	Base      float64   `json:"base"`          // base + fog as found
	Max       float64   `json:"max"`           // densest useful density as found
	Area      [4]int    `json:"area"`          // picture within its borders: x0, y0, x1, y1
}

// Found is where a plate lies, against the frame of the first key.
type Found struct {
	Matrix     affine.Matrix `json:"matrix"` // pixel of the found frame → pixel of this source
	Confidence float64       `json:"confidence"`
	Words      string        `json:"words"`
	Median     float64       `json:"median_px"`
	P95        float64       `json:"p95_px"`
	Max        float64       `json:"max_px"`
}

// Offset is how far a layer lies on the print from where register puts it:
// micrometres, degrees clockwise, and per cent of stretch, about the centre of
// the picture.
type Offset struct {
	DX      float64 `json:"dx_um"`
	DY      float64 `json:"dy_um"`
	Turn    float64 `json:"turn_deg"`
	Stretch float64 `json:"stretch_pct"`
}

// Line is the section's line over the picture, in shares of the key's width
// and height.
type Line struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
}

// State is everything that undo goes back over. The zero State has no plates;
// begin with New.
type State struct {
	Version int       `json:"version"`
	Title   string    `json:"title"`
	Layout  string    `json:"layout"`
	Sources [3]Source `json:"sources"`
	Assign  [3]int    `json:"assign"` // source of the red, green and blue plate

	Registered string   `json:"registered"` // "none" or "auto"
	Found      [3]Found `json:"found"`      // by source
	Key        string   `json:"key"`        // filter of the plate that gives the picture its frame

	Offsets [3]Offset `json:"offsets"` // by printer: yellow, magenta, cyan
	Hidden  [3]bool   `json:"hidden"`

	Palette string `json:"palette"`
	Order   string `json:"order"` // from the paper up
	Paper   string `json:"paper"`
	Finish  string `json:"finish"`
	Light   string `json:"light"`
	Route   string `json:"route"`

	PrintWidth  float64 `json:"print_width_mm"`
	ViewingDist float64 `json:"viewing_mm"`
	Tolerance   float64 `json:"tolerance_um"` // 0: what the eye sees at the viewing distance
	Section     Line    `json:"section"`
}

// New returns the state that a fresh set of plates starts with.
func New() State {
	id := Found{Matrix: affine.Identity}
	return State{
		Version: Version, Title: "Untitled", Assign: [3]int{0, 1, 2}, Registered: "none",
		Found: [3]Found{id, id, id}, Key: "green",
		Palette: "arylide", Order: "ymc", Paper: "sized", Finish: "gloss", Light: "D50", Route: "clear-temporary-paper",
		PrintWidth: 300, ViewingDist: 300, Section: Line{0.08, 0.62, 0.92, 0.62},
	}
}

// Filters are the names of the taking filters in the order of Assign.
var Filters = [3]string{"red", "green", "blue"}

// FilterIndex returns the place of a filter's name in Filters, or -1.
func FilterIndex(name string) int {
	for i, f := range Filters {
		if f == name {
			return i
		}
	}
	return -1
}

// SourceOf returns the source behind a printer: cyan prints from the red
// plate, magenta from the green, yellow from the blue.
func (s *State) SourceOf(p pigment.Printer) int { return s.Assign[2-int(p)] }

// KeySource returns the source of the key plate.
func (s *State) KeySource() int { return s.Assign[max(FilterIndex(s.Key), 0)] }

// Frame returns the picture's size in pixels: that of the key plate.
func (s *State) Frame() (w, h int) {
	k := s.Sources[s.KeySource()]
	return k.W, k.H
}

// PixelMicrons returns the size of one pixel of the key on the print, in µm.
func (s *State) PixelMicrons() float64 {
	w, _ := s.Frame()
	return s.PrintWidth * 1000 / float64(max(w, 1))
}

// Register returns where register puts source i: key pixel → pixel of the
// source. A key other than the one that was registered to is gone through by
// its inverse.
func (s *State) Register(i int) affine.Matrix {
	back, ok := s.Found[s.KeySource()].Matrix.Inverse()
	if !ok {
		return s.Found[i].Matrix
	}
	return s.Found[i].Matrix.Mul(back)
}

// OffsetMatrix returns the offset of a layer as a map of key pixels: where the
// layer moves to.
func (s *State) OffsetMatrix(p pigment.Printer) affine.Matrix {
	o, um := s.Offsets[p], s.PixelMicrons()
	w, h := s.Frame()
	k := 1 + o.Stretch/100
	return affine.Compose(affine.Parts{DX: o.DX / um, DY: o.DY / um, Turn: o.Turn, StretchX: k, StretchY: k},
		float64(w-1)/2, float64(h-1)/2)
}

// LayerMatrix returns key pixel → pixel of the plate of a printer, register and
// offset together. A layer moved to the right shows at x what register has at
// x less the move.
func (s *State) LayerMatrix(p pigment.Printer) affine.Matrix {
	m := s.Register(s.SourceOf(p))
	if inv, ok := s.OffsetMatrix(p).Inverse(); ok {
		m = m.Mul(inv)
	}
	return m
}

// EyeMicrons is what one arc minute, the acuity of a 20/20 eye, covers at the
// viewing distance, in µm.
func (s *State) EyeMicrons() float64 {
	return s.ViewingDist * 1000 * math.Tan(math.Pi/180/60)
}
