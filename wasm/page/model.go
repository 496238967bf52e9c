//go:build js

package main

import (
	"fmt"
	"math"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/transfer"
)

// model is what the page shows, in the form its scripts read. Lengths say
// their unit in their name.
type model struct {
	Station        string            `json:"station"`
	Title          string            `json:"title"`
	Ready          bool              `json:"ready"`
	Tabs           map[string]string `json:"tabs"`
	Undo           string            `json:"undo"`
	Redo           string            `json:"redo"`
	Busy           *busy             `json:"busy"`
	Messages       []message         `json:"messages"`
	Layout         string            `json:"layout"`
	Layouts        []named           `json:"layouts"`
	TallOrder      string            `json:"tallOrder"`
	Ask            bool              `json:"ask"`
	Plates         []plateModel      `json:"plates"`
	Key            string            `json:"key"`
	Registered     string            `json:"registered"`
	Register       registerModel     `json:"register"`
	Selected       string            `json:"selected"`
	Tool           string            `json:"tool"`
	Palettes       []paletteModel    `json:"palettes"`
	Order          string            `json:"order"`
	Orders         []string          `json:"orders"`
	Light          string            `json:"light"`
	Lights         []named           `json:"lights"`
	Paper          string            `json:"paper"`
	Papers         []named           `json:"papers"`
	Finish         string            `json:"finish"`
	Finishes       []named           `json:"finishes"`
	Hidden         []string          `json:"hidden"`
	Route          string            `json:"route"`
	Routes         []named           `json:"routes"`
	Turns          []turnModel       `json:"turns"`
	Negatives      string            `json:"negatives"`
	Surface        string            `json:"surface"`
	Look           string            `json:"look"`
	Looks          []namedLook       `json:"looks"`
	Layer          string            `json:"layer"`
	Edges          [2]int            `json:"edges"`
	Zoom           float64           `json:"zoom"`
	Fitted         bool              `json:"fitted"`
	Whole          bool              `json:"whole"`
	Frames         []frameModel      `json:"frames"`
	Divider        *dividerModel     `json:"divider"`
	Sample         *sampleModel      `json:"sample"`
	SectionVersion int               `json:"sectionVersion"`
	Line           *lineModel        `json:"line"`
	Left           leftModel         `json:"left"`
	Rests          string            `json:"rests"`
	Cautions       []string          `json:"cautions"`
}

type named struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

type frameModel struct {
	ID    string  `json:"id"`
	Label string  `json:"label"`
	Note  string  `json:"note"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	W     float64 `json:"w"`
	H     float64 `json:"h"`
}

type dividerModel struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	H float64 `json:"h"`
}

// lineModel is the section's line in each frame, CSS pixels of the stage.
type lineModel struct {
	Frames []segment    `json:"frames"`
	Share  session.Line `json:"share"`
}

type segment struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
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

type turnModel struct {
	Support string   `json:"support"`
	Reads   string   `json:"reads"`
	Layers  []string `json:"layers"` // from the top down
	Words   string   `json:"words"`
}

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
}

// cautions stand where the work can hurt someone.
var cautions = []string{
	"UV lamps harm eyes and skin: do not look into the light, cover skin, and air the room where a lamp makes ozone.",
	"Dichromate sensitisers are toxic, carcinogenic and sensitising, and restricted in many places; treat diazo sensitisers by their data sheet.",
	"Dry pigments, those with lead, mercury, cadmium or cobalt above all: raise no dust, work wet or with a fitted respirator.",
	"Hot water scalds, and glass under vacuum can implode.",
	"Follow the safety data sheet, local rules and licensed practice; this page replaces none of them.",
}

const rests = "Estimate from published or remembered pigment spectra, not from your tissues; scattering is the least certain number and decides the deep blacks. It does not show gloss, relief, grain, slip or the screen's own error."

// model builds what the page shows now.
func (a *app) model() model {
	m := model{
		Station: a.station, Title: a.Title, Ready: a.has(), Undo: a.UndoWhat(), Redo: a.RedoWhat(),
		Busy: a.busy, Messages: append([]message{}, a.messages...), Layout: a.State.Layout, TallOrder: a.tallOrder(),
		Layouts: []named{{"separate", "three files, one a plate"}, {"tall", "one tall file, three exposures"}, {"channels", "one colour file, a plate a channel"}},
		Ask:     a.asked, Key: a.Key, Registered: a.Registered, Selected: a.selected, Tool: a.tool,
		Order: a.Order, Light: a.Light, Paper: a.Paper, Finish: a.Finish, Route: a.Route,
		Look: a.look, Looks: looks, Layer: a.layer, Edges: a.edges, Zoom: a.zoom, Fitted: a.fitted, Whole: a.whole,
		SectionVersion: a.version, Rests: rests, Cautions: cautions, Hidden: []string{},
	}
	m.Plates, m.Register = a.plateModels(), a.registerModel()
	for p, hidden := range a.Hidden {
		if hidden {
			m.Hidden = append(m.Hidden, pigment.Printer(p).String())
		}
	}
	a.tissues(&m)
	a.turns(&m)
	a.frames(&m)
	m.Left = a.leftModel()
	m.Sample = a.sample()
	m.Tabs = a.tabs(&m)
	return m
}

func (a *app) tabs(m *model) map[string]string {
	t := map[string]string{"plates": "none open", "register": "nothing yet", "tissues": "", "proof": "", "sheets": "proof, reference, session"}
	if a.has() {
		total := 0.0
		for _, s := range a.Sources {
			total += float64(s.W*s.H) / 1e6
		}
		t["plates"] = fmt.Sprintf("3 plates, %.0f MP", total)
		t["register"] = map[string]string{"in": "in register", "near": "nearly in register", "out": "out of register"}[m.Register.Sign]
		switch {
		case a.Registered == "none":
			t["register"] = "not registered yet"
		case m.Register.least < session.SureFrom:
			t["register"] = "not sure"
		default:
			t["register"] = session.Microns(m.Register.LargestUm) + ", " + t["register"]
		}
	}
	for _, p := range m.Palettes {
		if p.Chosen {
			t["tissues"] = p.Name
		}
	}
	t["proof"] = fmt.Sprintf("deepest grey L* %.0f", a.printing.Scale.Depth.Lab[0])
	return t
}

func (a *app) tallOrder() string {
	if a.State.Layout != "tall" {
		return "bgr"
	}
	var order [3]byte
	for f, source := range a.Assign {
		order[source] = "rgb"[f]
	}
	return string(order[:])
}

func (a *app) tissues(m *model) {
	for _, p := range pigment.Palettes() {
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
	for _, p := range stack.Papers() {
		m.Papers = append(m.Papers, named{p.ID, p.Name})
	}
	for _, f := range stack.Finishes() {
		m.Finishes = append(m.Finishes, named{f.ID, f.Name})
	}
}

func (a *app) turns(m *model) {
	for _, r := range transfer.Routes() {
		m.Routes = append(m.Routes, named{r.ID, r.Name})
	}
	r, _ := transfer.RouteByID(a.Route)
	m.Negatives, m.Surface = "ordinary", r.OuterSurface()
	if r.Reversed() {
		m.Negatives = "reversed"
	}
	order := a.printing.Recipe.Order
	for _, step := range transfer.Steps(r, order[:]) {
		t := turnModel{Support: step.Support, Reads: "right"}
		if !step.Right {
			t.Reads = "reversed"
		}
		for i := len(step.Layers) - 1; i >= 0; i-- {
			t.Layers = append(t.Layers, step.Layers[i].String())
		}
		side := "reads right"
		if !step.Right {
			side = "is reversed"
		}
		t.Words = fmt.Sprintf("%s on top, %s next to the %s; the picture %s", step.Layers[2], step.Layers[0], step.Support, side)
		m.Turns = append(m.Turns, t)
	}
}

func (a *app) frames(m *model) {
	m.Frames = []frameModel{}
	if !a.has() {
		return
	}
	palette := a.printing.Recipe.Palette.Name
	finish, _ := stack.FinishByID(a.Finish)
	notes := map[string]string{
		"reference": "plates, added light",
		"print":     palette + " · " + finish.Name + " · " + a.printing.Light.Name,
		"layer":     palette,
	}
	line := &lineModel{Share: a.Section}
	w, h := a.Frame()
	for _, p := range a.panes() {
		x0, y0, x1, y1 := a.shown(p)
		r := a.ratio
		m.Frames = append(m.Frames, frameModel{p.ID, p.Label, notes[p.ID], float64(x0) / r, float64(y0) / r, float64(x1-x0) / r, float64(y1-y0) / r})
		inv, ok := a.view(p).Inverse()
		if !ok {
			continue
		}
		lx0, ly0 := inv.Apply(a.Section.X0*float64(w-1), a.Section.Y0*float64(h-1))
		lx1, ly1 := inv.Apply(a.Section.X1*float64(w-1), a.Section.Y1*float64(h-1))
		line.Frames = append(line.Frames, segment{(lx0 + 0.5) / r, (ly0 + 0.5) / r, (lx1 + 0.5) / r, (ly1 + 0.5) / r})
	}
	m.Line = line
	if ps := a.panes(); a.look == "divided" && len(ps) == 2 {
		m.Divider = &dividerModel{ps[1].x, ps[1].y, ps[1].h}
	}
}

// sample reads reference, print and thicknesses at the point under the
// pointer, from the untouched scans.
func (a *app) sample() *sampleModel {
	if !a.has() || !a.atSet {
		return nil
	}
	pic := a.full()
	x, y := math.Round(a.at[0]), math.Round(a.at[1])
	ref := pic.At(0, x, y)
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
	s.DE = spectrum.DeltaE00(s.Reference, s.Print)
	for i := range pigment.Printer(3) {
		s.Thickness[i.String()] = t[i]
		s.Um[i.String()] = t[i] * a.printing.Recipe.Palette.Layer(i).CoatMicron
	}
	return s
}
