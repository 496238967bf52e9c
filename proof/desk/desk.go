package desk

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"threeply/proof/session"
	"threeply/proof/words"
)

// Desk holds the open document, the list of the kept ones, and the jobs.
type Desk struct {
	open   *Document      // nil until the first set is open
	before *session.State // what was chosen before that, nil for nothing
	coming *coming        // the document that is on its way to be opened, nil for none
	cards  []Card         // all kept documents, the open one included

	gathering *Gathering // a set that is not whole yet, nil for none

	waiting *savedFile // a session whose scans are asked for, nil for none

	forgetting string // the document that is to be deleted once no other tab can have it

	jobs      []*Job
	lastToken Token
	intake    map[Token]*intake
	orders    []Order

	messages    []Message
	lastMessage int

	now   func() time.Time
	newID func() string
}

// New returns a desk with nothing on it.
func New() *Desk {
	d := &Desk{intake: map[Token]*intake{}, now: time.Now}
	d.newID = func() string { return fmt.Sprintf("%x-%08x", d.now().UnixMilli(), rand.Uint32()) }
	return d
}

// SetBefore notes what was chosen before any set was open, nil for nothing: the first set
// that comes is printed so, unless it is a kept one, which has choices of its own.
func (d *Desk) SetBefore(s *session.State) { d.before = s }

// Coming is what is known of the document that is on its way to be opened.
type Coming struct {
	State *session.State  // of a kept one, not to be written to; nil where nothing is known of it yet
	Sight json.RawMessage // how it was looked at, see Document.Sight
	Demo  bool            // it shows the demonstration set
}

// Coming tells what is on its way to be opened; the zero Coming for nothing.
func (d *Desk) Coming() (c Coming) {
	if d.coming == nil {
		return c
	}
	c.Demo = d.coming.origin == originDemo
	if held := d.coming.held; held != nil {
		c.State, c.Sight = &held.history.State, held.head.Sight
	}
	return c
}

// Open is the open document, or nil.
func (d *Desk) Open() *Document { return d.open }

// sentence makes a sentence of an error's message; names of the open scans and of
// the given files keep their spelling.
func (d *Desk) sentence(err error, files ...string) string {
	if d.open != nil {
		files = append(files, d.open.Files()...)
	}
	return words.Sentence(err.Error(), files)
}
