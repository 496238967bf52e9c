package command

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"threeply/proof/session"
)

// Identify sets what it names of the object's identity.
type Identify struct {
	Number      *string `json:"number,omitempty" like:"identity.number"`
	Creator     *string `json:"creator,omitempty" like:"identity.creator"`
	Created     *string `json:"created,omitempty" like:"identity.created"`
	Place       *string `json:"place,omitempty" like:"identity.place"`
	Collection  *string `json:"collection,omitempty" like:"identity.collection"`
	Description *string `json:"description,omitempty" like:"identity.description"`
	Rights      *string `json:"rights,omitempty" like:"identity.rights"`
}

func (c Identify) Apply(s *session.State) error {
	i := &s.Identity
	setTexts(map[*string]*string{
		&i.Number: c.Number, &i.Creator: c.Creator, &i.Created: c.Created, &i.Place: c.Place,
		&i.Collection: c.Collection, &i.Description: c.Description, &i.Rights: c.Rights,
	})
	return nil
}
func (Identify) Words() string { return "identity" }

// IdentifyPlate sets what it names of a plate's identity.
type IdentifyPlate struct {
	Source    int     `json:"source" like:"assign"`
	Letter    *string `json:"letter,omitempty" like:"plate_identities.letter"`
	Condition *string `json:"condition,omitempty" like:"plate_identities.condition"`
}

func (c IdentifyPlate) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	p := &s.PlateIdentities[c.Source]
	setTexts(map[*string]*string{&p.Letter: c.Letter, &p.Condition: c.Condition})
	return nil
}
func (IdentifyPlate) Words() string { return "identity of a plate" }

// Note pins a new note to a pixel of the key; it is tied to the print as it is chosen.
type Note struct {
	X     float64 `json:"x" like:"notes.x"`
	Y     float64 `json:"y" like:"notes.y"`
	Title string  `json:"title,omitempty" like:"notes.title"`
	Text  string  `json:"text,omitempty" like:"notes.text"`
	By    string  `json:"by,omitempty" like:"notes.by"`
	At    string  `json:"at" like:"notes.at"` // RFC 3339
}

func (c Note) Apply(s *session.State) error {
	if n := len(s.Notes); n >= session.MostNotes {
		return fmt.Errorf("there are %d notes already: delete one first", n)
	}
	s.Notes = append(slices.Clone(s.Notes), session.Note{
		N: s.NextNote(), Source: s.KeySource(), X: c.X, Y: c.Y,
		Title: clean(c.Title), Text: clean(c.Text), By: clean(c.By), At: c.At, State: session.NoteOpen, Seen: s.Shown(),
	})
	return nil
}
func (Note) Words() string { return "note" }

// EditNote sets what it names of a note. The print that it is tied to stays.
type EditNote struct {
	N     int     `json:"n" like:"notes.n"`
	Title *string `json:"title,omitempty" like:"notes.title"`
	Text  *string `json:"text,omitempty" like:"notes.text"`
	By    *string `json:"by,omitempty" like:"notes.by"`
	State *string `json:"state,omitempty" like:"notes.state"`
}

func (c EditNote) Apply(s *session.State) error {
	return changeNote(s, c.N, func(n *session.Note) {
		setTexts(map[*string]*string{&n.Title: c.Title, &n.Text: c.Text, &n.By: c.By, &n.State: c.State})
	})
}
func (EditNote) Words() string { return "note" }

// MoveNote pins a note to another pixel of the key.
type MoveNote struct {
	N int     `json:"n" like:"notes.n"`
	X float64 `json:"x" like:"notes.x"`
	Y float64 `json:"y" like:"notes.y"`
}

func (c MoveNote) Apply(s *session.State) error {
	key := s.KeySource()
	return changeNote(s, c.N, func(n *session.Note) { n.Source, n.X, n.Y = key, c.X, c.Y })
}
func (MoveNote) Words() string { return "note" }

// DropNote deletes a note.
type DropNote struct {
	N int `json:"n" like:"notes.n"`
}

func (c DropNote) Apply(s *session.State) error {
	i, err := noteOf(s, c.N)
	if err == nil {
		s.Notes = without(s.Notes, i)
	}
	return err
}
func (DropNote) Words() string { return "note" }

// ShowNoted chooses the print that a note is tied to.
type ShowNoted struct {
	N int `json:"n" like:"notes.n"`
}

func (c ShowNoted) Apply(s *session.State) error {
	i, err := noteOf(s, c.N)
	if err != nil {
		return err
	}
	if err := chooseAsSeen(s, s.Notes[i].Seen); err != nil {
		return fmt.Errorf("note %d: %w", c.N, err)
	}
	return nil
}
func (ShowNoted) Words() string { return "print of a note" }

// HoldPoint has the colours at a pixel of the key read until the point is let go.
type HoldPoint struct {
	X float64 `json:"x" like:"points.x"`
	Y float64 `json:"y" like:"points.y"`
}

func (c HoldPoint) Apply(s *session.State) error {
	if len(s.Points) >= session.MostPoints {
		return fmt.Errorf("%d points are held already: let one go first", session.MostPoints)
	}
	s.Points = append(slices.Clone(s.Points), session.Point{N: s.NextPoint(), Source: s.KeySource(), X: c.X, Y: c.Y})
	slices.SortFunc(s.Points, func(a, b session.Point) int { return a.N - b.N })
	return nil
}
func (HoldPoint) Words() string { return "point" }

// DropPoint lets a point go, or all where none is named.
type DropPoint struct {
	N *int `json:"n,omitempty" like:"points.n"`
}

func (c DropPoint) Apply(s *session.State) error {
	s.Points = slices.DeleteFunc(slices.Clone(s.Points), func(p session.Point) bool { return c.N == nil || p.N == *c.N })
	if len(s.Points) == 0 {
		s.Points = nil
	}
	return nil
}
func (DropPoint) Words() string { return "point" }

// Decide sets what it names of the decision. A choice is tied to the print as it is
// chosen then; an empty one to none.
type Decide struct {
	Choice    *string `json:"choice,omitempty" like:"decision.choice"`
	Reason    *string `json:"reason,omitempty" like:"decision.reason"`
	By        *string `json:"by,omitempty" like:"decision.by"`
	Date      *string `json:"date,omitempty" like:"decision.date"`
	Questions *string `json:"questions,omitempty" like:"decision.questions"`
}

func (c Decide) Apply(s *session.State) error {
	d := &s.Decision
	setTexts(map[*string]*string{&d.Choice: c.Choice, &d.Reason: c.Reason, &d.By: c.By, &d.Date: c.Date, &d.Questions: c.Questions})
	switch {
	case d.Choice == "":
		d.Seen = nil
	case c.Choice != nil:
		seen := s.Shown()
		d.Seen = &seen
	}
	return nil
}
func (Decide) Words() string { return "decision" }

// ShowDecided chooses the print that was decided for.
type ShowDecided struct{}

func (ShowDecided) Apply(s *session.State) error {
	if s.Decision.Seen == nil {
		return fmt.Errorf("no print was decided for yet")
	}
	return chooseAsSeen(s, *s.Decision.Seen)
}
func (ShowDecided) Words() string { return "print decided for" }

// NameFiles sets the pattern that names of files follow, "" for the usual one.
type NameFiles struct {
	Pattern string `json:"pattern" like:"names"`
}

func (c NameFiles) Apply(s *session.State) error {
	if s.Names = clean(c.Pattern); s.Names == session.UsualNames {
		s.Names = ""
	}
	return nil
}
func (NameFiles) Words() string { return "names of files" }

// noteOf returns the place of the note of a number.
func noteOf(s *session.State, n int) (int, error) {
	i := s.NoteOf(n)
	if i < 0 {
		return i, fmt.Errorf("there is no note %d", n)
	}
	return i, nil
}

func changeNote(s *session.State, n int, change func(*session.Note)) error {
	i, err := noteOf(s, n)
	if err != nil {
		return err
	}
	s.Notes = slices.Clone(s.Notes)
	change(&s.Notes[i])
	return nil
}

// setTexts gives each text that is named its new value.
func setTexts(texts map[*string]*string) {
	for to, v := range texts {
		if v != nil {
			*to = clean(*v)
		}
	}
}

// clean is a text without what nobody can see: blanks at its ends and control signs,
// ends of lines and tabs apart. What is no UTF-8 becomes U+FFFD.
func clean(text string) string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.ToValidUTF8(text, "\ufffd"))
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' {
			return -1
		}
		return r
	}, text)
	return strings.TrimSpace(text)
}
