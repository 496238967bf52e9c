package app

import (
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"

	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/strict"
	"threeply/wasm/page/model"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Arrive makes room for level l of a source's plate and returns its codes to be filled
// from byte at on; nil where a part does not fit, and then Open finds the plate missing.
func (a *App) Arrive(source, l, w, h, at, length int) []uint16 {
	levels := &a.arrived[source]
	if at == 0 && l <= len(*levels) && w > 0 && h > 0 {
		*levels = append((*levels)[:l], plane.New(w, h))
	}
	if l >= len(*levels) || at+length > 2*len((*levels)[l].Pix) {
		*levels = nil
		return nil
	}
	return (*levels)[l].Pix
}

// ForgetArrived lets go of plates that arrived and are not wanted.
func (a *App) ForgetArrived() { a.arrived = prints.Plates{} }

// Bytes is how much memory the plates take.
func (a *App) Bytes() int {
	n := 0
	for i := range a.Plates {
		for _, p := range append(a.Plates[i][:len(a.Plates[i]):len(a.Plates[i])], a.arrived[i]...) {
			n += 2 * len(p.Pix)
		}
	}
	return n
}

// Open takes a session for the plates that have arrived. asked says that the names left
// open which plate is which. keep holds on to tissues, paper, light, route and print
// size of the set before.
func (a *App) Open(name string, text []byte, asked, keep bool) error {
	s, err := session.Read(name, text)
	if err == nil {
		err = a.open(s, keep)
	}
	if err == nil {
		a.asked = asked
	} else {
		a.Complain(err, s.Files()...)
	}
	return err
}

func (a *App) open(s session.State, keep bool) error {
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
	a.Plates, a.arrived = a.arrived, prints.Plates{}
	a.History = command.NewHistory(s)
	a.Opened++
	a.notices.Messages = []model.Message{} // what was said of the files before
	if gone := len(old.Marks) > 0 || old.Offsets != [3]session.Offset{}; gone && old.Sources[0].File == s.Sources[0].File {
		a.Say("note", "The scans were opened anew, so the marks and the offsets on the print of before are gone.")
	}
	a.View.NewSet(&a.State)
	return a.findPrints()
}

// Restore takes up a saved session for the plates that are open, whatever order they
// were chosen in; a session of other plates is refused, and of one whose plates were
// scanned anew only the settings are taken. One that the browser kept is where the work
// goes on: there is nothing before it to go back to.
func (a *App) Restore(name string, text []byte, kept bool) error {
	s, err := session.Read(name, text)
	if err == nil && !a.Plates.Open() {
		err = fmt.Errorf("%s: open the plates of the session first, then the session", name)
	}
	var match session.Match
	if err == nil {
		s, match = session.Belongs(s, a.Sources)
		if match == session.Other {
			err = fmt.Errorf("%s: it belongs to other plates (%s); open those first", name, strings.Join(s.Files(), ", "))
		}
	}
	if err == nil && match == session.OtherContent {
		settings := s
		s = a.State
		s.TakeSettings(settings)
		a.Say("note", "The plates were scanned anew since this session: its settings are taken, its register, marks and films are not.")
	}
	if err == nil {
		if kept {
			a.History = command.NewHistory(s)
		} else {
			a.Replace(s, "opened session")
		}
		a.asked = false
		err = a.update()
	}
	if err != nil && path.Ext(name) != "" { // it is a file, not the session that the browser kept
		a.Complain(err, name)
	} else if err != nil {
		a.Complain(err)
	}
	return err
}

// Registered takes what the register found, as JSON. The first of a set belongs to its
// opening.
func (a *App) Registered(text []byte, first bool) error {
	var r registration.Registration
	err := json.Unmarshal(text, &r)
	if err == nil {
		c := r.Command()
		if first {
			err = a.Begin(c)
		} else {
			err = a.History.Do(c, "")
		}
	}
	if err == nil {
		for i := range r.Left { // of plates that were not measured again, what was known stays
			if r.Left[i] == nil && a.residual.Found[i] == r.Found[i] {
				r.Left[i] = a.residual.Fields[i]
			}
		}
		if r.Proposal.Key == "" { // measured again from where they lie, the plates are as sharp as before
			r.Proposal = a.proposal.Proposal
		}
		a.notices.Messages = slices.DeleteFunc(slices.Clone(a.notices.Messages), func(m model.Message) bool { return m.Kind == "error" }) // of what did not work before
		a.residual = view.Residual{Found: r.Found, Fields: r.Left}
		a.proposal = proposal{r.Proposal, r.Found, a.Assign}
		err = a.update()
	}
	if err != nil {
		a.Complain(err)
	}
	return err
}

// proposal is what was proposed with a register.
type proposal struct {
	registration.Proposal
	found  [3]session.Found
	assign [3]int
}

// fitting is the proposal where it belongs to the register as it stands, else nil.
func (p *proposal) fitting(s *session.State) *model.Proposal {
	if p.Key == "" || p.found != s.Found || p.assign != s.Assign {
		return nil
	}
	return &model.Proposal{Key: p.Key, Why: p.Why}
}

// Busy shows work under way, or, for nil, none.
func (a *App) Busy(b *model.Busy) { a.notices.Busy = b }

// Complain says what did not work; see Sentence.
func (a *App) Complain(err error, files ...string) { a.Say("error", a.Sentence(err, files...)) }

// mostMessages stand at a time; the oldest makes room.
const mostMessages = 3

// Say shows a message, an "error" or a "note", until it is dismissed. What stands
// already is not said twice.
func (a *App) Say(kind, text string) {
	a.lastID++
	messages := slices.DeleteFunc(slices.Clone(a.notices.Messages), func(m model.Message) bool { return m.Text == text })
	messages = append(messages, model.Message{ID: a.lastID, Kind: kind, Text: text})
	a.notices.Messages = messages[max(len(messages)-mostMessages, 0):]
}

func (a *App) dismiss(text []byte) error {
	var c struct {
		ID int `json:"id"`
	}
	if err := strict.Read(text, &name{}, &c); err != nil {
		return err
	}
	a.notices.Messages = slices.DeleteFunc(slices.Clone(a.notices.Messages), func(m model.Message) bool { return m.ID == c.ID })
	return nil
}
