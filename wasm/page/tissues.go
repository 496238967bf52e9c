//go:build js

package main

import (
	"slices"
	"strconv"
	"strings"

	"threeply/proof/appearance"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

type tissuesModel struct {
	Palettes []paletteModel `json:"palettes"`
	Editing  editing        `json:"editing"`
	Limit    float64        `json:"limit"` // thickest layer, in coats
	Order    string         `json:"order"`
	Orders   []string       `json:"orders"`
	Light    string         `json:"light"`
	Lights   []named        `json:"lights"`
	Kelvin   int            `json:"kelvin"` // of a lamp that is known by its colour temperature, else 0
	Dim      bool           `json:"dim"`
	ScreenCd float64        `json:"screenCd"` // white of a display that paper on the bench is as bright as, cd/m²
	Paper    string         `json:"paper"`
	Papers   []paperModel   `json:"papers"`
	Finish   string         `json:"finish"`
	Finishes []named        `json:"finishes"`
}

// whitePaper is the reflectance that a display's white stands for.
const whitePaper = 0.88

// editing is the tissue whose editor is open, and how often one was asked for:
// the page brings it into view each time.
type editing struct {
	Printer string `json:"printer"`
	Times   int    `json:"times"`
}

type paletteModel struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	Era    string       `json:"era"`
	Own    bool         `json:"own"`
	Chosen bool         `json:"chosen"`
	Layers []layerModel `json:"layers"`
	Depth  *deepest     `json:"depth"`
}

// layerModel is a tissue, in the form of pigment.Tissue with the names of its
// pigments; the rest of what is known of them is in pigmentTable.
type layerModel struct {
	Printer    string         `json:"printer"`
	Swatch     string         `json:"swatch"`
	Pigments   []pigmentModel `json:"pigments"`
	Load       float64        `json:"load"`
	Haze       float64        `json:"haze"`
	CoatMicron float64        `json:"coatMicron"`
}

type pigmentModel struct {
	CI    string  `json:"ci"`
	Name  string  `json:"name"`
	Share float64 `json:"share"`
}

type paperModel struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Source string `json:"source"`
	Own    bool   `json:"own"`
}

// tissuesModel is the stack: what can be chosen and what is.
func (a *app) tissuesModel() tissuesModel {
	m := tissuesModel{Editing: a.editing, Limit: a.Limit, Order: a.Order, Light: a.Light, Dim: a.Dim, Paper: a.Paper, Finish: a.Finish}
	now := stands(&a.State)
	for _, p := range a.State.Palettes() {
		pm := paletteModel{ID: p.ID, Name: p.Name, Era: p.Era, Own: a.Own(p.ID), Chosen: p.ID == a.Palette}
		recipe := a.printing.Recipe
		recipe.Palette = p
		for i := range pigment.Printer(3) {
			t := p.Layer(i)
			l := layerModel{Printer: i.String(), Swatch: swatch(a.printing, recipe, int(i)), Load: t.Load, Haze: t.Haze, CoatMicron: t.CoatMicron}
			for _, share := range t.Pigments {
				pg, _ := pigment.PigmentByCI(share.CI)
				l.Pigments = append(l.Pigments, pigmentModel{pg.CI, pg.Name, share.Share})
			}
			pm.Layers = append(pm.Layers, l)
		}
		switch d, ok := a.board.deep[contents(p)]; {
		case ok && a.board.of == now:
			pm.Depth = &d
		case pm.Chosen: // while it is edited its depth goes along
			d = deepestOf(a.printing)
			pm.Depth = &d
		}
		m.Palettes = append(m.Palettes, pm)
	}
	for _, o := range stack.Orders() {
		m.Orders = append(m.Orders, o.String())
	}
	m.Lights, m.Kelvin = a.lights()
	m.ScreenCd = appearance.Luminance(session.BenchLux, whitePaper)
	for _, p := range a.State.Papers() {
		m.Papers = append(m.Papers, paperModel{p.ID, p.Name, p.Source, a.Own(p.ID)})
	}
	for _, f := range stack.Finishes() {
		m.Finishes = append(m.Finishes, named{f.ID, f.Name})
	}
	return m
}

// lights lists the lights of the table, then the present one where it is known
// by its colour temperature alone, in kelvin.
func (a *app) lights() (list []named, kelvin int) {
	for _, l := range spectrum.Lights() {
		list = append(list, named{l.ID, l.Name})
	}
	if !slices.ContainsFunc(list, func(l named) bool { return l.ID == a.Light }) {
		kelvin, _ = strconv.Atoi(strings.TrimSuffix(a.Light, "K"))
		list = append(list, named{a.Light, a.printing.Light.Name})
	}
	return list, kelvin
}

// edit opens the editor of a printer's tissue and goes to the station of the
// tissues, but for one who is registering: there a layer is chosen to be nudged,
// and its editor waits. No printer closes it.
func (a *app) edit(printer string) {
	a.editing.Printer = printer
	if printer == "" {
		return
	}
	a.editing.Times++
	if a.station != "register" {
		a.station = "tissues"
	}
}
