//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"syscall/js"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/reach"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
)

// figuresModel is what a recipe comes to, in the form that the page reads.
type figuresModel struct {
	Volume  float64       `json:"volume"`  // of the solid, CIELAB units cubed
	Outline []float64     `json:"outline"` // largest chroma at equal steps of hue from 0°
	Slices  [][]float64   `json:"slices"`  // largest chroma at L* 0, 2 … 100, by the same steps of hue; -1 where there is nothing
	Drift   []driftModel  `json:"drift"`   // of the black, the chosen light first
	Balance balanceModel  `json:"balance"`
	Sure    []sureModel   `json:"sure"` // of the neutral scale, from light to dark
	Limits  spread.Limits `json:"limits"`
}

type driftModel struct {
	Light  string       `json:"light"`
	Name   string       `json:"name"`
	Lab    spectrum.Lab `json:"lab"`
	DeltaE float64      `json:"dE"` // ΔE00 from the first
}

type balanceModel struct {
	L     []float64            `json:"L"`     // print L*, paper first
	T     map[string][]float64 `json:"t"`     // relative thickness by printer
	Worst float64              `json:"worst"` // largest ΔE00 from the aim
	Lost  *[2]float64          `json:"lost"`  // L* between which the greys are not held, null where they all are

	Even    bool    `json:"even"`    // no grey scale: the layers are laid alike
	Greyest float64 `json:"greyest"` // L* of the deepest grey, where Even
}

type sureModel struct {
	Name    string       `json:"name"`
	Lab     spectrum.Lab `json:"lab"`
	Lighter spectrum.Lab `json:"lighter"`
	Heavier spectrum.Lab `json:"heavier"`
	DeltaE  float64      `json:"dE"`
	Causes  []causeModel `json:"causes"` // the two strongest
}

type causeModel struct {
	What   string  `json:"what"`
	Layer  string  `json:"layer"` // empty for the surface
	DeltaE float64 `json:"dE"`
}

const (
	outlineHues  = 72
	figuresNodes = 33 // an axis of the cube that the skin is taken from
)

// tones of the neutral scale at which the page says how sure they are.
var tones = []struct {
	name string
	at   float64 // 0 paper, 1 the depth
}{{"light grey", 0.25}, {"middle grey", 0.5}, {"dark grey", 0.75}, {"black", 1}}

// figures: session → reach, drift, balance and sureness of its recipe, as text.
func figures(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	solid := reach.New(cube.New(r, light, figuresNodes), s.Limit)
	scale := balance.Neutral(r, light, s.Limit)
	out := figuresModel{
		Volume: solid.Volume(), Outline: solid.Outline(outlineHues), Slices: slices(solid.Shell(scale)),
		Drift: drifts(light, r, scale.Depth.Thickness), Balance: balanceOf(scale), Limits: s.Spread,
	}
	for _, tone := range tones {
		out.Sure = append(out.Sure, sureOf(tone.name, s.Spread, r, light, scale.Thickness(tone.at)))
	}
	text, err := json.Marshal(out)
	return string(text), nil, err
}

// slices are the outlines of the solid in L*C*, chroma to a tenth: plots need no
// more.
func slices(shell *reach.Shell) [][]float64 {
	const each = (reach.Levels - 1) / 50
	out := make([][]float64, outlineHues)
	for k := range out {
		for l, chroma := range shell.Slice(360 * float64(k) / outlineHues) {
			if l%each == 0 {
				out[k] = append(out[k], math.Round(10*chroma)/10)
			}
		}
	}
	return out
}

// sureness: session, thickness by printer → how sure that colour is, as text.
func sureness(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, r, light, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	var t [3]float64
	for _, p := range pigment.Printers() {
		v := m.Get("thickness").Get(p.String())
		if v.Type() != js.TypeNumber || !(v.Float() >= 0) {
			return nil, nil, fmt.Errorf("the %s layer has no thickness there", p)
		}
		t[p] = v.Float()
	}
	text, err := json.Marshal(sureOf("the point", s.Spread, r, light, t))
	return string(text), nil, err
}

// drifts looks at the amounts t, balanced for the chosen light, by other lights.
func drifts(chosen spectrum.Light, r stack.Recipe, t [3]float64) []driftModel {
	var out []driftModel
	for _, d := range balance.DriftsFrom(chosen, r, t) {
		light, _ := spectrum.LightByID(d.Light)
		name, _, _ := strings.Cut(light.Name, ",")
		out = append(out, driftModel{d.Light, name, d.Lab, d.DeltaE})
	}
	return out
}

func balanceOf(s balance.Scale) balanceModel {
	b := balanceModel{L: s.L, T: map[string][]float64{}, Even: s.Even, Greyest: s.Greyest}
	for _, p := range pigment.Printers() {
		for _, t := range s.T {
			b.T[p.String()] = append(b.T[p.String()], t[p])
		}
	}
	from, to, worst, lost := s.Strays()
	b.Worst = worst
	if lost {
		last := float64(len(s.L) - 1)
		first, end := int(math.Round(from*last)), int(math.Round(to*last))
		b.Lost = &[2]float64{crossing(s, first-1, first), crossing(s, end+1, end)}
	}
	return b
}

// crossing returns the L* at which the residual passes what counts as held,
// between a point that is held and its neighbour that is not. The ends of the
// scale are held: they are their own aims.
func crossing(s balance.Scale, held, lost int) float64 {
	w := (balance.Held - s.Residual[held]) / (s.Residual[lost] - s.Residual[held])
	return s.L[held] + w*(s.L[lost]-s.L[held])
}

func sureOf(name string, l spread.Limits, r stack.Recipe, light spectrum.Light, t [3]float64) sureModel {
	o := l.Of(r, light, t)
	s := sureModel{Name: name, Lab: o.Likely, Lighter: o.Lighter, Heavier: o.Heavier, DeltaE: o.DeltaE, Causes: []causeModel{}}
	for _, c := range o.Causes[:min(2, len(o.Causes))] {
		s.Causes = append(s.Causes, causeModel{c.What, c.Layer, c.DeltaE})
	}
	return s
}
