package desk

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"threeply/proof/session"
)

// savedFile is a session that was saved as a file.
type savedFile struct {
	name, text string
	notes      []string // what of the file is damaged
	sight      string   // how it was looked at, "" for nothing
}

// OpenSession takes what was decided in a saved session for the plates that are
// open. name is that of its file. Where other plates are open, its own are looked for
// among those that are kept; where they are not there, the session waits until its scans
// are opened. Where the scans are others of the same names, only what does not depend on
// them is taken, and what was said of the object.
func (d *Desk) OpenSession(name, text string) error {
	return d.openSaved(&savedFile{name: name, text: text, sight: session.SightIn([]byte(text))})
}

// takeSession takes what a saved session says. taken tells that it lies open now.
func (d *Desk) takeSession(f *savedFile) (taken bool, err error) {
	name := f.name
	s, lost, err := session.Salvage(name, []byte(f.text))
	if err != nil {
		return false, d.refuse(err, name)
	}
	if len(lost) > 0 {
		d.Tell(fmt.Sprintf("%s is damaged. These parts of it begin anew: %s.", name, strings.Join(lost, ", ")))
	}
	doc := d.open
	if doc == nil {
		d.seek(f, &s)
		return false, nil
	}
	kept, match := session.Belongs(s, doc.Sources)
	if match == session.OtherContent && d.haveBack(f, &s) {
		return false, nil
	}
	switch match {
	case session.Same:
	case session.Unproved:
		d.Tell(fmt.Sprintf("%s was saved before scans were known by their content. Register the plates again, so that it is certain that it belongs to these.", name))
	case session.OtherContent:
		kept = doc.State
		kept.TakeSettings(s)
		kept.TakeRecord(s)
		d.Tell(fmt.Sprintf("%s belongs to other scans of these names. Its print, its notes and its decision were taken; register and marks stay those of the open scans.", name))
	default:
		d.seek(f, &s)
		return false, nil
	}
	err = d.as(&kept, func() error {
		if kept.Found != doc.Found {
			d.dropAll(Registering)
		}
		doc.Replace(kept, "opened session")
		doc.SetAsked(false)
		d.Keep()
		return nil
	})
	return err == nil, err
}

// OpenPacked opens the scans that lay in a saved session's file, and takes the session up
// on them. notes say what of the file is damaged; sight is how it was looked at when it was
// saved, "" where nobody knows.
func (d *Desk) OpenPacked(name, text string, files []File, notes []string, sight string) error {
	s, err := session.Read(name, []byte(text))
	if err != nil {
		return d.refuse(err, name)
	}
	contents := map[string]bool{} // three plates may lie on one scan
	for _, src := range s.Sources {
		if content := src.SHA256; content != "" {
			contents[content] = true
		} else {
			contents[src.File] = true
		}
	}
	if len(files) < len(contents) {
		return d.openSaved(&savedFile{name, text, notes, sight})
	}
	d.come(&coming{files: files, options: Options{Layout: s.Layout}, session: &savedFile{name, text, notes, sight}})
	return nil
}

// damaged says what of a file is damaged.
func (d *Desk) damaged(notes []string) {
	if len(notes) > 0 {
		d.Complain(strings.Join(notes, " "))
	}
}

// seek has the plates of a session back where they are kept, else the session waits for
// them.
func (d *Desk) seek(f *savedFile, s *session.State) {
	if !d.haveBack(f, s) {
		d.waiting = f
		d.Tell(fmt.Sprintf("%s is a session of other scans: drop %s, and it is taken up.", f.name, sentenceOf(slices.Compact(s.Files()))))
	}
}

// haveBack opens the plates of a session, and the session on them, where they are kept.
func (d *Desk) haveBack(f *savedFile, s *session.State) bool {
	wanted := marksOfContent(s)
	all := d.Cards()
	i := slices.IndexFunc(all, func(k Card) bool {
		_, same := arrange(k.Sources, wanted)
		return same && !k.Removed && (d.open == nil || k.ID != d.open.ID)
	})
	if i >= 0 {
		d.come(&coming{id: all[i].ID, options: all[i].Options, origin: all[i].Origin, session: f})
	}
	return i >= 0
}

// takeUp takes the session up that a document was opened for, or that waits for its scans.
func (d *Desk) takeUp(c *coming) {
	take := c.session
	if w := d.waiting; take == nil && w != nil {
		s, _, err := session.Salvage(w.name, []byte(w.text))
		if err != nil {
			d.waiting = nil
			return
		}
		if _, match := session.Belongs(s, d.open.Sources); match != session.Same && match != session.Unproved {
			return
		}
		take = w
	}
	if take == nil {
		return
	}
	d.waiting = nil
	touched := d.open.Touched()
	if d.openSaved(take) == nil && touched {
		d.Tell("The session was opened on top of your work on these scans; Undo brings that back.")
	}
}

// openSaved opens a saved session, to be looked at as it was when it was saved.
func (d *Desk) openSaved(f *savedFile) error {
	d.damaged(f.notes)
	f.notes = nil // where it waits for its scans, that is said
	taken, err := d.takeSession(f)
	if err != nil || !taken {
		return err
	}
	if json.Valid([]byte(f.sight)) {
		d.open.SetSight(json.RawMessage(f.sight))
	}
	return nil
}

// refuse shows an error and returns it.
func (d *Desk) refuse(err error, files ...string) error {
	d.Complain(d.sentence(err, files...))
	return err
}
