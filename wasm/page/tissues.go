//go:build js

package main

import (
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

type tissuesModel struct {
	Palettes []paletteModel `json:"palettes"`
	Order    string         `json:"order"`
	Orders   []string       `json:"orders"`
	Light    string         `json:"light"`
	Lights   []named        `json:"lights"`
	Paper    string         `json:"paper"`
	Papers   []named        `json:"papers"`
	Finish   string         `json:"finish"`
	Finishes []named        `json:"finishes"`
}

type paletteModel struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	Era    string       `json:"era"`
	Chosen bool         `json:"chosen"`
	Layers []layerModel `json:"layers"`
	Depth  *deepest     `json:"depth"`
}

type layerModel struct {
	Printer  string         `json:"printer"`
	Swatch   string         `json:"swatch"`
	Pigments []pigmentModel `json:"pigments"`
}

type pigmentModel struct {
	CI            string  `json:"ci"`
	Name          string  `json:"name"`
	Share         float64 `json:"share"`
	Status        string  `json:"status"`
	Source        string  `json:"source"`
	Lightfastness string  `json:"lightfastness"`
	Hazard        string  `json:"hazard"`
}

// tissuesModel is the stack: what can be chosen and what is.
func (a *app) tissuesModel() tissuesModel {
	m := tissuesModel{Order: a.Order, Light: a.Light, Paper: a.Paper, Finish: a.Finish}
	for _, p := range a.State.Palettes() {
		pm := paletteModel{ID: p.ID, Name: p.Name, Era: p.Era, Chosen: p.ID == a.Palette}
		recipe := a.printing.Recipe
		recipe.Palette = p
		for i := range pigment.Printer(3) {
			l := layerModel{Printer: i.String(), Swatch: swatch(a.printing, recipe, int(i))}
			for _, share := range p.Layer(i).Pigments {
				pg, _ := pigment.PigmentByCI(share.CI)
				l.Pigments = append(l.Pigments, pigmentModel{pg.CI, pg.Name, share.Share, pg.Status, pg.Source, pg.Lightfastness, pg.Hazard})
			}
			pm.Layers = append(pm.Layers, l)
		}
		if d, ok := a.board.deep[p.ID]; ok && a.board.of == stands(&a.State) {
			pm.Depth = &d
		}
		m.Palettes = append(m.Palettes, pm)
	}
	for _, o := range stack.Orders() {
		m.Orders = append(m.Orders, o.String())
	}
	for _, l := range spectrum.Lights() {
		m.Lights = append(m.Lights, named{l.ID, l.Name})
	}
	for _, p := range a.State.Papers() {
		m.Papers = append(m.Papers, named{p.ID, p.Name})
	}
	for _, f := range stack.Finishes() {
		m.Finishes = append(m.Finishes, named{f.ID, f.Name})
	}
	return m
}
