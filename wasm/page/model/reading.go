package model

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/density"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
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
	Outside   float64            `json:"outside"` // ΔE00 of what the screen shows of the print; 0 where it has the colour
	HexRef    string             `json:"hexReference"`
	HexPrint  string             `json:"hexPrint"`
	Thickness map[string]float64 `json:"thickness"` // shares of a full coat, by printer
	Um        map[string]float64 `json:"um"`
	Densities [3]float64         `json:"densities"` // of the plates, by printer
	Visual    float64            `json:"visual"`    // ISO 5-3 density of the print
	StatusA   [3]float64         `json:"statusA"`   // through red, green and blue
}

type readingOn struct {
	at      *[2]float64   // nil for none
	session session.State // see layingOf; with the hidden layers
	print   prints.Print
	masks   *mask.Matrix
	planes  [3]*plane.Plane
	space   spectrum.RGBSpace // of the canvas
}

func onReading(in Input) readingOn {
	if in.View.Reading == nil || !in.Plates.Open() {
		return readingOn{}
	}
	on := readingOn{
		at: in.View.Reading, session: layingOf(in.Session), print: in.Prints.Likely(),
		masks: in.Prints.Masks(picture.MaskingChosen), planes: in.Plates.Level(0), space: in.Prints.Space(),
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
	s.HexRef, s.Reference = spectrum.HexSRGB(linear), spectrum.SRGBLab(linear)
	for i, q := range pic.Coordinates(x, y) { // 0 of hidden layers
		thickness[i] = cube.Thickness(float64(q))
	}
	r := on.print.Recipe.Reflectance(thickness)
	s.Print, s.HexPrint = on.print.Light.Lab(r), prints.Hex(r, on.print.Light)
	s.Outside = on.print.OutsideDisplay(on.space, s.Print)
	s.Visual, s.StatusA = spectrum.VisualDensity(r), spectrum.StatusA(r)
	s.DE = spectrum.DeltaE00(s.Reference, s.Print)
	for p := range pigment.Printer(3) {
		s.Thickness[p.String()] = thickness[p]
		s.Um[p.String()] = thickness[p] * on.print.Recipe.Palette.Layer(p).CoatMicron
		s.Densities[p] = densityAt(&on, pic, p, x, y)
	}
	return Reading{s}
}

// densityAt is the density of a printer's plate that prints at pixel (x, y): the one that
// the masks make of it, where the print goes through masks.
func densityAt(on *readingOn, pic *render.Picture, p pigment.Printer, x, y float64) float64 {
	code := func(l *render.Layer) float64 { return l.Plane.Bilinear(l.Laid.Apply(x, y)) }
	if on.masks == nil {
		return code(&pic.Layers[p]) * density.Max / 65535
	}
	masked := 0.0
	for i := range pic.Layers {
		l := &pic.Layers[i]
		masked += on.masks[3*int(p)+i] * l.Tone.At(code(l))
	}
	return relief.DensityOf(on.session.Sources[on.session.SourceOf(p)].Film, masked)
}
