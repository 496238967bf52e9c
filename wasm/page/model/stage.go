package model

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/inspect"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/words"
	"threeply/wasm/page/view"
)

// Stage is where the pictures stand.
type Stage struct {
	Frames  []Frame      `json:"frames"`
	Divider *Divider     `json:"divider"`
	Line    *SectionLine `json:"line"`
}

// Frame is a pane: the part of it that its picture covers, and its words.
type Frame struct {
	ID       string   `json:"id"`
	Label    string   `json:"label"`
	Estimate bool     `json:"estimate"` // it shows a print, or something found from one
	Without  string   `json:"without"`  // the layers that are hidden in it, "" for none
	Note     string   `json:"note"`
	Legend   []Marked `json:"legend"` // what is marked in it
	X        float64  `json:"x"`
	Y        float64  `json:"y"`
	W        float64  `json:"w"`
	H        float64  `json:"h"`
	WordsX   float64  `json:"wordsX"` // where its words begin
	WordsW   float64  `json:"wordsW"` // and the width that they have
}

// Marked is something that is marked in a frame, in a colour.
type Marked struct {
	Hex   string `json:"hex"`
	Words string `json:"words"`
}

// Divider parts the two pictures of the look "divided".
type Divider struct {
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	H     float64 `json:"h"`
	From  float64 `json:"from"`  // where the whole picture's pane begins
	Width float64 `json:"width"` // and how wide it is
}

// SectionLine is the section's line, in each frame and in shares of the key.
type SectionLine struct {
	Frames []Segment    `json:"frames"`
	Share  session.Line `json:"share"`
}

// Segment is a straight line on the stage.
type Segment struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
}

type stageOn struct {
	view    view.View
	open    bool
	w, h    int // of the key
	section session.Line

	files                  [3]string // by printer
	order                  string    // of the layers, from the paper
	paper                  string    // its name, as are the next ones
	palette, finish, light string
	hidden                 [3]bool // by printer
	other                  string  // the palette of the look "palettes"
	dim, masked, masks     bool    // masks: there are some to print through
	unknowns               spread.Unknowns
	losses                 [3]picture.Loss // of the look "losses"
	straight               bool
	wide                   bool // the canvas is Display P3
}

func onStage(in Input) stageOn {
	s, likely := in.Session, in.Prints.Likely()
	on := stageOn{view: panesOf(in.View), open: open(s), section: s.Section, dim: s.Dim, unknowns: s.Doubts(), wide: in.Prints.Space() != spectrum.SRGB}
	if in.View.Look == "losses" {
		on.losses, _ = in.Prints.Losses(s)
	}
	on.straight = likely.Way(s).Straight
	on.w, on.h = s.Frame()
	for p := range pigment.Printer(3) {
		on.files[p] = s.Sources[s.SourceOf(p)].File
	}
	finish, _ := stack.FinishByID(s.Finish)
	if p, ok := s.PaletteByID(in.View.OtherPalette(s)); ok {
		on.other = p.Name
	}
	paper, _ := s.PaperByID(s.Paper)
	on.order, on.paper, on.hidden = s.Order, paper.Name, s.Hidden
	on.palette, on.finish, on.light = likely.Recipe.Palette.Name, finish.Name, likely.Light.Name
	on.masked, on.masks = in.Prints.Masks(picture.MaskingChosen) != nil, in.Prints.Masks(picture.MaskingOn) != nil
	return on
}

func makeStage(on stageOn) Stage {
	out := Stage{Frames: []Frame{}}
	if !on.open {
		return out
	}
	v := &on.view
	notes := on.notes()
	line := &SectionLine{Share: on.section}
	r := v.Stage.Ratio
	panes := v.Panes()
	for _, p := range panes {
		covered := v.Covered(p)
		note := notes[p.ID]
		if p.Shows == view.ShowsPlate {
			note = on.files[p.Plate]
		}
		wordsX, wordsW := v.Words(p)
		out.Frames = append(out.Frames, Frame{
			ID: p.ID, Label: p.Label, Note: note, Without: on.without(p), Legend: on.legend(p), WordsX: wordsX, WordsW: wordsW,
			Estimate: p.Shows == view.ShowsPrint || p.Shows >= view.ShowsReach || p.Shows == view.ShowsDifference,
			X:        float64(covered.Min.X) / r, Y: float64(covered.Min.Y) / r, W: float64(covered.Dx()) / r, H: float64(covered.Dy()) / r,
		})
		toStage, ok := v.ToPixel(p).Inverse()
		if !ok {
			continue
		}
		at := func(x, y float64) (float64, float64) {
			return v.OnStage(toStage.Apply(x*float64(on.w-1), y*float64(on.h-1)))
		}
		var one Segment
		one.X0, one.Y0 = at(on.section.X0, on.section.Y0)
		one.X1, one.Y1 = at(on.section.X1, on.section.Y1)
		line.Frames = append(line.Frames, one)
	}
	if v.Cut {
		out.Line = line
	}
	if v.Look == "divided" && len(panes) == 2 {
		left, right := panes[0].Box, panes[1].Box
		out.Divider = &Divider{right.X, right.Y, right.H, left.X, left.W + right.W}
	}
	return out
}

// notes are the second line of words above a pane, by its ID: of a print its palette,
// order, paper, surface, light and room.
func (on stageOn) notes() map[string]string {
	room := "bench"
	if on.dim {
		room = fmt.Sprintf("gallery, %d lx", session.GalleryLux)
	}
	way := ""
	switch {
	case on.masked:
		way = "masked"
	case on.straight:
		way = "straight"
	}
	// print is a print of which some words differ from the session's.
	print := func(palette, way, room string) string {
		order := strings.ToUpper(strings.Join(strings.Split(on.order, ""), " "))
		light, _, _ := strings.Cut(on.light, ",")
		return said(palette, way, order, on.paper, on.finish, light, room)
	}
	likely := print(on.palette, way, room)
	notes := map[string]string{
		"reference":  "the three plates added as light",
		"print":      likely,
		"other":      print(on.other, way, room),
		"difference": likely,
		"reach":      likely,
		"lighter":    said(tendWords(on.unknowns, "−"), on.palette, way),
		"heavier":    said(tendWords(on.unknowns, "+"), on.palette, way),
		"layer":      likely,
		"straight":   print(on.palette, "one exposure a layer", room),
		"tuned":      print(on.palette, "negatives drawn for neutral greys", room),
		"under":      likely,
		"over":       likely,
		"outside":    likely,
		"unmasked":   print(on.palette, "each plate prints its own layer alone", room),
		"masked":     print(on.palette, "corrected by masks", room),
		"bench":      print(on.palette, way, fmt.Sprintf("%d lx", session.BenchLux)),
		"gallery":    print(on.palette, way, fmt.Sprintf("%d lx", session.GalleryLux)),
	}
	if !on.masks {
		notes["masked"] = "no masks can be found for this picture: unmasked"
	}
	return notes
}

// said joins words that are there.
func said(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), " · ")
}

// without names the layers that are hidden in a pane which shows a print.
func (on stageOn) without(p view.Pane) string {
	if p.Shows != view.ShowsPrint && p.Shows != view.ShowsDifference && p.Shows != view.ShowsOutside || p.Only != "" {
		return ""
	}
	var hidden []string
	for which := range pigment.Printer(3) {
		if on.hidden[which] {
			hidden = append(hidden, which.String())
		}
	}
	if len(hidden) == 0 {
		return ""
	}
	return "without " + strings.Join(hidden, " and ")
}

// legend says what is marked in a pane.
func (on stageOn) legend(p view.Pane) []Marked {
	mark := func(c render.RGB, words string) Marked {
		return Marked{fmt.Sprintf("#%02x%02x%02x", code(c[0]), code(c[1]), code(c[2])), words}
	}
	switch p.Shows {
	case view.ShowsLosses:
		l := on.losses[p.Plate]
		return []Marked{
			mark(inspect.LostColour, "off "+short(l.Lost)),
			mark(inspect.BlockedColour, "blocked "+short(l.Blocked)),
		}
	case view.ShowsOutside:
		space := spectrum.SRGB.Name
		if on.wide {
			space = spectrum.DisplayP3.Name
		}
		return []Marked{mark(inspect.OutsideColour, space+" lacks it")}
	}
	return []Marked{}
}

// short is a share in a caption, where there is little room.
func short(share float64) string {
	switch {
	case share <= 0:
		return "0"
	case share < 0.001:
		return "< 0.1 %"
	}
	return words.Share(share)
}

// code is a channel, 0 … 1, in 8 bits.
func code(v float32) uint8 { return uint8(v*255 + 0.5) }

// tendWords says by how much the lighter or the heavier print differs from the likely
// one.
func tendWords(u spread.Unknowns, sign string) string {
	return fmt.Sprintf("%s%.0f %% pigment, %s%.2g stop", sign, 100*u.Amount, sign, u.Exposure)
}
