package model

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math"

	"threeply/proof/export"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/tone"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Figures are the board of all palettes, and what the figures that the second worker
// computes stand on.
type Figures struct {
	Masked     bool            `json:"masked"`
	Unknowns   spread.Unknowns `json:"unknowns"`
	Usual      bool            `json:"usual"`      // nobody has changed them
	LevelsRest string          `json:"levelsRest"` // what the levels rest on, in words
	LevelsSet  bool            `json:"levelsSet"`  // that says how far they may be off: nobody need assume it
	RecipeKey  string          `json:"recipeKey"`  // what the figures of the recipe stand on
	SureKey    string          `json:"sureKey"`    // what stands for how sure they are
	PictureKey string          `json:"pictureKey"` // and those of the picture, masked or not
	Compared   []Compared      `json:"compared"`   // the prints other than the one worked on that stand at a side
	Hue        Hue             `json:"hue"`
	Board      *Board          `json:"board"` // null in other looks
}

// Compared is a print other than the one that is worked on, at a side.
type Compared struct {
	Which  string `json:"which"` // "left" or "right"
	Name   string `json:"name"`
	Masked bool   `json:"masked"`
	Key    string `json:"key"` // what its figures stand on
}

// Hue is the angle at which the reach is cut.
type Hue struct {
	Degrees float64 `json:"degrees"`
	Read    bool    `json:"read"` // it is that of the point that was read
}

type figuresOn struct {
	session session.State // without what no figure stands on
	opened  int
	shown   [4]float64
	hue     *float64
	read    *spectrum.Lab
	sides   [2]*session.HeldPrint // the prints other than the session's own at the left and at the right, nil for none
	board   *view.Board           // nil in other looks
	hidden  [3]bool               // layers, on the board
	tries   *prints.Tries
	tried   int // times that something was told of them
}

func onFigures(in Input, read *Sample) figuresOn {
	on := figuresOn{session: *in.Session, opened: in.Opened, shown: in.View.Shown, hue: in.View.Hue}
	s := &on.session
	s.Held, s.Points = nil, nil
	s.Title, s.Layout, s.Split, s.Hidden, s.Route, s.Section = "", "", false, [3]bool{}, "", session.Line{}
	s.ViewingDist, s.Tolerance, s.Bench, s.Locked = 0, 0, "", [3]bool{}
	s.Negatives, s.Workshop = nil, nil
	if read != nil {
		on.read = &read.Reference
	}
	if in.View.Compares() {
		on.sides = in.View.Held(in.Session)
	}
	if in.View.Look == "board" {
		board := in.View.Board
		on.board, on.hidden = &board, in.Session.Hidden
		on.tries, on.tried = &in.Prints.Tries, in.Prints.Tries.Times()
	}
	return on
}

func makeFigures(on figuresOn) Figures {
	s := &on.session
	out := Figures{Masked: s.Masked, Unknowns: s.Doubts(), Usual: s.Unknowns == nil}
	out.LevelsRest, out.LevelsSet = export.NeutralWords(s), s.Neutral.Unsure > 0
	keys := on.keys()
	palette, _ := s.PaletteByID(s.Palette)
	out.RecipeKey, out.PictureKey = keys(palette)
	out.SureKey = digest(sureStands{Recipe: out.RecipeKey, Way: s.Way, Masked: s.Masked, Films: filmsOf(s), Unknowns: out.Unknowns})
	out.Compared = on.compared()
	switch {
	case on.hue != nil:
		out.Hue.Degrees = *on.hue
	case on.read != nil:
		out.Hue.Degrees, out.Hue.Read = hueOf(*on.read), true
	}
	if on.board != nil {
		out.Board = on.makeBoard(keys)
	}
	return out
}

// compared are the prints at the sides, but for the session's own.
func (on *figuresOn) compared() []Compared {
	out := []Compared{}
	for i, h := range on.sides {
		if h == nil {
			continue
		}
		as, err := on.session.With(h)
		if err != nil { // the session's check has seen that it can be shown
			continue
		}
		palette, _ := as.PaletteByID(as.Palette)
		_, key := (&figuresOn{session: as, opened: on.opened, shown: on.shown}).keys()(palette)
		out = append(out, Compared{Which: [2]string{"left", "right"}[i], Name: h.Name, Masked: as.Masked, Key: key})
	}
	return out
}

// hueOf is the hue angle of a colour in degrees, 0 … 360.
func hueOf(l spectrum.Lab) float64 {
	return math.Mod(math.Atan2(l[2], l[1])*180/math.Pi+360, 360)
}

// keys tells for a palette short texts that change with all that its figures stand on:
// those of the recipe, and those of the open picture.
func (on *figuresOn) keys() func(p pigment.Palette) (recipe, pic string) {
	s := &on.session
	paper, _ := s.PaperByID(s.Paper)
	of := recipeStands{Order: s.Order, Paper: paper, Finish: s.Finish, Light: s.Light, Limit: s.Limit}
	in := pictureStands{Dim: s.Dim, Way: s.Way, Films: filmsOf(s), Opened: on.opened, Shown: on.shown}
	for i := range in.Films {
		printer := pigment.Printer(i)
		in.Sources[i] = s.SourceOf(printer)
		in.Places[i] = place.Layer(s, printer)
	}
	return func(p pigment.Palette) (recipe, pic string) {
		of.Palette = p
		if in.Recipe = of; open(s) {
			pic = digest(in)
		}
		return digest(of), pic
	}
}

type recipeStands struct {
	Palette       pigment.Palette
	Order         string
	Paper         stack.Paper
	Finish, Light string
	Limit         float64
}

type sureStands struct {
	Recipe   string
	Way      relief.Way
	Masked   bool
	Films    [3]tone.Film
	Unknowns spread.Unknowns
}

// filmsOf are the films by printer.
func filmsOf(s *session.State) (films [3]tone.Film) {
	for i := range films {
		films[i] = s.Sources[s.SourceOf(pigment.Printer(i))].Film
	}
	return films
}

type pictureStands struct {
	Recipe  recipeStands
	Dim     bool
	Way     relief.Way
	Opened  int
	Shown   [4]float64
	Films   [3]tone.Film
	Places  [3]place.Path
	Sources [3]int
}

func digest(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	h := fnv.New64a()
	h.Write(b)
	return fmt.Sprintf("%016x", h.Sum64())
}
