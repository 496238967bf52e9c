//go:build js

package main

import (
	"math"

	"threeply/proof/pigment"
	"threeply/proof/render"
	"threeply/proof/spectrum"
)

type sampleModel struct {
	X         int                `json:"x"`
	Y         int                `json:"y"`
	Reference spectrum.Lab       `json:"reference"`
	Print     spectrum.Lab       `json:"print"`
	DE        float64            `json:"dE"`
	HexRef    string             `json:"hexReference"`
	HexPrint  string             `json:"hexPrint"`
	Thickness map[string]float64 `json:"thickness"`
	Um        map[string]float64 `json:"um"`
	Visual    float64            `json:"visual"`  // ISO 5-3 density of the print
	StatusA   [3]float64         `json:"statusA"` // through red, green and blue
}

// sample reads reference, print and thicknesses at the point under the
// pointer, from the untouched scans.
func (a *app) sample() *sampleModel {
	if !a.has() || !a.atSet {
		return nil
	}
	pic := a.full()
	x, y := math.Round(a.at[0]), math.Round(a.at[1])
	ref := pic.At(render.Reference, x, y)
	t := thickness(pic, x, y)
	for i, hidden := range a.Hidden {
		if hidden {
			t[i] = 0
		}
	}
	s := &sampleModel{X: int(x), Y: int(y), Thickness: map[string]float64{}, Um: map[string]float64{}}
	var linear [3]float64
	for i, v := range ref {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	s.HexRef = hexOf(linear)
	s.Reference = spectrum.SRGBLab(linear)
	r := a.printing.Recipe.Reflectance(t)
	s.Print = a.printing.Light.Lab(r)
	s.HexPrint = hex(r, a.printing.Light)
	s.Visual, s.StatusA = spectrum.VisualDensity(r), spectrum.StatusA(r)
	s.DE = spectrum.DeltaE00(s.Reference, s.Print)
	for i := range pigment.Printer(3) {
		s.Thickness[i.String()] = t[i]
		s.Um[i.String()] = t[i] * a.printing.Recipe.Palette.Layer(i).CoatMicron
	}
	return s
}
