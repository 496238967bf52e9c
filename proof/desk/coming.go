package desk

import (
	"fmt"
	"strings"

	"threeply/proof/plane"
	"threeply/proof/session"
)

// coming is a document on its way to be opened. What is open stays until it has
// come; a later one takes its place.
type coming struct {
	id       string // of the kept document that is had back, "" for a new one
	files    []File
	options  Options
	origin   string
	anew     bool           // begin a new document even where one on these scans is kept
	from     *session.State // settings of the set before are taken from it, nil for none
	relaid   bool           // the open scans are read in another way: what lies on the print stays too
	known    bool           // id was found by the content of the files
	old      string         // the text of a session that was kept before there were documents
	gathered string         // the id of the set that these plates were gathered as, each in its place; "" for none
	session  *savedFile     // a session that is taken up once the document is open, nil for none

	locked, isCopy bool
	records        []Record // of document id, as they come
	held           *held    // what is kept of document id, once it was read

	token  Token // of the job that opens the files, once begun
	said   int   // the last message when the user asked for it: earlier ones are of what was open
	opened bool
	state  session.State
	plates [3][]*plane.Plane
	asked  bool
	again  bool // the scans were read a second time, as the kept document says
}

// Bring opens files that the user dropped or chose.
func (d *Desk) Bring(files []File) {
	if len(files) == 0 {
		d.Complain("Nothing that was dropped is a file. Drop the scans themselves.")
		return
	}
	d.come(&coming{files: files, from: d.settings()})
}

// Anew opens the open scans once more as a new document; the open one is put away.
func (d *Desk) Anew() {
	if doc := d.open; doc != nil {
		d.come(&coming{files: doc.Scans, options: doc.Options, origin: doc.origin, anew: true, from: d.settings()})
	}
}

// ReadAs reads the open scans in another way. The document as it is is put away:
// where its scans are read in the first way again, it is had back.
func (d *Desk) ReadAs(o Options) {
	if doc := d.open; doc != nil && o != doc.Options {
		d.come(&coming{files: doc.Scans, options: o, origin: doc.origin, from: d.settings(), relaid: true})
	}
}

// Demo opens the demonstration set.
func (d *Desk) Demo() { d.come(&coming{origin: originDemo}) }

// Restore has a kept document back.
func (d *Desk) Restore(id string) {
	if d.open != nil && d.open.ID == id {
		return
	}
	card, ok := d.card(id)
	if ok && card.Gathered != nil {
		d.takeUpGathering(card)
		return
	}
	if !ok {
		d.Complain("That set is no longer kept in this browser.")
		return
	}
	d.setRemoved(id, false)
	d.come(&coming{id: id, options: card.Options, origin: card.Origin})
}

// settings are those of the open document, for the next one; nil where there is
// none, or where nobody has chosen them.
func (d *Desk) settings() *session.State {
	if d.nothingDone() {
		return nil
	}
	s := d.open.State
	return &s
}

// nothingDone tells that no work lies open: nothing, or the demonstration set as it came.
func (d *Desk) nothingDone() bool { return d.open == nil || d.open.Demo() && !d.open.Touched() }

// come begins to open a document; one that was on its way is given up.
func (d *Desk) come(c *coming) {
	d.giveUp()
	c.said = d.lastMessage
	d.coming = c
	d.proceed()
}

// giveUp lets go of a document that is on its way.
func (d *Desk) giveUp() {
	c := d.coming
	d.coming = nil
	if c == nil {
		return
	}
	if c.token != 0 && !c.opened {
		d.drop(c.token)
	}
	if c.locked && c.id != "" && !c.isCopy {
		d.order(Unlock{c.id})
	}
}

// proceed orders the next thing that the document on its way needs: that no other
// tab has it, its records, its plates. Then it opens it.
func (d *Desk) proceed() {
	c := d.coming
	switch {
	case c == nil:
	case c.id != "" && !c.locked:
		d.order(Lock{c.id})
	case c.id != "" && c.held == nil:
		d.order(Load{c.id})
	case c.opened && !c.again && !c.agrees():
		c.again, c.opened, c.token = true, false, 0
		d.proceed()
	case c.opened:
		d.adopt(c)
	case c.token != 0: // its plates are on their way
	case len(c.files) == 0 && c.origin == originDemo:
		c.token = d.begin(&Job{Kind: Opening, Words: "Opening the demonstration set"}).Token
		d.order(FetchDemo{c.token})
	default:
		c.token = d.begin(&Job{Kind: Opening, Words: "Opening the scans"}).Token
		d.readPlates(c)
	}
}

func (d *Desk) readPlates(c *coming) {
	w := Work{Token: c.token, Op: "open", More: howRead{c.options, c.encodings(), c.held != nil}}
	for _, f := range c.files {
		w.Files = append(w.Files, f.Key)
	}
	d.order(w)
}

// DemoFetched takes the files of the demonstration set.
func (d *Desk) DemoFetched(t Token, files []File) {
	if c := d.coming; c != nil && c.token == t && d.Live(t) {
		c.files = files
		d.readPlates(c)
	}
}

// Locked takes the answer to Lock: whether this tab has the document. Where
// another one has it, a copy is opened.
func (d *Desk) Locked(id string, ok bool) {
	if d.forgetting == id {
		d.forgetting = ""
		if !ok {
			d.Tell("Another tab has this set open; close it there before you forget it.")
			return
		}
		d.forget(id)
		d.order(Unlock{id})
		return
	}
	c := d.coming
	if c == nil || c.id != id || c.locked {
		if ok && (d.open == nil || d.open.ID != id) {
			d.order(Unlock{id})
		}
		return
	}
	c.locked, c.isCopy = true, !ok
	d.proceed()
}

// Record takes one record of a document that is being loaded. The last one is
// followed by Loaded.
func (d *Desk) Record(id string, r Record) {
	if c := d.coming; c != nil && c.id == id && c.held == nil {
		c.records = append(c.records, r)
	}
}

// Loaded takes the end of the answer to Load, and which of the document's files
// could be read, keyed by the SHA-256 of their content.
func (d *Desk) Loaded(id string, files []File) {
	if g := d.gathering; g != nil && g.ID == id {
		d.gatheredLoaded(files)
		return
	}
	c := d.coming
	if c == nil || c.id != id || c.held != nil {
		return
	}
	held, err := readHeld(id, c.records)
	c.records = nil
	if err != nil {
		d.Complain(d.sentence(err))
		if c.opened { // the scans are at hand: a new document is begun on them
			d.order(Unlock{id})
			c.id, c.known = "", false
			d.proceed()
			return
		}
		d.openNothing()
		return
	}
	c.held = held
	if c.origin != originDemo && !c.opened {
		if c.files = held.card.pick(files); c.files == nil {
			d.say(Message{Kind: "note", waits: id, Text: fmt.Sprintf("“%s” is kept, but not its scans: drop %s to go on with it.", held.card.Title, held.card.fileNames())})
			d.openNothing()
			return
		}
	}
	d.proceed()
}

// openNothing gives up what was on its way. Where nothing is open yet, the
// demonstration set is opened, so that the page shows something.
func (d *Desk) openNothing() {
	c := d.coming
	d.giveUp()
	if c != nil && c.origin == originDemo || d.open != nil {
		return
	}
	d.Demo()
	if c != nil {
		d.coming.said = c.said
	}
}

// fileNames lists the names of a card's files as a sentence does.
func (k Card) fileNames() string {
	var names []string
	for _, f := range k.Scans {
		names = append(names, f.Name)
	}
	return sentenceOf(names)
}

// sentenceOf lists names as a sentence does.
func sentenceOf(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
