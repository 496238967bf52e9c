package desk

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/words"
)

// coming is a document on its way to be opened. What is open stays until it has
// come; a later one takes its place.
type coming struct {
	id      string // of the kept document that is had back, "" for a new one
	files   []File
	options Options
	origin  string
	anew    bool           // begin a new document even where one on these scans is kept
	from    *session.State // settings of the set before are taken from it, nil for none
	relaid  bool           // the open scans are read in another way: what lies on the print stays too
	known   bool           // id was found by the content of the files
	old     string         // the text of a session that was kept before there were documents
	session *savedFile     // a session that is taken up once the document is open, nil for none

	locked, isCopy bool
	records        []Record // of document id, as they come
	held           *held    // what is kept of document id, once it was read

	token  Token // of the job that opens the files, once begun
	said   int   // the last message when the user asked for it: earlier ones are of what was open
	opened bool
	state  session.State
	plates [3][]*plane.Plane
	asked  bool
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
	w := Work{Token: c.token, Op: "open", More: c.options}
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

// Opened takes the answer to Work “open”: the state that the plates begin with,
// and whether their names left open which is which. The plates themselves have
// arrived before.
func (d *Desk) Opened(t Token, text string, asked bool) {
	in := d.intake[t]
	if d.end(t) == nil || d.coming == nil || d.coming.token != t {
		return
	}
	c := d.coming
	s, err := session.Read("the scans", []byte(text))
	var plates [3][]*plane.Plane
	if err == nil {
		plates, err = in.whole(&s)
	}
	if err != nil {
		d.Complain(words.Sentence(err.Error(), s.Files()))
		d.openNothing()
		return
	}
	c.opened, c.state, c.plates, c.asked = true, s, plates, asked
	c.options.Layout = s.Layout // as they were read, where nobody said how
	if c.id == "" && !c.anew && d.recognise(c) {
		return
	}
	d.proceed()
}

// recognise looks for a document on the very scans that were opened. Where it is the
// open one, all is done; where it is a kept one, that is had back.
func (d *Desk) recognise(c *coming) (done bool) {
	now := marksOfContent(&c.state)
	if doc := d.open; doc != nil && doc.Options == c.options && doc.origin == c.origin {
		if _, same := arrange(marksOfContent(&doc.State), now); same {
			d.coming = nil
			if c.session != nil {
				_ = d.OpenSession(c.session.name, c.session.text) // what does not work is said
				return true
			}
			d.say(Message{Kind: "note", Text: "These scans are open already; nothing was changed.", Act: &Action{Words: "Begin anew with them", Do: "anew"}})
			return true
		}
	}
	all := d.Cards()
	i := slices.IndexFunc(all, func(k Card) bool {
		_, same := arrange(k.Sources, now)
		return same && k.Options == c.options && k.Origin == c.origin && (d.open == nil || k.ID != d.open.ID)
	})
	if i >= 0 {
		c.id, c.known = all[i].ID, true
	}
	return false
}

// adopt opens the document that has come; the one that was open is put away.
func (d *Desk) adopt(c *coming) {
	doc, err := d.build(c)
	if err != nil {
		d.Complain(d.sentence(err))
		d.openNothing()
		return
	}
	was := d.putAway(c)
	d.coming, d.open = nil, doc
	d.messages = slices.DeleteFunc(d.messages, func(m Message) bool { return m.ID <= c.said && m.waits == "" || m.waits == doc.ID })
	d.setRemoved(doc.ID, false)
	if c.held == nil || c.isCopy { // a lock of the kept one is held already
		d.order(Lock{doc.ID})
	}
	d.order(Remember{doc.ID})
	d.introduce(c, was)
	if doc.origin == "" && !doc.scansKept {
		d.keepScans()
	}
	d.takeUp(c)
	d.Keep()
	if doc.Registered != "auto" {
		d.register(nil)
	}
}

// build makes the document out of what has come.
func (d *Desk) build(c *coming) (*Document, error) {
	doc := &Document{ID: d.newID(), Plates: c.plates, Scans: c.files, Options: c.options, Asked: c.asked, origin: c.origin, began: d.now()}
	if c.held == nil {
		s := c.state
		from := c.from
		if from == nil && d.nothingDone() {
			from = d.before
		}
		if from != nil {
			s.TakeSettings(*from)
			if !c.relaid { // what was said of the other picture
				s.Title, s.Offsets = c.state.Title, c.state.Offsets
			}
		}
		if old, err := session.Read("the kept session", []byte(c.old)); c.old != "" && err == nil {
			if kept, match := session.Belongs(old, s.Sources); match == session.Same || match == session.Unproved {
				s = kept
			}
		}
		doc.History = command.NewHistory(s)
		return doc, nil
	}
	h := c.held
	at, same := arrange(h.card.Sources, marksOfContent(&c.state))
	if !same {
		return nil, fmt.Errorf("the kept scans of “%s” are not those that it was made on; drop %s to go on with it", h.card.Title, h.card.fileNames())
	}
	for i, k := range at {
		doc.Plates[i] = c.plates[k]
	}
	doc.History, doc.Asked, doc.Left, doc.sight, doc.thumb = h.history, h.head.Asked, h.left, h.head.Sight, h.card.Thumb
	doc.began, doc.isCopy, doc.scansKept = h.card.Began, c.isCopy, h.card.ScansKept
	if !c.isCopy {
		doc.ID = h.card.ID
		doc.keeping = h.keeping()
		doc.keeping.revision = doc.revision()
	}
	return doc, nil
}

// putAway stores what is left to be stored of the open document. It returns it.
func (d *Desk) putAway(c *coming) *Document {
	doc := d.open
	if doc == nil {
		return nil
	}
	d.dropAll(Registering, Levelling)
	if (c.relaid || c.anew) && !doc.Touched() {
		d.forget(doc.ID, doc.Scans...) // nothing was done on it, and its scans are those that come
	} else {
		d.Flush()
	}
	d.order(Unlock{doc.ID})
	return doc
}

// introduce says what has become of the document before, and what was had back.
func (d *Desk) introduce(c *coming, was *Document) {
	m := Message{Kind: "note"}
	var back *Action // to the document before, where it is kept
	if was != nil {
		if _, kept := d.card(was.ID); kept {
			back = &Action{Words: "Have it back", Do: "restore", ID: was.ID}
		}
	}
	switch {
	case c.isCopy:
		m.Text = "Another tab has this set open. This is a copy; it is kept beside the other once you change something."
	case c.known:
		m.Text, m.Act = "You have worked on these scans before: that work is open again.", &Action{Words: "Begin anew with them", Do: "anew"}
	case c.relaid && back != nil:
		m.Text, m.Act = "Read in another way, the scans are another set of plates. Your work on them as they were read before is kept.", back
	case back != nil:
		m.Text, m.Act = fmt.Sprintf("“%s” is put away and kept.", was.Title), back
	default:
		return
	}
	d.say(m)
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
