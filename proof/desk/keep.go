package desk

import (
	"encoding/json"
	"fmt"
	"strconv"
	"time"
)

// keeping is what of a document has been handed out to be stored.
type keeping struct {
	steps    map[int]int // by number of a step: the serial number of what it holds
	notes    blocks      // of steps with many notes
	head     string      // the record, as handed out; "" for not yet
	left     int         // which leftover
	card     string
	revision int  // of the document, when that was handed out
	stored   int  // of the document, as it is on disk; 0 for not at all
	waits    int  // for so many answers
	scans    bool // the files are being stored
	at       time.Time
	refused  string // why the store refused, "" where it does not
}

// head is where a document's history stands.
type head struct {
	First int             `json:"first"` // number of the oldest step that is kept
	At    int             `json:"at"`    // and of the present one
	Words []string        `json:"words"` // of each step that is kept, the oldest first
	Asked bool            `json:"asked"`
	Sight json.RawMessage `json:"sight,omitempty"`
}

func leftName(id string) string        { return id + "/left" }
func stepName(id string, n int) string { return id + "/" + fmt.Sprintf("%06d", n) }

// Keep orders to store what has changed since it was last stored, unless that is
// under way; then it goes on once that is done. It is cheap where nothing changed.
func (d *Desk) Keep() {
	if doc := d.open; doc != nil && doc.keeping.waits == 0 {
		d.Flush()
	}
}

// Flush is Keep for a page that is about to go: it waits for nothing.
func (d *Desk) Flush() {
	doc := d.open
	if doc == nil || !doc.worthKeeping() {
		return
	}
	if k := doc.keeping; k.head != "" && k.revision == doc.revision() && k.refused == "" {
		return // nothing has changed since
	}
	s, changed := d.changes(doc)
	if changed {
		doc.keeping.waits++
		d.order(s)
	}
	doc.keeping.rest()
}

// changes collects what is to be stored, and takes it for handed out.
func (d *Desk) changes(doc *Document) (s Store, changed bool) {
	k := &doc.keeping
	s = Store{ID: doc.ID, Revision: doc.revision(), Put: []Record{}, Delete: []Key{}}
	put := func(last *string, key Key, v any) {
		text, err := json.Marshal(v)
		if err != nil {
			d.Complain(fmt.Sprintf("A part of the work cannot be kept (%v). Save the session as a file.", err))
			return
		}
		if string(text) != *last {
			*last = string(text)
			s.Put = append(s.Put, Record{key, string(text)})
		}
	}
	if k.steps == nil {
		k.steps = map[int]int{}
	}
	steps, at := doc.Steps()
	first, last := steps[0].Number, steps[len(steps)-1].Number
	var words []string
	for _, step := range steps {
		words = append(words, step.Words)
		if serial, known := k.steps[step.Number]; known && serial == step.Serial {
			continue
		}
		k.steps[step.Number] = step.Serial
		if state, err := step.State(); err == nil {
			text := ""
			kept, err := k.notes.part(step.Number, state, func(n int, notes keptNotes) {
				text := ""
				put(&text, Key{storeSteps, blockName(doc.ID, n)}, notes)
			})
			if err != nil {
				kept = state
			}
			put(&text, Key{storeSteps, stepName(doc.ID, step.Number)}, kept)
		}
	}
	for n := range k.steps {
		if n < first || n > last {
			delete(k.steps, n)
			delete(k.notes.of, n)
			s.Delete = append(s.Delete, Key{storeSteps, stepName(doc.ID, n)})
		}
	}
	for _, n := range k.notes.drop() {
		s.Delete = append(s.Delete, Key{storeSteps, blockName(doc.ID, n)})
	}
	put(&k.head, Key{storeHeads, doc.ID}, head{first, first + at, words, doc.Asked, doc.sight})
	if k.left != doc.lefts {
		text := ""
		put(&text, Key{storeHeads, leftName(doc.ID)}, doc.Left)
		k.left = doc.lefts
	}
	k.revision = s.Revision
	card := d.cardOf(doc)
	if old, kept := d.card(doc.ID); kept && len(s.Put)+len(s.Delete) == 0 {
		card.Changed = old.Changed
	}
	put(&k.card, Key{storeCards, doc.ID}, card)
	d.putCard(card)
	return s, len(s.Put)+len(s.Delete) > 0
}

// rest notes that all is on disk, once all that was handed out is: a change that was taken back
// in time leaves nothing to hand out.
func (k *keeping) rest() {
	if k.waits == 0 && k.refused == "" && !k.at.IsZero() {
		k.stored = max(k.stored, k.revision)
	}
}

// Stored takes the answer to Store: why it was refused, "" where it was not.
func (d *Desk) Stored(id string, revision int, refused string) {
	doc := d.open
	if d.gathers(id, refused) {
		return
	}
	if doc == nil || doc.ID != id {
		if refused != "" {
			d.Complain("The last change of a set that is put away could not be kept in this browser: " + refused + ".")
		}
		return
	}
	k := &doc.keeping
	k.waits = max(k.waits-1, 0)
	if refused == "" {
		k.stored, k.at, k.refused = max(k.stored, revision), d.now(), ""
		k.rest()
		d.Keep()
		return
	}
	first := k.refused == ""
	*k = keeping{refused: refused, stored: k.stored, at: k.at, revision: k.revision, waits: k.waits, scans: k.scans, notes: blocks{next: k.notes.next, there: k.notes.there, of: k.notes.of}}
	if first {
		d.say(Message{Kind: "error", Text: "This browser does not keep your work: " + refused + ". Save the session as a file before you close the page.", Act: &Action{Words: "Try again", Do: "keep"}})
	}
}

// TryAgain orders to store what was refused.
func (d *Desk) TryAgain() {
	if doc := d.open; doc != nil && doc.keeping.refused != "" {
		d.Flush()
		if !doc.scansKept && doc.origin == "" {
			d.keepScans()
		}
	}
}

// Saved tells how the open document is kept.
type Saved struct {
	State string `json:"state"` // one of the constants below
	At    string `json:"at"`    // hour and minute of what is on disk, "" for nothing
	Why   string `json:"why"`   // of Refused
}

// The ways in which a document is kept.
const (
	SavedAll     = "saved"   // what is on disk is what is on the page
	SavedSoon    = "saving"  // the last change is on its way
	SavedRefused = "refused" // the browser keeps nothing; Why says why
	SavedNothing = "nothing" // there is nothing to keep yet
)

// Saved says saved only of what is on disk.
func (d *Desk) Saved() Saved {
	doc := d.open
	if doc == nil || !doc.worthKeeping() {
		return Saved{State: SavedNothing}
	}
	k := doc.keeping
	s := Saved{State: SavedSoon, Why: k.refused}
	if !k.at.IsZero() {
		s.At = k.at.Format("15:04")
	}
	switch {
	case k.refused != "":
		s.State = SavedRefused
	case k.stored == doc.revision() && !k.at.IsZero():
		s.State = SavedAll
	}
	return s
}

// keepScans orders to keep the open document's files.
func (d *Desk) keepScans() {
	o := KeepScans{ID: d.open.ID}
	for _, f := range d.open.Scans {
		if hash := d.open.hashOf(f); hash != "" {
			o.Files = append(o.Files, KeptFile{f.Key, hash})
		}
	}
	if len(o.Files) == len(d.open.Scans) {
		d.open.keeping.scans = true
		d.order(o)
	}
}

// Idle tells that nothing is being opened, computed or kept.
func (d *Desk) Idle() bool {
	if len(d.jobs) > 0 || d.coming != nil || len(d.orders) > 0 {
		return false
	}
	return d.open != nil && !d.open.keeping.scans && d.Saved().State != SavedSoon
}

// gathers tells whether an answer of the store is of the gathered set, and says it where it refused.
func (d *Desk) gathers(id, refused string) bool {
	if d.gathering == nil || d.gathering.ID != id {
		return false
	}
	if refused != "" {
		d.Complain("The plates that wait for the rest of their set could not be kept in this browser: " + refused + ". Keep this page open until the set is whole.")
	}
	return true
}

// ScansKept takes the answer to KeepScans: why it was refused, "" where it was not.
func (d *Desk) ScansKept(id, refused string) {
	if d.gathers(id, refused) {
		return
	}
	doc := d.open
	if doc == nil || doc.ID != id {
		return
	}
	doc.keeping.scans = false
	if refused == "" {
		if !doc.scansKept {
			doc.scansKept = true
			doc.touched++
			d.Keep()
		}
		return
	}
	if doc.keeping.refused != "" {
		return // the settings are not kept either, which was said
	}
	size := strconv.FormatInt((d.cardOf(doc).Bytes()+999_999)/1_000_000, 10)
	d.say(Message{Kind: "note", Text: "The scans (" + size + " MB) are not kept in this browser: " + refused + ". A reload will ask for the files again; your settings are kept apart from them. Forgetting sets that you no longer need makes room."})
}
