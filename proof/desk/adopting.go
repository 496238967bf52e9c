package desk

import (
	"fmt"
	"slices"

	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/words"
)

// Opened takes the answer to Work “open”: the state that the plates begin with,
// and whether their names left open which is which. The plates themselves have
// arrived before.
func (d *Desk) Opened(t Token, text string, asked bool) {
	in := d.intake[t]
	j := d.end(t)
	c := d.coming
	if again := j != nil && j.reading != nil; j == nil || !again && (c == nil || c.token != t) {
		return
	}
	s, err := session.Read("the scans", []byte(text))
	var plates [3][]*plane.Plane
	if err == nil {
		plates, err = in.whole(&s)
	}
	if j.reading != nil {
		if err == nil {
			err = d.readAgain(j, s, plates)
		}
		if err != nil {
			_ = d.refuse(err) // it is said
		}
		return
	}
	if err != nil {
		d.Complain(words.Sentence(err.Error(), s.Files()))
		d.openNothing()
		return
	}
	if c.gathered != "" { // in the order of the filters
		s.Assign, asked = [3]int{0, 1, 2}, false
	}
	c.opened, c.state, c.plates, c.asked = true, s, plates, asked
	c.options.Layout = s.Layout // as they were read, where nobody said how
	if c.id == "" && !c.anew && d.recognise(c) {
		d.gatheredOpen(c)
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
				_ = d.openSaved(c.session) // what does not work is said
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
	d.gatheredOpen(c)
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
	d.agree()
	d.Keep()
	if doc.Registered != "auto" {
		d.register(nil)
	} else {
		d.look()
	}
}

// build makes the document out of what has come.
func (d *Desk) build(c *coming) (*Document, error) {
	doc := &Document{ID: d.newID(), Plates: c.plates, Scans: c.files, Options: c.options, Asked: c.asked, origin: c.origin, began: d.now(), read: readingsOf(&c.state)}
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
	read := doc.read
	for i, k := range at {
		doc.Plates[i], doc.read[i] = c.plates[k], read[k]
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
	d.dropAll(Rereading, Registering, Looking, Levelling)
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
