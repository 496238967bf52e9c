package model

import (
	"fmt"
	"image"
	"math"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/inspect"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/words"
	"threeply/wasm/page/view"
)

// Stage is where the pictures stand.
type Stage struct {
	LaidFor [6]float64   `json:"laidFor"` // what the frames go by, of view.Stage: W, H, Ratio, Right, Bottom, Caption
	Frames  []Frame      `json:"frames"`
	Shared  string       `json:"shared"` // what is said of all frames, and so in no note, "" for nothing
	Brief   string       `json:"brief"`  // the same where there is little room, as Frame.Brief
	Least   string       `json:"least"`  // and where there is least, as Frame.Least
	Divider *Divider     `json:"divider"`
	Line    *SectionLine `json:"line"`
}

// Frame is a pane: the part of it that its picture covers, and its words.
type Frame struct {
	ID       string   `json:"id"`
	Label    string   `json:"label"`
	Name     string   `json:"name"`     // the label where there is least room
	Estimate bool     `json:"estimate"` // it shows a print, or something found from one
	Side     string   `json:"side"`     // "left" or "right" where what stands there can be chosen
	Without  string   `json:"without"`  // the layers that are hidden in it, "" for none
	Note     string   `json:"note"`
	Brief    string   `json:"brief"`  // the note where there is little room: without paper, finish, light and room, but where pictures differ by them
	Least    string   `json:"least"`  // and where there is least: palette and order, but where Name says them, and what sides differ by
	Legend   []Marked `json:"legend"` // what is marked in it
	X        float64  `json:"x"`
	Y        float64  `json:"y"`
	W        float64  `json:"w"`
	H        float64  `json:"h"`
	WordsX   float64  `json:"wordsX"` // where its words begin
	WordsW   float64  `json:"wordsW"` // and the width that they have

	Part    bool         `json:"part"`    // the plates that it shows do not reach all of it
	Reached [][2]float64 `json:"reached"` // corners of the part that they reach then, points of the stage; none for nothing
}

// Marked is something that is marked in a frame, in a colour.
type Marked struct {
	Hex   string `json:"hex"`
	Words string `json:"words"`
	Name  string `json:"name"`  // what is marked, "" where Words cannot be parted
	Least string `json:"least"` // the same where there is least room
	Share string `json:"share"` // and how much of the picture it is
}

// Divider parts the two pictures of the look "divided": it is as high as their paper, lest it cross
// the words above.
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

	files    [3]string // by printer
	printed  printed
	held     []heldWords // of the prints that are held at a side
	hidden   [3]bool     // by printer
	other    string      // the name of the palette of the look "palettes"
	masks    bool        // there are some to print through
	unknowns spread.Unknowns
	shown    pigment.Exhibition
	strips   bool            // fading was measured of all three tissues
	losses   [3]picture.Loss // of the look "losses"
	outside  float64         // share of the picture, of the look "outside"
	wide     bool            // the canvas is Display P3

	reached [4][][2]float64 // what the plate of a printer reaches of the key, and last what all three do; see place.Reached
}

func onStage(in Input) stageOn {
	s, likely := in.Session, in.Prints.Likely()
	on := stageOn{
		view: panesOf(in.View), open: open(s), section: s.Section, hidden: s.Hidden, unknowns: s.Doubts(), shown: s.OnShow(), wide: in.Prints.Space() != spectrum.SRGB,
		printed: printedOf(s, likely.Way(s).Straight, in.Prints.Masks(picture.MaskingChosen) != nil), masks: in.Prints.Masks(picture.MaskingOn) != nil,
	}
	if in.View.Look == "losses" {
		on.losses, _ = in.Prints.Losses(s)
	}
	if in.View.Look == "outside" {
		on.outside, _ = in.Prints.Outside(s)
	}
	on.w, on.h = s.Frame()
	on.strips = true
	for p := range pigment.Printer(3) {
		on.strips = on.strips && likely.Recipe.Palette.Layer(p).Faded != nil
		on.files[p] = s.Sources[s.SourceOf(p)].File
		on.reached[p] = place.Reached(s, s.SourceOf(p))
	}
	on.reached[3] = place.Reached(s, s.Assign[:]...)
	if p, ok := s.PaletteByID(in.View.OtherPalette(s)); ok {
		on.other = p.Name
	}
	for i, h := range in.View.Held(s) {
		if h == nil || !in.View.Compares() {
			continue
		}
		if as, err := s.With(h); err == nil {
			masked := in.Prints.Masks(picture.MaskingHeldLeft+picture.Masking(i)) != nil
			on.held = append(on.held, heldWords{[2]string{in.View.Left, in.View.Right}[i], printedOf(&as, as.Way.Straight && !as.Masked, masked).note()})
		}
	}
	return on
}

func makeStage(on stageOn) Stage {
	told := on.view.Stage
	out := Stage{Frames: []Frame{}, LaidFor: [6]float64{told.W, told.H, told.Ratio, told.Right, told.Bottom, told.Caption}}
	if !on.open {
		return out
	}
	v := &on.view
	notes := on.notes()
	var above []note // above each frame
	line := &SectionLine{Share: on.section, Frames: []Segment{}}
	r := v.Stage.Ratio
	panes := v.Panes()
	for _, p := range panes {
		covered := v.Covered(p)
		words := notes[p.ID]
		if p.Shows == view.ShowsPlate {
			words = detailOf(on.files[p.Plate])
		}
		above = append(above, words)
		wordsX, wordsW := v.Words(p)
		out.Frames = append(out.Frames, Frame{
			ID: p.ID, Label: p.Label, Name: on.leastName(p), Side: p.Side, Without: on.without(p), Legend: on.legend(p), WordsX: wordsX, WordsW: wordsW,
			Estimate: ofPrint(p),
			X:        float64(covered.Min.X) / r, Y: float64(covered.Min.Y) / r, W: float64(covered.Dx()) / r, H: float64(covered.Dy()) / r,
			Reached: [][2]float64{},
		})
		toStage, ok := v.ToPixel(p).Inverse()
		if !ok {
			continue
		}
		if frame := &out.Frames[len(out.Frames)-1]; !p.OwnFrame {
			frame.Part, frame.Reached = on.part(p, covered, toStage)
		}
		at := func(x, y float64) (float64, float64) {
			return v.OnStage(toStage.Apply(x*float64(on.w-1), y*float64(on.h-1)))
		}
		var one Segment
		one.X0, one.Y0 = at(on.section.X0, on.section.Y0)
		one.X1, one.Y1 = at(on.section.X1, on.section.Y1)
		line.Frames = append(line.Frames, one)
	}
	out.Shared, out.Brief, out.Least = shareRow(out.Frames, above)
	if v.Cut {
		out.Line = line
	}
	if v.Look == "divided" && len(panes) == 2 {
		left, right := panes[0].Box, panes[1].Box
		frame := out.Frames[1]
		if frame.H == 0 { // the picture was moved out of its part
			frame = out.Frames[0]
		}
		out.Divider = &Divider{right.X, frame.Y - view.Paper, frame.H + 2*view.Paper, left.X, left.W + right.W}
	}
	return out
}

// part tells whether the plates that a pane shows reach only a part of it, and gives the corners
// of that part, in points of the stage; none where they reach all of it. toStage takes pixels of
// the key to the canvas.
func (on stageOn) part(p view.Pane, covered image.Rectangle, toStage affine.Matrix) (bool, [][2]float64) {
	all := on.reached[3]
	if p.Shows == view.ShowsPlate {
		all = on.reached[p.Plate]
	}
	corners := make([][2]float64, len(all))
	for i, c := range all {
		corners[i][0], corners[i][1] = toStage.Apply(c[0], c[1])
	}
	x0, y0, x1, y1 := float64(covered.Min.X)-0.5, float64(covered.Min.Y)-0.5, float64(covered.Max.X)-0.5, float64(covered.Max.Y)-0.5
	corners = place.InBox(corners, x0, y0, x1, y1)
	const rounding = 0.002 // of the picture: edges of frame and plate that are the same but for rounding
	if place.AreaOf(corners) >= (1-rounding)*(x1-x0)*(y1-y0) {
		return false, [][2]float64{}
	}
	out := make([][2]float64, len(corners))
	for i, c := range corners {
		x, y := on.view.OnStage(c[0], c[1])
		out[i] = [2]float64{math.Round(10*x) / 10, math.Round(10*y) / 10}
	}
	return true, out
}

// ofPrint tells a pane that shows a print, or something found from one.
func ofPrint(p view.Pane) bool {
	return p.Shows == view.ShowsPrint || p.Shows >= view.ShowsReach || p.Shows == view.ShowsDifference
}

// without names the layers that are hidden, in a pane which shows what is of a print.
func (on stageOn) without(p view.Pane) string {
	if !ofPrint(p) || p.Only != "" {
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
	mark := func(c render.RGB, name, least, share, words string) Marked {
		return Marked{fmt.Sprintf("#%02x%02x%02x", code(c[0]), code(c[1]), code(c[2])), words, name, least, share}
	}
	switch p.Shows {
	case view.ShowsLosses:
		l := on.losses[p.Plate]
		return []Marked{
			mark(inspect.LostColour, "washed off", "off", short(l.Lost), "off "+short(l.Lost)),
			mark(inspect.BlockedColour, "blocked", "blocked", short(l.Blocked), "blocked "+short(l.Blocked)),
		}
	case view.ShowsOutside:
		space := spectrum.SRGB.Name
		if on.wide {
			space = spectrum.DisplayP3.Name
		}
		const least = 1e-6 // where none was counted there may be some
		return []Marked{mark(inspect.OutsideColour, "", "", "", "not in "+space+": "+short(max(on.outside, least)))}
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
