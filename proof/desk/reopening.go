package desk

import (
	"fmt"

	"threeply/proof/session"
)

// OpenSession takes what was decided in a saved session for the plates that are
// open. name is that of its file. Where the scans are others than those that it was
// saved with, only what does not depend on them is taken.
func (d *Desk) OpenSession(name, text string) error {
	s, err := session.Read(name, []byte(text))
	if err == nil && d.open == nil {
		err = fmt.Errorf("%s: open the plates of the session first, then the session", name)
	}
	if err != nil {
		return d.refuse(err, name)
	}
	doc := d.open
	kept, match := session.Belongs(s, doc.Sources)
	switch match {
	case session.Same:
	case session.Unproved:
		d.Tell(fmt.Sprintf("%s was saved before scans were known by their content. Register the plates again, so that it is certain that it belongs to these.", name))
	case session.OtherContent:
		kept = doc.State
		kept.TakeSettings(s)
		d.Tell(fmt.Sprintf("%s belongs to other scans of these names. Its tissues, its paper and its print were taken; register and marks stay those of the open scans.", name))
	default:
		return d.refuse(fmt.Errorf("%s: it belongs to other plates (%s, not %s); open those first", name, s.Sources[0].File, doc.Sources[0].File), name)
	}
	if kept.Found != doc.Found {
		d.dropAll(Registering)
	}
	doc.Replace(kept, "opened session")
	doc.SetAsked(false)
	d.Keep()
	return nil
}

// refuse shows an error and returns it.
func (d *Desk) refuse(err error, files ...string) error {
	d.Complain(d.sentence(err, files...))
	return err
}
