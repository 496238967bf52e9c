//go:build js

package main

import (
	"fmt"
	"strings"

	"threeply/proof/export"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/stack"
	"threeply/proof/verdict"
	"threeply/proof/words"
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
	Split          bool              `json:"split"`
	Plates         []plateModel      `json:"plates"`
	Key            string            `json:"key"`
	Registered     string            `json:"registered"`
	Register       registerModel     `json:"register"`
	Selected       string            `json:"selected"`
	Tool           string            `json:"tool"`
	Hidden         []string          `json:"hidden"`
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
	Loupe          loupeModel        `json:"loupe"`
	PlatePair      [2]int            `json:"platePair"` // printers of the plates that are looked at
	Rests          string            `json:"rests"`
	Cautions       []string          `json:"cautions"`
	Ranges         session.Ranges    `json:"ranges"` // of what can be set

	tissuesModel
	turnsModel
	marksModel
	galleryModel
}

type named struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

type frameModel struct {
	ID       string  `json:"id"`
	Label    string  `json:"label"`
	Estimate bool    `json:"estimate"` // it shows a print, or something found from one
	Note     string  `json:"note"`
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	W        float64 `json:"w"`
	H        float64 `json:"h"`
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

// cautions stand where the work can hurt someone.
var cautions = []string{
	"UV lamps harm eyes and skin: do not look into the light, cover skin, and air the room where a lamp makes ozone.",
	"Dichromate sensitisers are toxic, carcinogenic and sensitising, and restricted in many places; treat diazo sensitisers by their data sheet.",
	"Dry pigments, those with lead, mercury, cadmium, cobalt or nickel above all: raise no dust, work wet or with a fitted respirator.",
	"Hot water scalds, and glass under vacuum can implode.",
	"Follow the safety data sheet, local rules and licensed practice; this page replaces none of them.",
}

// model builds what the page shows now.
func (a *app) model() model {
	m := model{
		Station: a.station, Title: a.Title, Ready: a.has(), Undo: a.UndoWords(), Redo: a.RedoWords(),
		Busy: a.busy, Messages: append([]message{}, a.messages...), Layout: a.State.Layout, TallOrder: a.tallOrder(),
		Layouts: []named{{"separate", "three files, one a plate"}, {"tall", "one tall file, three exposures"}, {"channels", "one colour file, a plate a channel"}},
		Ask:     a.asked, Split: a.State.Split, Key: a.Key, Registered: a.Registered, Selected: a.selected, Tool: a.tool,
		Look: a.look, Looks: looks, Layer: a.layer, Edges: a.edges, Zoom: a.zoomShown(), Fitted: a.fitted, Whole: a.whole,
		SectionVersion: a.version, Rests: export.RestsOn, Cautions: cautions, Ranges: session.LengthRanges(), Hidden: []string{},
	}
	m.Plates, m.Register = a.plateModels(), a.registerModel()
	for p, hidden := range a.Hidden {
		if hidden {
			m.Hidden = append(m.Hidden, pigment.Printer(p).String())
		}
	}
	m.tissuesModel, m.turnsModel = a.tissuesModel(), a.turnsModel()
	a.frames(&m)
	m.marksModel, m.Loupe, m.PlatePair = a.marksModel(), a.loupeModel(), a.sight.plates
	m.Left = a.leftModel()
	m.Sample = a.sample()
	m.galleryModel = a.galleryModel(m.Sample)
	m.Tabs = a.tabs(&m)
	return m
}

func (a *app) tabs(m *model) map[string]string {
	t := map[string]string{"plates": "none open", "register": "nothing yet", "tissues": "", "proof": "", "sheets": "proof, reference, session"}
	if a.has() {
		total := 0
		for _, s := range a.Sources {
			total += s.W * s.H
		}
		t["plates"] = "3 plates, " + words.Megapixels(total)
		t["register"] = m.Register.SignWords
		switch {
		case !place.Laid(&a.State):
			t["register"] = "not registered yet"
		case m.Register.least < verdict.SureFrom:
			t["register"] = "not sure"
		case m.Register.Judged && m.Register.Sign != "unsure":
			t["register"] = words.Microns(m.Register.LargestUm) + ", " + t["register"]
		}
	}
	for _, p := range m.Palettes {
		if p.Chosen {
			t["tissues"] = p.Name
		}
	}
	t["proof"] = fmt.Sprintf("deepest grey L* %.0f", a.printing.Scale.Depth.Lab[0])
	if a.printing.Scale.Even {
		t["proof"] = "next to no greys"
	}
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

func (a *app) frames(m *model) {
	m.Frames = []frameModel{}
	if !a.has() {
		return
	}
	palette := a.printing.Recipe.Palette.Name
	finish, _ := stack.FinishByID(a.Finish)
	light, _, _ := strings.Cut(a.printing.Light.Name, ",")
	if a.Dim {
		light += fmt.Sprintf(" · gallery, %d lx", session.GalleryLux)
	}
	way := ""
	if a.printing.Masks != nil {
		way = " · masked"
	}
	notes := map[string]string{
		"reference":  "plates, added light",
		"print":      palette + way + " · " + finish.Name + " · " + light,
		"difference": palette + way,
		"lighter":    spreadWords(a.Spread, "−") + way,
		"heavier":    spreadWords(a.Spread, "+") + way,
		"layer":      palette + way,
		"straight":   palette + " · each plate by its own curve",
		"masked":     palette + " · corrected by masks",
		"bench":      fmt.Sprintf("%s%s · %d lx", palette, way, session.BenchLux),
		"gallery":    fmt.Sprintf("%s%s · %d lx", palette, way, session.GalleryLux),
	}
	if a.masks == nil {
		notes["masked"] = "no masks can be found for this picture: straight"
	}
	line := &lineModel{Share: a.Section}
	w, h := a.Frame()
	for _, p := range a.panes() {
		x0, y0, x1, y1 := a.shown(p)
		r := a.ratio
		if p.show == showPlate {
			notes[p.ID] = a.Sources[a.SourceOf(pigment.Printer(p.plate))].File
		}
		estimate := p.show == showPrint || p.show == showDifference || p.show == showReach
		m.Frames = append(m.Frames, frameModel{p.ID, p.Label, estimate, notes[p.ID], float64(x0) / r, float64(y0) / r, float64(x1-x0) / r, float64(y1-y0) / r})
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
