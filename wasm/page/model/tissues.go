package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"threeply/proof/appearance"
	"threeply/proof/export"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/transfer"
	"threeply/proof/words"
	"threeply/wasm/page/prints"
)

// Tissues is the stack: what can be chosen and what is.
type Tissues struct {
	Palettes   []Palette `json:"palettes"`
	Rests      string    `json:"rests"`      // what the proof rests on
	Sight      string    `json:"sight"`      // what was written down by eye of the palette's test sheet and not used yet
	TestSheet  string    `json:"testSheet"`  // that readings are of, by its code; "" for that of the palette as it is
	TestSheets []Named   `json:"testSheets"` // those that were printed, the last first
	Limit      float64   `json:"limit"`      // thickest layer, in coats
	Order      string    `json:"order"`
	Orders     []string  `json:"orders"`
	Light      string    `json:"light"`
	Lights     []Named   `json:"lights"`
	Kelvin     int       `json:"kelvin"` // of a lamp that is known by its colour temperature, else 0
	Dim        bool      `json:"dim"`
	ScreenCd   float64   `json:"screenCd"` // white of a display that paper on the bench is as bright as, cd/m²
	Paper      string    `json:"paper"`
	PaperHex   string    `json:"paperSwatch"` // its colour under the light
	Papers     []Paper   `json:"papers"`
	Finish     string    `json:"finish"`
	Finishes   []Named   `json:"finishes"`   // those that the route gives, the likeliest first, and the chosen one
	FinishNote string    `json:"finishNote"` // when the route gives the chosen one, or that it does not
}

// Palette is one that can be chosen.
type Palette struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Era  string `json:"era"`
	Note string `json:"note"` // what is to be known of it, "" for nothing
	Own  bool   `json:"own"`

	Measured bool `json:"measured"` // its tissues were, from a test sheet
	ByEye    bool `json:"byEye"`    // and that by eye

	Chosen bool          `json:"chosen"`
	Layers []Layer       `json:"layers"`
	Depth  *prints.Depth `json:"depth"` // null until it is worked out
	Deep   string        `json:"deep"`  // the same in words
	Black  string        `json:"black"` // what its blackest grey is worth, "" where it has none or it is not worked out
}

// Layer is a tissue, in the form of pigment.Tissue with the names of its pigments; the
// rest of what is known of them is in the table of pigments.
type Layer struct {
	Printer    string    `json:"printer"`
	Swatch     string    `json:"swatch"`
	Pigments   []Pigment `json:"pigments"`
	Load       float64   `json:"load"`
	Haze       float64   `json:"haze"`
	CoatMicron float64   `json:"coatMicron"`

	Hardening pigment.Hardening `json:"hardening"`      // as measured
	Strength  float64           `json:"strength"`       // of the mixture that was coated; see pigment.Tissue
	HoldOn    float64           `json:"holdOn"`         // dry µm in use, measured or not
	Depth     float64           `json:"depthOfLight"`   // D_p in µm in use, measured or not
	Range     float64           `json:"hardeningRange"` // density range from nothing to the whole coat
}

// Pigment is one of a tissue's.
type Pigment struct {
	CI    string  `json:"ci"`
	Name  string  `json:"name"`
	Share float64 `json:"share"`
}

// Paper is one that can be chosen.
type Paper struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Source string `json:"source"`
	Own    bool   `json:"own"`
}

// whitePaper is the reflectance that a display's white stands for.
const whitePaper = 0.88

type tissuesOn struct {
	palettes                           []pigment.Palette // the session's own
	papers                             []stack.Paper     // the session's own
	palette, paper, finish, light, ord string
	route                              transfer.Route
	sight, testSheet                   string
	printed                            []session.Printed
	dim                                bool
	limit                              float64
	printing                           *picture.Printing
	depths                             []*prints.Depth // as session.Palettes
}

func onTissues(in Input) tissuesOn {
	s := in.Session
	sight := ""
	if s.Sight != nil && s.Sight.Palette == s.Palette {
		sight = s.Sight.Table
	}
	return tissuesOn{
		sight: sight, testSheet: s.TestSheet, printed: s.Printed,
		palettes: s.OwnPalettes, papers: s.OwnPapers, palette: s.Palette, paper: s.Paper, finish: s.Finish, light: s.Light, ord: s.Order, route: s.Transfer(),
		dim: s.Dim, limit: s.Limit, printing: in.Prints.Likely().Printing, depths: in.Prints.Depths(s),
	}
}

func makeTissues(on tissuesOn) Tissues {
	s := session.State{OwnPalettes: on.palettes, OwnPapers: on.papers}
	out := Tissues{Sight: on.sight, TestSheet: on.testSheet, TestSheets: []Named{}, Limit: on.limit, Order: on.ord, Light: on.light, Dim: on.dim, Paper: on.paper, Finish: on.finish}
	for i, p := range s.Palettes() {
		out.Palettes = append(out.Palettes, Palette{
			ID: p.ID, Name: p.Name, Era: p.Era, Note: p.Note(), Own: s.Own(p.ID), Measured: p.Measured != nil, ByEye: p.Measured != nil && p.Measured.Way == pigment.Eye, Chosen: p.ID == on.palette, Layers: on.layers(p), Depth: on.depths[i], Deep: depthWords(on.depths[i]), Black: blackWord(on.depths[i]),
		})
		if p.ID == on.palette {
			out.Rests = export.RestsOn(p)
		}
	}
	for _, p := range on.printed {
		said := []string{p.Code}
		if at, err := time.Parse(time.RFC3339, p.At); err == nil {
			said = append(said, at.Format(time.DateOnly))
		}
		if p.Palette != "" {
			said = append(said, p.Palette)
		}
		out.TestSheets = append(out.TestSheets, Named{p.Code, strings.Join(said, " · ")})
	}
	for _, o := range stack.Orders() {
		out.Orders = append(out.Orders, o.String())
	}
	out.Lights, out.Kelvin = on.lights()
	out.ScreenCd = appearance.Luminance(session.BenchLux, whitePaper)
	for _, p := range s.Papers() {
		out.Papers = append(out.Papers, Paper{p.ID, p.Name, p.Source, s.Own(p.ID)})
	}
	out.PaperHex = prints.Swatch(on.printing, on.printing.Recipe, -1)
	out.Finishes, out.FinishNote = on.finishes()
	return out
}

// depthWords says how deep a palette's greys go, or that it has next to none.
func depthWords(d *prints.Depth) string {
	switch {
	case d == nil:
		return "blackest grey: being computed"
	case d.Even:
		return fmt.Sprintf("no greys below L* %s; full coats give L* %s", words.Figure(d.Greyest, 0), words.Figure(d.L, 1))
	}
	return fmt.Sprintf("blackest grey %s: L* %s, density %s", words.Black(d.L), words.Figure(d.L, 1), words.Figure(d.Density, 2))
}

// blackWord says what the blackest grey of a palette is worth.
func blackWord(d *prints.Depth) string {
	if d == nil || d.Even {
		return ""
	}
	return words.Black(d.L)
}

// finishes lists what the route gives, and says of the chosen one when it does.
func (on *tissuesOn) finishes() (list []Named, note string) {
	route := on.route
	for _, o := range stack.Offers(route) {
		list = append(list, Named{o.ID, o.Name})
		if o.ID == on.finish {
			note = o.Name + " " + o.When + "."
		}
	}
	if !stack.Offered(route, on.finish) {
		f, _ := stack.FinishByID(on.finish)
		list = append(list, Named{f.ID, f.Name})
		note = f.Name + " does not come of this route: its last support leaves another surface."
	}
	return list, note
}

func (on *tissuesOn) layers(p pigment.Palette) []Layer {
	recipe := on.printing.Recipe
	recipe.Palette = p
	var out []Layer
	for i := range pigment.Printer(3) {
		t := p.Layer(i)
		l := Layer{Printer: i.String(), Swatch: prints.Swatch(on.printing, recipe, int(i)), Load: t.Load, Haze: t.Haze, CoatMicron: t.CoatMicron}
		r := relief.Of(t)
		l.Hardening, l.Strength, l.HoldOn, l.Depth, l.Range = t.Hardening, t.Strength(), r.HoldOn, r.Depth, r.Range()
		for _, share := range t.Pigments {
			g, _ := pigment.PigmentByCI(share.CI)
			l.Pigments = append(l.Pigments, Pigment{g.CI, g.Name, share.Share})
		}
		out = append(out, l)
	}
	return out
}

// lights lists the lights of the table, then the present one where it is known by its
// colour temperature alone, in kelvin.
func (on *tissuesOn) lights() (list []Named, kelvin int) {
	for _, l := range spectrum.Lights() {
		list = append(list, Named{l.ID, l.Name})
	}
	if !slices.ContainsFunc(list, func(l Named) bool { return l.ID == on.light }) {
		kelvin, _ = strconv.Atoi(strings.TrimSuffix(on.light, "K"))
		list = append(list, Named{on.light, on.printing.Light.Name})
	}
	return list, kelvin
}
