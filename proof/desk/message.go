package desk

import "slices"

// Message is something that the user is told. It stands until it is dismissed.
type Message struct {
	ID   int     `json:"id"`
	Kind string  `json:"kind"` // "error" or "note"
	Text string  `json:"text"`
	Act  *Action `json:"act,omitempty"`

	of      Kind   // the kind of job that did not work
	waits   string // the document that it asks the scans of: it stands until that is open
	gathers bool   // it says what is gathered: it stands until that is otherwise
}

// Action is what the user can do about a message with one click.
type Action struct {
	Words string `json:"words"` // on the button
	Do    string `json:"do"`    // a request to the desk, such as "restore"
	ID    string `json:"id"`    // what it is about
}

// mostMessages stand at a time; the oldest makes room.
const mostMessages = 3

// Tell shows a note, Complain an error.
func (d *Desk) Tell(text string)     { d.say(Message{Kind: "note", Text: text}) }
func (d *Desk) Complain(text string) { d.say(Message{Kind: "error", Text: text}) }

// say shows a message. What stands already is not said twice.
func (d *Desk) say(m Message) {
	d.lastMessage++
	m.ID = d.lastMessage
	d.messages = slices.DeleteFunc(d.messages, func(old Message) bool { return old.Text == m.Text })
	d.messages = append(d.messages, m)
	if n := len(d.messages); n > mostMessages {
		d.messages = d.messages[n-mostMessages:]
	}
}

// Dismiss takes a message away.
func (d *Desk) Dismiss(id int) {
	d.messages = slices.DeleteFunc(d.messages, func(m Message) bool { return m.ID == id })
}

// Messages are those that stand, the oldest first.
func (d *Desk) Messages() []Message { return append([]Message{}, d.messages...) }

// gathersAnew takes away what was said of the set that is gathered: it is not true any more.
func (d *Desk) gathersAnew() {
	d.messages = slices.DeleteFunc(d.messages, func(m Message) bool { return m.gathers })
}

// forgive takes the errors of a kind of job away: what did not work before has
// worked now.
func (d *Desk) forgive(kind Kind) {
	d.messages = slices.DeleteFunc(d.messages, func(m Message) bool { return m.of == kind })
}
