//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math"
	"syscall/js"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/tone"
)

// usualRange is the density range of a printing negative (common practice; from
// 1.1 to 1.5).
const usualRange = 1.3

// gallery is how the board of all palettes and the figures are looked at.
type gallery struct {
	by      string   // what the board is sorted by: one of orders
	falling bool     // the largest first
	hue     *float64 // hue angle of the reach's cut, in degrees; nil for that of the point that was read
}

// orders are what the board can be sorted by.
var orders = []named{
	{"kind", "as listed"}, {"name", "name"}, {"era", "era"}, {"L", "L* of the deepest grey"}, {"density", "density of the deepest grey"},
	{"tint", "tint of the full coats"}, {"driftA", "drift of the deepest grey to A"}, {"driftLED", "drift of the deepest grey to the neutral LED"},
	{"volume", "reach"}, {"beyond", "picture out of reach"}, {"mean", "mean ΔE00"}, {"p95", "ΔE00 of 95 %"},
}

type galleryModel struct {
	Masked        bool          `json:"masked"`
	Spread        spread.Limits `json:"spread"`
	SpreadDefault spread.Limits `json:"spreadDefault"`
	SpreadStops   float64       `json:"spreadStops"` // of exposure, which the spread of a full coat is worth
	RecipeKey     string        `json:"recipeKey"`   // what the figures of the recipe stand on
	PictureKey    string        `json:"pictureKey"`  // and those of the picture, printed in either way
	Hue           hueModel      `json:"hue"`
	Board         *boardModel   `json:"board"` // null in other looks
}

type hueModel struct {
	Degrees float64 `json:"degrees"`
	Read    bool    `json:"read"` // it is that of the point that was read
}

type boardModel struct {
	By       string      `json:"by"`
	Falling  bool        `json:"falling"`
	Orders   []named     `json:"orders"`
	Aspect   float64     `json:"aspect"` // width over height of the small prints
	Palettes []cardModel `json:"palettes"`
}

type cardModel struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Era    string `json:"era"`
	Own    bool   `json:"own"`
	Chosen bool   `json:"chosen"`
	Key    string `json:"key"` // what the small print and its figures stand on
}

// galleryDo carries out the commands on the board and the figures.
func (a *app) galleryDo(c sightCommand, text []byte) (done bool, err error) {
	switch c.Do {
	case "sort":
		for _, o := range orders {
			if o.ID == c.ID {
				a.gallery.by, a.gallery.falling = c.ID, c.On
				return true, nil
			}
		}
		return true, fmt.Errorf("the board cannot be sorted by “%s”", c.ID)
	case "hue":
		a.gallery.hue = nil
		var given struct{ Degrees *float64 }
		if err := json.Unmarshal(text, &given); err != nil {
			return true, fmt.Errorf("not a hue: %v", err)
		}
		if d := given.Degrees; d != nil {
			turn := math.Mod(math.Mod(*d, 360)+360, 360)
			a.gallery.hue = &turn
		}
		return true, nil
	}
	return false, nil
}

// galleryModel needs the point that was read, nil for none.
func (a *app) galleryModel(read *sampleModel) galleryModel {
	m := galleryModel{Masked: a.Masked, Spread: a.Spread, SpreadDefault: spread.Default}
	m.SpreadStops = tone.WorkingCurveOf(usualRange).Stops(a.Spread.Thickness)
	keys := a.keys()
	m.RecipeKey, m.PictureKey = keys(a.printing.Recipe.Palette)
	switch {
	case a.gallery.hue != nil:
		m.Hue.Degrees = *a.gallery.hue
	case read != nil:
		m.Hue.Degrees, m.Hue.Read = hueOf(read.Reference), true
	}
	if a.look == "board" {
		m.Board = &boardModel{By: a.gallery.by, Falling: a.gallery.falling, Orders: orders, Palettes: []cardModel{}}
		m.Board.Aspect = (a.frame[2] - a.frame[0]) / max(a.frame[3]-a.frame[1], 1)
		for _, p := range a.State.Palettes() {
			_, key := keys(p)
			m.Board.Palettes = append(m.Board.Palettes, cardModel{
				p.ID, p.Name, p.Era, a.Own(p.ID), p.ID == a.Palette, fmt.Sprint(key, a.Masked),
			})
		}
	}
	return m
}

// hueOf is the hue angle of a colour in degrees, 0 … 360.
func hueOf(l spectrum.Lab) float64 {
	return math.Mod(math.Atan2(l[2], l[1])*180/math.Pi+360, 360)
}

// keys tells for a palette short texts that change with all that its figures
// stand on: those of the recipe, and those of the open picture.
func (a *app) keys() func(p pigment.Palette) (recipe, pic string) {
	of := recipeStands{Order: a.Order, Paper: a.printing.Recipe.Paper, Finish: a.Finish, Light: a.Light, Limit: a.Limit}
	on := pictureStands{Dim: a.Dim, Opened: a.opened, Frame: a.frame}
	for i := range on.Films {
		printer := pigment.Printer(i)
		on.Sources[i] = a.SourceOf(printer)
		on.Films[i] = a.Sources[on.Sources[i]].Film
		on.Places[i] = place.Layer(&a.State, printer)
	}
	return func(p pigment.Palette) (recipe, pic string) {
		of.Palette, of.Spread = p, spread.Limits{} // which say nothing of the picture
		if on.Recipe = of; a.has() {
			pic = digest(on)
		}
		of.Spread = a.Spread
		return digest(of), pic
	}
}

type recipeStands struct {
	Palette       pigment.Palette
	Order         string
	Paper         stack.Paper
	Finish, Light string
	Limit         float64
	Spread        spread.Limits
}

type pictureStands struct {
	Recipe  recipeStands
	Dim     bool
	Opened  int
	Frame   [4]float64
	Films   [3]tone.Film
	Places  [3]place.Path
	Sources [3]int
}

func digest(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	h := fnv.New64a()
	h.Write(b)
	return fmt.Sprintf("%016x", h.Sum64())
}

// spreadWords says by how much the lighter or the heavier print differs from the
// likely one.
func spreadWords(l spread.Limits, sign string) string {
	return fmt.Sprintf("%s%.0f %% load, %s%.0f %% thickness", sign, 100*l.Load, sign, 100*l.Thickness)
}

// jsSmall hands out what small prints and the figures of the picture are made
// of: {level, frame, planes: [{w, h, bytes}]} by source, one level finer than
// those that masks are found on where there is one.
func (a *app) jsSmall() any {
	if !a.has() {
		return nil
	}
	level := max(min(len(a.plates[0]), len(a.plates[1]), len(a.plates[2]))-2, 0)
	planes := make([]any, 3)
	for i, p := range a.level(level) {
		planes[i] = map[string]any{"w": p.W, "h": p.H, "bytes": pixels(p)}
	}
	f := a.frame
	return js.ValueOf(map[string]any{"level": level, "frame": []any{f[0], f[1], f[2], f[3]}, "planes": planes})
}

func pixels(p *plane.Plane) js.Value {
	b := bytesOf(p.Pix)
	out := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(out, b)
	return out
}
