package model

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/wasm/page/prints"
)

// Reading are the colours at the point that is read.
type Reading struct {
	Sample *Sample `json:"sample"` // null where none is
}

// Sample is reference, print and layers at a pixel of the key, from the untouched scans.
type Sample struct {
	X         int                `json:"x"`
	Y         int                `json:"y"`
	Reference spectrum.Lab       `json:"reference"`
	Print     spectrum.Lab       `json:"print"`
	DE        float64            `json:"dE"`
	HexRef    string             `json:"hexReference"`
	HexPrint  string             `json:"hexPrint"`
	Thickness map[string]float64 `json:"thickness"` // shares of a full coat, by printer
	Um        map[string]float64 `json:"um"`
	Visual    float64            `json:"visual"`  // ISO 5-3 density of the print
	StatusA   [3]float64         `json:"statusA"` // through red, green and blue
}

type readingOn struct {
	at      *[2]float64   // nil for none
	session session.State // see layingOf; with the hidden layers
	print   prints.Print
	masks   *mask.Matrix
	planes  [3]*plane.Plane
}

func onReading(in Input) readingOn {
	if in.View.Reading == nil || !in.Plates.Open() {
		return readingOn{}
	}
	on := readingOn{
		at: in.View.Reading, session: layingOf(in.Session), print: in.Prints.Likely(),
		masks: in.Prints.Masks(picture.MaskingChosen), planes: in.Plates.Level(0),
	}
	on.session.Hidden = in.Session.Hidden
	return on
}

func makeReading(on readingOn) Reading {
	if on.at == nil {
		return Reading{}
	}
	pic := picture.Assemble(&on.session, on.print.Masked(on.masks), on.print.Curves, on.planes, affine.Identity, 0)
	x, y := math.Round(on.at[0]), math.Round(on.at[1])
	s := &Sample{X: int(x), Y: int(y), Thickness: map[string]float64{}, Um: map[string]float64{}}
	var linear, thickness [3]float64
	for i, v := range pic.At(render.Reference, x, y) {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	s.HexRef, s.Reference = prints.HexOf(linear), spectrum.SRGBLab(linear)
	for i, q := range pic.Coordinates(x, y) { // 0 of hidden layers
		thickness[i] = cube.Thickness(float64(q))
	}
	r := on.print.Recipe.Reflectance(thickness)
	s.Print, s.HexPrint = on.print.Light.Lab(r), prints.Hex(r, on.print.Light)
	s.Visual, s.StatusA = spectrum.VisualDensity(r), spectrum.StatusA(r)
	s.DE = spectrum.DeltaE00(s.Reference, s.Print)
	for p := range pigment.Printer(3) {
		s.Thickness[p.String()] = thickness[p]
		s.Um[p.String()] = thickness[p] * on.print.Recipe.Palette.Layer(p).CoatMicron
	}
	return Reading{s}
}
