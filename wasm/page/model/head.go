package model

import (
	"fmt"
	"slices"

	"threeply/proof/desk"
	"threeply/proof/place"
	"threeply/proof/verdict"
	"threeply/proof/words"
)

// Head is the title, what the pull of each drawer says of its station, undo and redo.
type Head struct {
	Station string            `json:"station"`
	Title   string            `json:"title"`
	Ready   bool              `json:"ready"`
	Pulls   map[string]string `json:"pulls"`
	Undo    string            `json:"undo"`
	Redo    string            `json:"redo"`
}

type headOn struct {
	station, title string
	ready, opening bool // plates are there, or on their way
	undo, redo     string
	pixels         int // of all three plates
	asked          bool
	laid           bool
	judged         Verdict
	onBench        LaidOnBench
	leastSure      float64
	palette        string
	deepestGrey    float64 // L*
	noGreys        bool
	points         int
	review         string
}

func onHead(in Input, m Model) headOn {
	on := headOn{
		station: in.View.Station, title: in.Session.Title, ready: open(in.Session), undo: in.Undo, redo: in.Redo,
		asked: in.Asked, laid: place.Laid(in.Session), judged: m.Register.Verdict, onBench: m.Register.OnBench, leastSure: m.leastSure, review: reviewWords(in.Session),
	}
	for _, src := range in.Session.Sources {
		on.pixels += src.W * src.H
	}
	for _, p := range m.Palettes {
		if p.Chosen {
			on.palette = p.Name
		}
	}
	on.points = len(in.Session.Points)
	on.opening = slices.ContainsFunc(in.Notices.Jobs, func(j desk.Job) bool { return j.Kind == desk.Opening })
	if !on.ready && in.Coming != "" {
		on.title, on.opening = in.Coming, true
	}
	scale := in.Prints.Likely().Scale
	on.deepestGrey, on.noGreys = scale.Depth.Lab[0], scale.Even
	return on
}

func makeHead(on headOn) Head {
	pulls := map[string]string{
		"plates": "none open", "register": "nothing yet", "tissues": on.palette, "sheets": "sheets", "review": on.review,
		"proof": fmt.Sprintf("black %s, L* %.0f", words.Black(on.deepestGrey), on.deepestGrey),
	}
	if on.opening {
		pulls["plates"] = "opening …"
	}
	switch on.points {
	case 0:
		pulls["points"] = "no points"
	case 1:
		pulls["points"] = "1 point"
	default:
		pulls["points"] = fmt.Sprintf("%d points", on.points)
	}
	if on.noGreys {
		pulls["proof"] = "next to no greys"
	}
	if on.ready {
		pulls["plates"] = "3 plates, " + words.Megapixels(on.pixels)
		if on.asked {
			pulls["plates"] = "which plate is which?"
		}
		pulls["register"] = on.judged.SignWords
		switch {
		case !on.laid:
			pulls["register"] = "not registered yet"
		case on.leastSure < verdict.SureFrom:
			pulls["register"] = "not sure"
		case on.onBench.Sign == "out": // the user set it so: the scans may lie well
			pulls["register"] = "layers off by " + words.Microns(on.onBench.LargestUm)
		case on.judged.Measured && on.judged.Sign != "unsure":
			pulls["register"] = fmt.Sprintf("%s, %.2f px", on.judged.SignWords, on.judged.P95Px)
		}
	}
	return Head{on.station, on.title, on.ready, pulls, on.undo, on.redo}
}
