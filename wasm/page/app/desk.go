package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"threeply/proof/desk"
	"threeply/wasm/page/model"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Hear takes what the desk is told, as JSON; see package desk. What is open then is what the page
// shows, once it has caught up (CatchUp).
func (a *App) Hear(text []byte) error {
	a.noteSight() // the page may be about to go: what the desk stores now is how it looks now
	doc := a.doc
	var sight json.RawMessage
	if doc != nil {
		sight = doc.Sight()
	}
	err := a.Desk.Hear(text)
	a.follow()
	if doc != nil && doc == a.doc && !bytes.Equal(doc.Sight(), sight) { // a session was opened on it
		_ = a.View.Recall(doc.Sight(), &a.State) // what is no sight of this version changes nothing
	}
	return err
}

// CatchUp works out the prints of what the desk has heard of last, and tells whether there was
// something to be worked out. It takes its time, so the desk does not do it: whatever looks at the
// prints asks for it first.
func (a *App) CatchUp() bool {
	if !a.behind {
		return false
	}
	fault := ""
	if err := a.findPrints(); err != nil {
		fault = err.Error()
		if fault != a.fault { // said once, whatever the desk hears next
			a.Complain(err)
		}
	}
	a.fault = fault
	return true
}

// follow shows the document that is open: another one than before as it was looked at
// last, or as a new one is.
func (a *App) follow() {
	doc := a.Desk.Open()
	if doc == nil {
		return
	}
	if doc != a.doc {
		fromDemo := a.doc != nil && a.doc.Demo()
		a.doc, a.History, a.Plates, a.planes = doc, doc.History, prints.Plates(doc.Plates), doc.Planes()
		a.Opened++
		a.search = search{turn: a.search.turn + 1, pins: a.search.pins}
		if doc.Sight() == nil || a.View.Recall(doc.Sight(), &a.State) != nil {
			a.View.NewSet(&a.State)
			if doc.Demo() || fromDemo && a.View.Look == newLook(true) {
				a.turnTo(newLook(doc.Demo()))
			}
			if doc.Asked { // which plate is which: the user is to see the question
				_ = a.View.Do(view.GoToStation{ID: "plates"}, a.subject()) // fails on an unknown station alone
			}
		}
	}
	if a.planes != doc.Planes() { // the same plates, read in another way
		a.planes, a.Plates = doc.Planes(), prints.Plates(doc.Plates)
		a.Opened++
	}
	if doc.Left.Found != a.residual.Found || a.lefts != doc.Lefts() {
		a.lefts = doc.Lefts()
		a.residual = view.Residual{Found: doc.Left.Found, Fields: doc.Left.Left}
	}
	a.View.Follow(&a.State)
	a.behind = true
}

// newLook is how a set is looked at that nobody has looked at: the demonstration set is there to show what
// palettes do; one's own plates are seen beside their print first.
func newLook(demo bool) string {
	if demo {
		return "palettes"
	}
	return "beside"
}

// turnTo changes the way of looking, as the user does.
func (a *App) turnTo(look string) {
	_ = a.View.Do(view.TakeLook{ID: look}, a.subject()) // fails on an unknown look alone
}

// proposal is the plate that was proposed for a better key, where it belongs to the
// register as it stands, else nil.
func (a *App) proposal() *model.Proposal {
	if a.doc == nil {
		return nil
	}
	left := &a.doc.Left
	if left.Proposal.Key == "" || left.Found != a.Found || left.Assign != a.Assign {
		return nil
	}
	return &model.Proposal{Key: left.Proposal.Key, Why: left.Proposal.Why}
}

// noteSight tells the document how it is looked at.
func (a *App) noteSight() {
	if a.doc != nil {
		a.doc.SetSight(a.View.Keep())
	}
}

// levels is what is known of the films beside the session.
func (a *App) levels() model.LevelsInput {
	if a.doc == nil {
		return model.LevelsInput{}
	}
	in := model.LevelsInput{Greys: a.Desk.Greys(), Scale: a.Desk.Scale(), Demo: a.doc.Demo()}
	if a.doc.Left.Found == a.Found {
		in.Blur = a.doc.Left.Blur
	}
	return in
}

// Keep has the desk store what changed, and how it is looked at. It tells whether all proves to
// be kept, which the page does not say yet: what changed was taken back meanwhile.
func (a *App) Keep() bool {
	if a.doc == nil {
		return false
	}
	before := a.Desk.Saved()
	a.noteSight()
	a.Desk.Keep()
	now := a.Desk.Saved()
	return now != before && now.State == desk.SavedAll
}

// Complain says what did not work; see Sentence.
func (a *App) Complain(err error, files ...string) { a.Desk.Complain(a.Sentence(err, files...)) }

// notices are what the page says of the desk.
func (a *App) notices() model.Notices {
	n := model.Notices{
		Messages: a.Desk.Messages(), Jobs: a.Desk.Jobs(), Saved: a.Desk.Saved(), Idle: a.Desk.Idle(), Kept: []model.KeptSet{},
	}
	n.Gathered = []model.LonePlate{}
	if g := a.Desk.Gathering(); g != nil {
		n.Whole = g.Whole()
		for _, p := range g.Plates {
			n.Gathered = append(n.Gathered, model.LonePlate{Name: p.Name, Thumb: p.Thumb})
		}
	}
	if a.doc != nil {
		n.ReadAs = a.doc.Options
	}
	for _, k := range a.Desk.Cards() {
		n.Kept = append(n.Kept, model.KeptSet{
			ID: k.ID, Title: k.Title, Words: keptWords(k), Thumb: k.Thumb, Removed: k.Removed, Open: a.doc != nil && k.ID == a.doc.ID,
		})
	}
	return n
}

// keptWords says of a kept set when it was worked on last, and how much of it is kept.
func keptWords(k desk.Card) string {
	words := k.Changed.In(time.Local).Format("2 January 2006, 15:04")
	switch {
	case k.Origin != "":
		words += " · the demonstration set"
	case k.ScansKept:
		words += fmt.Sprintf(" · %.0f MB", max(float64(k.Bytes())/1e6, 1))
	default:
		words += " · its scans are not kept"
	}
	if k.Copy {
		words += " · a copy"
	}
	return words
}

// Working tells whether a job goes on that changes nothing until it ends.
func (a *App) Working() bool { return len(a.Desk.Jobs()) > 0 && a.doc == a.Desk.Open() && a.doc != nil }
