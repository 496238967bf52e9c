package app

import (
	"encoding/json"
	"errors"
	"fmt"

	"threeply/proof/command"
	"threeply/proof/desk"
	"threeply/proof/session"
	"threeply/proof/strict"
	"threeply/proof/words"
	"threeply/wasm/page/model"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// App is the page's program.
type App struct {
	Desk             *desk.Desk
	*command.History // of the open document; before there is one, of an empty session
	View             *view.View
	Prints           *prints.Prints // nil before Prepare
	Plates           prints.Plates
	Opened           int // counts the sets that were opened, and the readings of their plates

	doc       *desk.Document // the open one, nil for none
	residual  view.Residual  // what its last register left
	lefts     int            // which of them that is
	planes    int            // which reading of the plates is shown
	search    search
	thumb     thumb
	rehearsed rehearsal
	behind    bool   // the prints are not those of what is open
	fault     string // why the last could not be worked out

	maker model.Maker
}

// New returns the program before plates are open. The desk works from the beginning; what is
// looked at waits for Prepare.
func New() *App {
	a := &App{Desk: desk.New(), History: command.NewHistory(session.New()), View: view.New()}
	a.View.Follow(&a.State)
	return a
}

// Prepare works out the prints of what is open, or of what is known of the work that comes. It
// pauses between pieces; the desk may be told things meanwhile.
func (a *App) Prepare(pause func()) error {
	made, err := prints.NewByPieces(a.shown(), pause)
	if err != nil {
		return err
	}
	a.Prints = made
	if err := a.findPrints(); err != nil {
		a.Complain(err)
	}
	pause()
	a.maker.Prepare(a.input(), pause)
	return nil
}

// Do carries out a command of the page, given as JSON: one of session's (package
// command), one on how things are looked at (package view), or one of this package.
// What does not work is said to the user, too.
func (a *App) Do(text []byte) error {
	err := a.do(text)
	a.noteSight() // until that is stored the page is not idle
	if a.doc == nil {
		a.Desk.SetBefore(a.chosen())
	}
	if err != nil {
		a.Complain(err)
	}
	return err
}

// chosen is the session as it is, nil where nothing was done to it.
func (a *App) chosen() *session.State {
	if a.UndoWords() == "" {
		return nil
	}
	s := a.State
	return &s
}

func (a *App) do(text []byte) error {
	var head command.Head
	if err := (strict.Reader{PassUnknown: true}).Read(text, &head); err != nil {
		return fmt.Errorf("this is no command: %w", err)
	}
	if own, ok := kinds[head.Do]; ok {
		return own.do(a, text)
	}
	if view.Knows(head.Do) {
		return a.doView(text)
	}
	c, gesture, err := command.Read(text)
	if err != nil {
		return err
	}
	before := a.Assign
	if err := a.History.Do(c, gesture); err != nil {
		return err
	}
	if _, assigns := c.(command.Assign); assigns && a.Assign == before && a.doc != nil { // a plate given what it has: the user finds them right
		a.doc.SetAsked(false)
	}
	return a.update()
}

// subject is what is looked at.
func (a *App) subject() view.Subject { return view.Subject{State: &a.State, Residual: &a.residual} }

func (a *App) doView(text []byte) error {
	c, err := view.ReadCommand(text)
	if err != nil {
		return err
	}
	if err := a.View.Do(c, a.subject()); err != nil {
		return err
	}
	_ = a.findPrints() // another look may need other masks; what may be wrong was said when the session began to print masked
	return nil
}

// update brings what is worked out in step with the session.
func (a *App) update() error {
	a.View.Follow(&a.State)
	return a.findPrints()
}

func (a *App) findPrints() error {
	if a.Prints == nil {
		return nil
	}
	a.behind = false
	return a.Prints.Update(&a.State, a.Plates, lookedAt(a.View, &a.State))
}

// shown is the session that is open, or what is known of the one that is on its way.
func (a *App) shown() *session.State {
	if coming := a.Desk.Coming(); coming.State != nil {
		return coming.State
	}
	return &a.State
}

// lookedAt is what is looked at beside the print of a session.
func lookedAt(v *view.View, s *session.State) prints.Looked {
	looked := prints.Looked{Masks: v.Look == "masks"}
	if v.Compares() {
		looked.Held = v.Held(s)
	}
	if v.Look == "palettes" {
		looked.Other = v.OtherPalette(s)
	}
	return looked
}

// sight is how a session is looked at, or will be that is on its way.
func (a *App) sight(s *session.State) *view.View {
	coming := a.Desk.Coming()
	if coming.Sight == nil && !coming.Demo {
		return a.View
	}
	v := view.New()
	if coming.Sight == nil || v.Recall(coming.Sight, s) != nil {
		v.Look = newLook(coming.Demo)
	}
	return v
}

// Ahead works out a piece of what CatchUp and the pictures will need, or rehearses one of what comes
// before them, and tells whether more may be missing.
func (a *App) Ahead() (more bool) {
	if a.Prints == nil {
		return false
	}
	s := a.shown()
	return a.Prints.Ahead(s, lookedAt(a.sight(s), s)) || a.rehearse()
}

// Peek reads the colours under a point of the stage, as JSON: "" where there is no picture.
func (a *App) Peek(x, y float64) string {
	if _, inside := a.View.SeenAt(x, y); !inside || !a.Plates.Open() {
		return ""
	}
	kx, ky := a.View.KeyAt(x, y)
	if w, h := a.Frame(); !(kx >= 0 && ky >= 0 && kx <= float64(w-1) && ky <= float64(h-1)) {
		return ""
	}
	text, err := json.Marshal(model.Peek(a.input(), kx, ky))
	if err != nil { // a figure that is none
		return ""
	}
	return string(text)
}

// Resize takes the stage's size.
func (a *App) Resize(stage view.Stage) { a.View.Resize(stage) }

// Fill works out the depth of one palette and tells whether more may be missing.
func (a *App) Fill() (more bool) { return a.Prints.Fill(&a.State) }

// Model is what the page shows, as JSON.
func (a *App) Model() (json.RawMessage, error) { return a.maker.JSON(a.input()) }

func (a *App) input() model.Input {
	coming := ""
	if c := a.Desk.Coming(); c.State != nil {
		coming = c.State.Title
	}
	return model.Input{
		Session: &a.State, Undo: a.UndoWords(), Redo: a.RedoWords(), Opened: a.Opened, Asked: a.doc != nil && a.doc.Asked,
		Plates: a.Plates, View: a.View, Prints: a.Prints, Residual: &a.residual, Proposal: a.proposal(),
		Search: model.Search{Now: a.search.now, Missed: a.search.missed}, Levels: a.levels(), Notices: a.notices(), Coming: coming,
	}
}

// Sentence is an error as the page says it. files are names that it may begin with
// beside those of the open scans.
func (a *App) Sentence(err error, files ...string) string {
	if fault, ok := errors.AsType[*session.Fault](err); ok { // the reason alone: whoever sees it has just set what is wrong
		err = fault
	}
	return words.Sentence(err.Error(), append(files, a.Files()...))
}

// KeyShare returns the place of the key under a point of the stage, in shares of its
// width and height.
func (a *App) KeyShare(x, y float64) (sx, sy float64) {
	w, h := a.Frame()
	x, y = a.View.KeyAt(x, y)
	return x / float64(max(w-1, 1)), y / float64(max(h-1, 1))
}
