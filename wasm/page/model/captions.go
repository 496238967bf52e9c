package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/wasm/page/view"
)

// heldWords is what is said of a held print.
type heldWords struct {
	side  string
	words note
}

// printed is what the second line of words above a print says.
type printed struct {
	palette, way, order, paper, finish, light, room string

	why string // what its name means, where its way is the name
}

// note is those words, part by part.
func (p printed) note() note {
	n := note{{words: p.palette}, {words: p.way, detail: true, differ: true}, {words: p.why, spare: true}, {words: p.order}}
	for _, words := range []string{p.paper, p.finish, p.light, p.room} {
		n = append(n, notePart{words: words, spare: true, differ: true})
	}
	return n
}

// note is the second line of words above a pane.
type note []notePart

// notePart is a part of it.
type notePart struct {
	words  string
	spare  bool // it is left away where there is little room
	detail bool // it is left away where there is least room
	differ bool // but neither where pictures differ by it
}

// detailOf is a note that is left away where there is least room.
func detailOf(words string) note { return note{{words: words, detail: true}} }

func (n note) full() string {
	words := make([]string, len(n))
	for i, p := range n {
		words[i] = p.words
	}
	return said(words...)
}

func (n note) brief() string {
	return slices.DeleteFunc(slices.Clone(n), func(p notePart) bool { return p.spare }).full()
}

// least is what is left of a note where there is least room, under a name that may say some of it.
func (n note) least(name string) string {
	return slices.DeleteFunc(slices.Clone(n), func(p notePart) bool { return p.spare || p.detail || p.words == name }).full()
}

// leastNames are what pictures are called where there is least room, by the ID of the pane, where
// that is not what they are called elsewhere.
var leastNames = map[string]string{"kept": "At least", "faded": "At most", "under": "−15 % light", "over": "+15 % light",
	"reach": "Cannot be printed, ΔE00", "outside": "Outside",
}

// leastName is what a picture is called where there is least room: of two palettes by its palette.
func (on stageOn) leastName(pane view.Pane) string {
	switch {
	case on.view.Look == "palettes" && pane.ID == "other":
		return on.other
	case on.view.Look == "palettes":
		return on.printed.palette
	case leastNames[pane.ID] != "":
		return leastNames[pane.ID]
	}
	return pane.Label
}

// printedOf is that of the print of a session, unmasked where no masks can be found.
func printedOf(s *session.State, straight, masked bool) printed {
	palette, _ := s.PaletteByID(s.Palette)
	paper, _ := s.PaperByID(s.Paper)
	finish, _ := stack.FinishByID(s.Finish)
	light, _ := spectrum.LightByID(s.Light)
	out := printed{
		palette: palette.Name, order: strings.ToUpper(strings.Join(strings.Split(s.Order, ""), "\u00a0")),
		paper: paper.Name, finish: finish.Name, room: "bench",
	}
	out.light, _, _ = strings.Cut(light.Name, ",")
	if s.Dim {
		out.room = fmt.Sprintf("gallery, %d lx", session.GalleryLux)
	}
	switch {
	case masked:
		out.way = "masked"
	case straight:
		out.way = "straight"
	}
	return out
}

// notes are the second line of words above a pane, by its ID.
func (on stageOn) notes() map[string]note {
	likely := on.printed.note()
	// with is the print of which some words differ from the session's.
	with := func(change func(p *printed)) note {
		p := on.printed
		change(&p)
		return p.note()
	}
	judged := on.view.Right // the side of the print that is held against another, or against the reference
	if judged == view.SideReference {
		judged = on.view.Left
	}
	after := append(detailOf(shownWords(on.shown, on.strips)), likely...)
	notes := map[string]note{
		"reference":  {{words: "the three plates added as light", spare: true}},
		"print":      likely,
		"other":      with(func(p *printed) { p.palette = on.other }),
		"difference": on.printOf(judged, likely),
		"reach":      on.printOf(judged, likely),
		"lighter":    append(detailOf(tendWords(on.unknowns, "−")), likely...),
		"heavier":    append(detailOf(tendWords(on.unknowns, "+")), likely...),
		"continuous": with(func(p *printed) { p.way = "" }), // dots and what they are compared with are of tuned negatives
		"dots":       with(func(p *printed) { p.way = "" }),
		"layer":      likely,
		"straight":   with(func(p *printed) { p.way, p.why = "", "one exposure a layer" }),
		"tuned":      with(func(p *printed) { p.way, p.why = "", "negatives drawn for neutral greys" }),
		"under":      likely,
		"over":       likely,
		"outside":    likely,
		"kept":       after,
		"faded":      after,
		"unmasked":   with(func(p *printed) { p.way, p.why = "", "each plate prints its own layer alone" }),
		"masked":     with(func(p *printed) { p.way, p.why = "", "corrected by masks" }),
		"bench":      with(func(p *printed) { p.room = fmt.Sprintf("%d lx", session.BenchLux) }),
		"gallery":    with(func(p *printed) { p.room = fmt.Sprintf("%d lx", session.GalleryLux) }),
	}
	for p := range pigment.Printer(3) {
		notes["losses-"+p.String()] = likely
		if on.losses[0].ByTone {
			notes["losses-"+p.String()] = append(detailOf("through the masks"), likely...)
		}
	}
	for _, held := range on.held {
		notes[held.side] = held.words
	}
	notes["reach-left"], notes["reach-right"] = on.printOf(on.view.Left, likely), on.printOf(on.view.Right, likely)
	if !on.masks {
		notes["masked"] = note{{words: "no masks can be found for this picture: unmasked"}}
	}
	return notes
}

// shownWords say how long a print was on show, and that what is shown of it is assumed, but
// where strips of all three tissues were measured.
func shownWords(e pigment.Exhibition, measured bool) string {
	rests := "assumed"
	if measured {
		rests = "by measured strips"
	}
	return fmt.Sprintf("%s after %s years at %s lx", rests, strconv.FormatFloat(e.Years, 'g', 4, 64), strconv.FormatFloat(e.Lux, 'g', 5, 64))
}

// printOf are the words of the print at a side.
func (on stageOn) printOf(side string, likely note) note {
	for _, held := range on.held {
		if held.side == side {
			return held.words
		}
	}
	return likely
}

// joint stands between the parts of a note; no line begins with its point.
const joint = "\u00a0· "

// said joins words that are there.
func said(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), joint)
}

// shareRow gives the frames their notes. What is said of all prints that stand side by side is taken
// off these and given back, in full, in brief and at the least: what differs between them is left there.
func shareRow(frames []Frame, notes []note) (shared, brief, least string) {
	// ofAll tells whether all prints in sight say the same.
	ofAll := func(words string) bool {
		for i, n := range notes {
			if frames[i].Estimate && !slices.ContainsFunc(n, func(p notePart) bool { return p.words == words }) {
				return false
			}
		}
		return true
	}
	row := len(frames) > 1 && !slices.ContainsFunc(frames, func(f Frame) bool { return !f.Estimate || f.Y != frames[0].Y })
	for i, n := range notes {
		var own, common note
		for _, p := range n {
			always := p.differ && !ofAll(p.words)
			p.spare, p.detail = p.spare && !always, p.detail && !always
			switch {
			case row && ofAll(p.words):
				common = append(common, p)
			case p.words != frames[i].Label: // a held print may be called like its palette
				own = append(own, p)
			}
		}
		frames[i].Note, frames[i].Brief, frames[i].Least = own.full(), own.brief(), own.least(frames[i].Name)
		shared, brief, least = common.full(), common.brief(), common.least("")
	}
	return shared, brief, least
}

// tendWords says by how much the lighter or the heavier print differs from the likely
// one.
func tendWords(u spread.Unknowns, sign string) string {
	return fmt.Sprintf("%s%.0f %% pigment, %s%.2g stop", sign, 100*u.Amount, sign, u.Exposure)
}
