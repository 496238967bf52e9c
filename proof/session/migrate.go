package session

import (
	"encoding/json"
	"math"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/strict"
	"threeply/proof/tone"
	"threeply/proof/warp"
)

// version2 is a state as versions 1 and 2 wrote it. Version 1 had fewer fields, but
// there are texts that say 1 and have those of 2. It never changes.
type version2 struct {
	Version     int               `json:"version"`
	Title       string            `json:"title"`
	Layout      string            `json:"layout"`
	Sources     [3]source2        `json:"sources"`
	Assign      [3]int            `json:"assign"`
	Split       bool              `json:"split"`
	Registered  string            `json:"registered"`
	Found       [3]Found          `json:"found"`
	Local       [3]warp.Local     `json:"local"`
	LocalOn     bool              `json:"local_on"`
	LocalOff    [3]bool           `json:"local_off"`
	Outvoted    [3]float64        `json:"outvoted"`
	Tones       [3]float64        `json:"tones"`
	Key         string            `json:"key"`
	Marks       []Pinned          `json:"marks"`
	By          string            `json:"register_by"`
	MarkShare   float64           `json:"mark_share"`
	Offsets     [3]Offset         `json:"offsets"`
	Locked      [3]bool           `json:"locked"`
	Grain       string            `json:"grain"`
	Bench       string            `json:"bench"`
	Hidden      [3]bool           `json:"hidden"`
	OwnPalettes []pigment.Palette `json:"own_palettes"`
	OwnPapers   []stack.Paper     `json:"own_papers"`
	Palette     string            `json:"palette"`
	Order       string            `json:"order"`
	Paper       string            `json:"paper"`
	Finish      string            `json:"finish"`
	Light       string            `json:"light"`
	Dim         bool              `json:"dim"`
	Limit       float64           `json:"limit"`
	Masked      bool              `json:"masked"`
	Spread      spread2           `json:"spread"`
	Route       string            `json:"route"`
	PrintWidth  float64           `json:"print_width_mm"`
	ViewingDist float64           `json:"viewing_mm"`
	Tolerance   float64           `json:"tolerance_um"`
	Section     Line              `json:"section"`
}

type source2 struct {
	File      string   `json:"file"`
	W         int      `json:"width"`
	H         int      `json:"height"`
	Bits      int      `json:"bits"`
	PPI       float64  `json:"ppi"`
	Encoding  string   `json:"encoding"`
	Film      film2    `json:"film"`
	Sure      float64  `json:"polarity_sure"`
	Overruled bool     `json:"overruled"`
	Base      float64  `json:"base"`
	Max       float64  `json:"max"`
	Area      [4]int   `json:"area"`
	Remarks   []string `json:"remarks"`
}

type film2 struct {
	Negative bool    `json:"negative"`
	White    float64 `json:"white"`
	Black    float64 `json:"black"`
	Gamma    float64 `json:"gamma"`
}

// spread2 are the half spreads that versions 1 and 2 had, as shares, and usual2 those
// that they began with.
type spread2 struct {
	Load      float64 `json:"load"`
	Thickness float64 `json:"thickness"`
	Haze      float64 `json:"haze"`
	Finish    bool    `json:"finish"`
}

var usual2 = spread2{Load: 0.10, Thickness: 0.10, Haze: 0.50, Finish: true}

// unknowns says the same as far as it can be said: load and thickness are one product,
// whose shares add as squares do.
func (old spread2) unknowns() *spread.Unknowns {
	if old == usual2 {
		return nil
	}
	u := spread.Usual
	within := func(share float64) float64 { return min(max(share, 0), 0.9) }
	u.Amount = within(math.Hypot(old.Load, old.Thickness))
	u.Scatter = 1 / (1 - within(old.Haze))
	if !old.Finish {
		u.Surface = 1
	}
	return &u
}

// earlier3 is a text of version 3 as it was written while that version was made, when it
// had the spreads of versions before: the text without them, and the doubts that they
// say. Of any other text it is the text itself.
func earlier3(text []byte) ([]byte, *spread.Unknowns, error) {
	var fields map[string]json.RawMessage
	if json.Unmarshal(text, &fields) != nil || fields["spread"] == nil {
		return text, nil, nil // the strict reader says what is wrong
	}
	var old struct {
		Limit  float64 `json:"limit"`
		Spread spread2 `json:"spread"`
	}
	if err := (strict.Reader{PassUnknown: true}).Read(text, &old); err != nil {
		return nil, nil, err
	}
	delete(fields, "spread")
	limit, err := json.Marshal(min(old.Limit, ranges["limit"].High))
	if err != nil {
		return nil, nil, err
	}
	fields["limit"] = limit
	text, err = json.Marshal(fields)
	return text, old.Spread.unknowns(), err
}

// readOld reads a state of version 1 or 2. What its text leaves out is as New has it.
func readOld(text []byte) (State, error) {
	n := New()
	old := version2{
		Title: n.Title, Assign: n.Assign, Registered: n.Registered, Found: n.Found, Key: n.Key, By: n.By, MarkShare: n.MarkShare,
		Grain: n.Grain, Bench: n.Bench, Palette: n.Palette, Order: n.Order, Paper: n.Paper, Finish: n.Finish, Light: n.Light,
		Limit: n.Limit, Spread: usual2, Route: n.Route, PrintWidth: n.PrintWidth, ViewingDist: n.ViewingDist, Section: n.Section,
	}
	if err := (strict.Reader{KeepMissing: true}).Read(text, &old); err != nil {
		return State{}, err
	}
	return old.migrated(), nil
}

// migrated is the same state as the present version has it.
func (old version2) migrated() State {
	s := State{
		Version: Version, Title: old.Title, Layout: old.Layout, Assign: old.Assign, Split: old.Split,
		Registered: old.Registered, Found: old.Found, FoundKey: foundKeyOf(old), Local: old.Local, LocalOn: old.LocalOn, LocalOff: old.LocalOff,
		Outvoted: old.Outvoted, Tones: old.Tones, Key: old.Key, Marks: old.Marks, By: old.By, MarkShare: old.MarkShare,
		Offsets: old.Offsets, Locked: old.Locked, Grain: old.Grain, Bench: old.Bench, Hidden: old.Hidden,
		OwnPalettes: old.OwnPalettes, OwnPapers: old.OwnPapers, Palette: old.Palette, Order: old.Order, Paper: old.Paper, Finish: old.Finish,
		Light: old.Light, Dim: old.Dim, Limit: min(old.Limit, ranges["limit"].High), Masked: old.Masked, Unknowns: old.Spread.unknowns(), Route: old.Route,
		PrintWidth: old.PrintWidth, ViewingDist: old.ViewingDist, Tolerance: old.Tolerance, Section: old.Section,
	}
	for i, src := range old.Sources {
		f := src.Film
		s.Sources[i] = Source{
			File: src.File, W: src.W, H: src.H, Bits: src.Bits, PPI: src.PPI, Encoding: src.Encoding,
			Film: tone.Film{Negative: f.Negative, White: f.White, Black: f.Black, Gamma: f.Gamma},
			Sure: src.Sure, Overruled: src.Overruled, Base: src.Base, Max: src.Max, Area: src.Area, Remarks: src.Remarks,
		}
		if old.Layout == "tall" || old.Layout == "channels" { // one file has all three, in the order of the sources
			s.Sources[i].Part = i
		}
	}
	return s
}

// foundKeyOf tells the source that others were found against, which old versions did
// not write: it has the identity for its map. So may a plate that was not found, or one
// that a person laid centre on centre; the key itself was sure and found.
func foundKeyOf(old version2) int {
	if old.Registered != "auto" {
		return -1
	}
	best, sure := -1, -1.0
	for i, f := range old.Found {
		c := f.Confidence
		if f.ByHand {
			c = 0
		}
		if f.Matrix == affine.Identity && c > sure {
			best, sure = i, c
		}
	}
	if best < 0 { // it was laid by hand since: then nothing is judged against it
		best = old.Assign[max(FilterIndex(old.Key), 0)]
	}
	return min(max(best, 0), 2)
}
