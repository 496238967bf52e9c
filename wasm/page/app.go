//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// app is the page's state: the session, the plates, and how they are looked at.
type app struct {
	*command.History
	sight

	plates  [3][]*plane.Plane // pyramid of each source
	arrived [3][]*plane.Plane // of the set that is being opened
	opened  int               // counts the sets opened: thumbnails are made anew
	asked   bool              // the names did not say which plate is which
	station string

	printing  *picture.Printing
	curves    [3]picture.Curves
	curved    [3]tone.Film // the films that the curves were made for, by printer
	masks     *mask.Matrix // of the masked way, where it is printed or looked at
	maskedFor maskedFor
	spreadFor spread.Limits
	board     board
	gallery   gallery
	editing   editing
	left      left
	proposed  proposed

	busy     *busy
	messages []message
	lastID   int

	screen  screen
	compare chan comparison // a comparison is wanted with the next frame
	version int             // counts what changes the section
}

type busy struct {
	What   string  `json:"what"`
	Share  float64 `json:"share"`
	Cancel bool    `json:"cancel"`
}

type message struct {
	ID   int    `json:"id"`
	Kind string `json:"kind"` // "error" or "note"
	Text string `json:"text"`
}

func newApp() (*app, error) {
	a := &app{History: command.NewHistory(session.New()), station: "tissues", sight: newSight(), gallery: gallery{by: "kind"}}
	if err := a.screen.prepare(); err != nil {
		return nil, fmt.Errorf("the picture cannot be drawn here: %w", err)
	}
	return a, nil
}

// has tells whether plates are open.
func (a *app) has() bool { return a.plates[0] != nil }

// open takes a new set, whose plates have arrived. keep holds on to tissues,
// paper, light, route and print size of the set before.
func (a *app) open(s session.State, keep bool) error {
	old := a.State
	if keep {
		s.OwnPalettes, s.OwnPapers = old.OwnPalettes, old.OwnPapers
		s.Palette, s.Order, s.Paper, s.Finish = old.Palette, old.Order, old.Paper, old.Finish
		s.Dim, s.Limit, s.Spread = old.Dim, old.Limit, old.Spread
		s.Light, s.Route, s.PrintWidth, s.ViewingDist, s.Tolerance = old.Light, old.Route, old.PrintWidth, old.ViewingDist, old.Tolerance
	}
	for i, levels := range a.arrived {
		if len(levels) == 0 || levels[0].W != s.Sources[i].W || levels[0].H != s.Sources[i].H {
			return fmt.Errorf("%s: its picture did not arrive whole; open it again", s.Sources[i].File)
		}
	}
	a.plates, a.arrived = a.arrived, [3][]*plane.Plane{}
	a.History = command.NewHistory(s)
	a.opened++
	a.messages = nil // what was said of the files before
	if gone := len(old.Marks) > 0 || old.Offsets != [3]session.Offset{}; gone && old.Sources[0].File == s.Sources[0].File {
		a.say("note", "The scans were opened anew, so the marks and the offsets on the print of before are gone.")
	}
	a.screen.forget()
	a.fitted, a.atSet = true, false
	err := a.recompute()
	a.refit()
	return err
}

// do carries out a command of the page: on how things are looked at, or on the
// session.
func (a *app) do(text []byte) error {
	if id := number(text, "id"); id != 0 { // only messages are known by a number
		a.dismiss(int(id))
		return nil
	}
	var of sightCommand
	if err := json.Unmarshal(text, &of); err != nil {
		return fmt.Errorf("this is no command: %v", err)
	}
	if done, err := a.lookDo(of, text); done {
		return err
	}
	switch of.Do {
	case "undo":
		if err := a.Undo(); err != nil {
			return err
		}
	case "redo":
		if err := a.Redo(); err != nil {
			return err
		}
	default:
		c, gesture, err := command.Read(text)
		if err != nil {
			return err
		}
		before := a.Assign
		if err := a.History.Do(c, gesture); err != nil {
			return err
		}
		if of.Do == "assign" && a.Assign == before { // a plate given what it has: the user finds them right
			a.asked = false
		}
	}
	return a.recompute()
}

// recompute brings what is derived from the session up to date: the optics
// only where the recipe changed, masks only where the picture did.
func (a *app) recompute() error {
	a.version++
	a.reframe()
	same := a.printing != nil && a.printing.Fits(&a.State)
	if !same {
		p, err := picture.Prepare(&a.State)
		if err != nil {
			return err
		}
		a.printing = p
	}
	var films [3]tone.Film
	for i := range films {
		films[i] = a.Sources[a.SourceOf(pigment.Printer(i))].Film
	}
	if !same || films != a.curved {
		a.curves, a.curved = a.printing.Curves(&a.State), films
		a.screen.stale()
	}
	if a.Spread != a.spreadFor { // the lighter and the heavier print change
		a.spreadFor = a.Spread
		a.screen.stale()
	}
	return a.remask()
}

// remask finds the masks of a masked print anew where what they stand on has
// changed, and those of a look at both ways. Where there are none to be found it
// goes back to straight and says why.
func (a *app) remask() error {
	a.printing.Masks = nil
	if !a.Masked && a.look != "ways" || !a.has() {
		a.masks, a.maskedFor = nil, maskedFor{}
		return nil
	}
	now := maskedFor{printing: a.printing, films: a.curved, opened: a.opened}
	for i := range now.at {
		now.at[i] = place.Register(&a.State, i)
	}
	if now != a.maskedFor || a.masks == nil {
		small, level := picture.Small(a.plates)
		m, err := a.printing.FindMasks(&a.State, small, level)
		if err != nil {
			a.masks = nil
			if a.Masked {
				return err
			}
			return nil // the masked way of the two says so
		}
		a.masks, a.maskedFor = &m, now
	}
	if a.Masked {
		a.printing.Masks = a.masks
	}
	return nil
}

// maskedFor is all that masks stand on.
type maskedFor struct {
	printing *picture.Printing
	films    [3]tone.Film
	opened   int
	at       [3]affine.Matrix
}

// say shows a message until it is dismissed. What was said already is not said
// twice, and no more than three stand at a time.
func (a *app) say(kind, text string) {
	a.lastID++
	a.messages = slices.DeleteFunc(a.messages, func(m message) bool { return m.Text == text })
	a.messages = append(a.messages, message{a.lastID, kind, text})
	if len(a.messages) > 3 {
		a.messages = a.messages[1:]
	}
}

func (a *app) dismiss(id int) {
	for i, m := range a.messages {
		if m.ID == id {
			a.messages = append(a.messages[:i], a.messages[i+1:]...)
			return
		}
	}
}

// level returns the pyramid level of every source.
func (a *app) level(l int) [3]*plane.Plane {
	var out [3]*plane.Plane
	for i, p := range a.plates {
		out[i] = p[min(l, len(p)-1)]
	}
	return out
}
