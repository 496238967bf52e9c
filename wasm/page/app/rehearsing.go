package app

import "threeply/proof/session"

// rehearsal is how far is rehearsed what the desk does with plates that have come: a browser
// compiles every function as it is called first, and those that write and read a session are many.
type rehearsal struct {
	pieces int
	text   []byte // a session
}

// rehearse writes a session and reads it, in two pieces, as long as no plates are there. It tells
// whether it did one.
func (a *App) rehearse() bool {
	r := &a.rehearsed
	if a.doc != nil || r.pieces == 2 {
		return false
	}
	if r.pieces++; r.pieces == 1 {
		r.text, _ = session.Write(a.State) // what does not work is said when it is needed
	} else {
		_, _ = session.Read("", r.text)
		r.text = nil
	}
	return true
}
