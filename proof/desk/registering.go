package desk

import (
	"encoding/json"

	"threeply/proof/affine"
	"threeply/proof/place"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// foundBefore is what a register began with: a result counts only while the plates
// lie as they lay then.
type foundBefore struct {
	found   [3]session.Found
	first   bool
	refines bool             // one plate from where it lies, not all anew
	lay     [3]affine.Matrix // and where they lay, by marks too
}

// lie is where the plates of a state lie.
func lie(s *session.State) (m [3]affine.Matrix) {
	for i := range m {
		m[i] = place.Register(s, i)
	}
	return m
}

// Register has the plates registered against the key.
func (d *Desk) Register() { d.register(nil) }

// Refine has one source measured again from where it lies.
func (d *Desk) Refine(source int) { d.register(&source) }

func (d *Desk) register(refine *int) {
	doc := d.open
	if doc == nil {
		return
	}
	d.dropAll(Registering)
	text, err := session.Write(doc.State)
	if err != nil {
		d.Complain(d.sentence(err))
		return
	}
	j := d.begin(&Job{Kind: Registering, Words: "Registering the plates"})
	j.found = &foundBefore{doc.Found, doc.Registered != "auto", refine != nil, lie(&doc.State)}
	var more any
	switch {
	case refine != nil:
		more = map[string]int{"refine": *refine}
	case doc.Demo(): // its films rest on the grey scale in its picture
		more = map[string]bool{"look": true}
	}
	d.order(Work{Token: j.Token, Op: "register", Text: string(text), More: more})
}

// Registered takes the answer to Work “register”, a registration.Registration as JSON.
// Where the plates were laid otherwise meanwhile, what the user did stays.
func (d *Desk) Registered(t Token, text string) {
	j := d.end(t)
	if j == nil || j.found == nil {
		return
	}
	doc := d.open
	if doc.Found != j.found.found || j.found.refines && lie(&doc.State) != j.found.lay {
		d.say(Message{Kind: "note", Text: "The plates were laid otherwise while they were being registered, so they stay as you laid them.", Act: &Action{Words: "Register again", Do: "register"}})
		return
	}
	var r registration.Registration
	err := json.Unmarshal([]byte(text), &r)
	if err == nil {
		c := r.Command()
		if doc.Demo() { // its picture is known to hold a grey scale; elsewhere one is proposed only
			c = r.ByScale()
		}
		if j.found.first {
			err = doc.Begin(c)
		} else {
			err = doc.Do(c, "")
		}
	}
	if err != nil {
		d.Complain(d.sentence(err))
		return
	}
	for i := range r.Left { // of plates that were not measured again, what was known stays
		if r.Left[i] == nil && doc.Left.Found[i] == r.Found[i] {
			r.Left[i] = doc.Left.Left[i]
		}
	}
	if j.found.refines { // measured again from where they lie, the plates are as sharp as before
		r.Seen = doc.Left.Seen
	}
	d.forgive(Registering)
	doc.Left = Leftover{r, doc.Assign}
	doc.lefts++
	doc.touched++
	d.look()
	d.Keep()
}

// look has the picture looked at as the last register left the plates, where nobody has looked
// yet: it takes as long as half of a register, and nobody waits for it.
func (d *Desk) look() {
	doc := d.open
	if doc.Left.Looked || doc.Left.Found != doc.Found || doc.Left.Assign != doc.Assign || doc.Registered != "auto" {
		return
	}
	text, err := session.Write(doc.State)
	if err != nil {
		return // whatever else is done with it says so
	}
	d.dropAll(Looking)
	j := d.begin(&Job{Kind: Looking, Words: "Looking for a grey scale in the picture"})
	j.found = &foundBefore{found: doc.Found}
	d.order(Work{Token: j.Token, Op: "look", Text: string(text)})
}

// Looked takes the answer to Work “look”, a registration.Seen as JSON. Where the plates were
// registered otherwise meanwhile, it is of no use.
func (d *Desk) Looked(t Token, text string) {
	j := d.end(t)
	if j == nil || j.found == nil || d.open.Left.Found != j.found.found {
		return
	}
	doc := d.open
	var seen registration.Seen
	if err := json.Unmarshal([]byte(text), &seen); err != nil {
		d.Complain(d.sentence(err))
		return
	}
	doc.Left.Seen = seen
	doc.lefts++
	doc.touched++
	d.Keep()
}
