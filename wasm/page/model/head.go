package model

import (
	"fmt"

	"threeply/proof/place"
	"threeply/proof/verdict"
	"threeply/proof/words"
)

// Head is the title, the stations with a word on each, undo and redo.
type Head struct {
	Station string            `json:"station"`
	Title   string            `json:"title"`
	Ready   bool              `json:"ready"`
	Tabs    map[string]string `json:"tabs"`
	Undo    string            `json:"undo"`
	Redo    string            `json:"redo"`
}

type headOn struct {
	station, title string
	ready          bool
	undo, redo     string
	pixels         int // of all three plates
	laid           bool
	judged         Verdict
	leastSure      float64
	palette        string
	deepestGrey    float64 // L*
	noGreys        bool
}

func onHead(in Input, m Model) headOn {
	on := headOn{
		station: in.View.Station, title: in.Session.Title, ready: open(in.Session), undo: in.Undo, redo: in.Redo,
		laid: place.Laid(in.Session), judged: m.Register.Verdict, leastSure: m.leastSure,
	}
	for _, src := range in.Session.Sources {
		on.pixels += src.W * src.H
	}
	for _, p := range m.Palettes {
		if p.Chosen {
			on.palette = p.Name
		}
	}
	scale := in.Prints.Likely().Scale
	on.deepestGrey, on.noGreys = scale.Depth.Lab[0], scale.Even
	return on
}

func makeHead(on headOn) Head {
	tabs := map[string]string{
		"plates": "none open", "register": "nothing yet", "tissues": on.palette, "sheets": "proof, reference, session",
		"proof": fmt.Sprintf("deepest grey L* %.0f", on.deepestGrey),
	}
	if on.noGreys {
		tabs["proof"] = "next to no greys"
	}
	if on.ready {
		tabs["plates"] = "3 plates, " + words.Megapixels(on.pixels)
		tabs["register"] = on.judged.SignWords
		switch {
		case !on.laid:
			tabs["register"] = "not registered yet"
		case on.leastSure < verdict.SureFrom:
			tabs["register"] = "not sure"
		case on.judged.Judged && on.judged.Sign != "unsure":
			tabs["register"] = words.Microns(on.judged.LargestUm) + ", " + on.judged.SignWords
		}
	}
	return Head{on.station, on.title, on.ready, tabs, on.undo, on.redo}
}
