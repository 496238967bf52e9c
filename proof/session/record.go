package session

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"threeply/proof/pigment"
)

// Identity says which object the plates are. Where a field has a term of the Dublin
// Core (DCMI Metadata Terms, 2020), the term stands beside it; the title is
// State.Title. All of it is text as somebody typed it.
type Identity struct {
	Number      string `json:"number"`      // accession or inventory number; dcterms:identifier
	Creator     string `json:"creator"`     // who took the plates; dcterms:creator
	Created     string `json:"created"`     // when, as it is known, such as “about 1936”; dcterms:created
	Place       string `json:"place"`       // where; dcterms:spatial
	Collection  string `json:"collection"`  // that it belongs to, or who holds it; dcterms:isPartOf
	Description string `json:"description"` // what is to be seen; dcterms:description
	Rights      string `json:"rights"`      // dcterms:rights
}

// PlateIdentity says which plate a source is, and how it was found.
type PlateIdentity struct {
	Letter    string `json:"letter"`    // what the plate is marked with, such as “b” or “2/3”
	Condition string `json:"condition"` // cleaned, cracked, numbered in ink …
}

// Note is what somebody said about a place of the picture, and of which print.
type Note struct {
	N      int     `json:"n"`                    // its number, which it keeps
	Source int     `json:"source" like:"assign"` // the plate that X and Y are pixels of
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Title  string  `json:"title"`
	Text   string  `json:"text"`
	By     string  `json:"by"`    // initials
	At     string  `json:"at"`    // when, by RFC 3339
	State  string  `json:"state"` // one of the constants below
	Seen   Seen    `json:"seen"`
}

// How far a note is.
const (
	NoteOpen    = "open"    // to be talked about
	NoteAgreed  = "agreed"  // settled
	NotePrinter = "printer" // for whoever makes the print
)

// Decision is what was decided of the whole, and of which print.
type Decision struct {
	Choice    string `json:"choice"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	Date      string `json:"date"` // as it was written; the page proposes the day's, as 2006-01-02
	Questions string `json:"questions"`
	Seen      *Seen  `json:"seen,omitempty"` // the print that was chosen, nil while nothing is
}

// MostNotes bounds a session: more cannot be talked through.
const MostNotes = 5000

// NoteOf returns the place in Notes of the note of a number, or -1.
func (s *State) NoteOf(n int) int {
	return slices.IndexFunc(s.Notes, func(note Note) bool { return note.N == n })
}

// NextNote is the number that the next note gets.
func (s *State) NextNote() int {
	n := 0
	for _, note := range s.Notes {
		n = max(n, note.N)
	}
	return n + 1
}

func tissueWords(t pigment.Tissue) string {
	var parts []string
	for _, share := range t.Pigments {
		if len(t.Pigments) == 1 {
			parts = append(parts, share.CI)
			continue
		}
		parts = append(parts, fmt.Sprintf("%s %.3g %%", share.CI, 100*share.Share))
	}
	words := strings.Join(parts, " + ")
	if t.Load != 1 {
		words += fmt.Sprintf(" load %.4g", t.Load)
	}
	if t.Haze != 1 {
		words += fmt.Sprintf(" haze %.4g", t.Haze)
	}
	if t.CoatMicron != pigment.DefaultCoat {
		words += fmt.Sprintf(" coat %.4g µm", t.CoatMicron)
	}
	return words
}

// firstLetters cuts a text to at most so many characters.
func firstLetters(text string, most int) string {
	letters := []rune(text)
	return string(letters[:min(len(letters), most)])
}

// TakeRecord takes from a session of other scans of the same plates, whose files have the
// same names and sizes, what is known of the object, what was noted and what was decided.
func (s *State) TakeRecord(from State) {
	s.Identity, s.Decision = from.Identity, from.Decision
	var to [3]int // where a source goes
	for i, src := range from.Sources {
		to[i] = slices.IndexFunc(s.Sources[:], func(o Source) bool { return o.File == src.File && o.Part == src.Part })
		if to[i] >= 0 {
			s.PlateIdentities[to[i]] = from.PlateIdentities[i]
		}
	}
	s.Notes = nil
	for _, n := range from.Notes {
		if n.Source = to[n.Source]; n.Source >= 0 {
			s.Notes = append(s.Notes, n)
		}
	}
	s.Points = nil
	for _, p := range from.Points {
		if p.Source = to[p.Source]; p.Source >= 0 {
			s.Points = append(s.Points, p)
		}
	}
	s.KeepSeen(&from)
}

// The parts that a pattern for names of files can hold, in braces.
const (
	NameTitle   = "{title}"
	NameNumber  = "{number}"
	NamePalette = "{palette}"
	NameWhat    = "{what}" // what the file is; every pattern has it, for files differ by it
)

// UsualNames is the pattern that names of files follow where State.Names is empty.
const UsualNames = NameTitle + "-" + NameWhat

// namePart is made when it is first asked for: a page that starts has no time for it.
var namePart = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\{[^}]*\}?`) })

// checkNames holds a pattern to the parts that there are.
func (s *State) checkNames() *Fault {
	if s.Names == "" {
		return nil
	}
	for _, part := range namePart().FindAllString(s.Names, -1) {
		if !slices.Contains([]string{NameTitle, NameNumber, NamePalette, NameWhat}, part) {
			return fault("names", "a file's name cannot hold “%.40s”: there are %s, %s, %s and %s", part, NameTitle, NameNumber, NamePalette, NameWhat)
		}
	}
	if strings.Count(s.Names, NameWhat) != 1 {
		return fault("names", "a pattern for names of files holds %s once, for without it they would all be the same", NameWhat)
	}
	return nil
}

// checkRecord: what the tables of ranges and lengths do not say.
func (s *State) checkRecord() *Fault {
	if n := len(s.Notes); n > MostNotes {
		return fault("notes", "%d notes: there can be %d", n, MostNotes)
	}
	seen := map[int]bool{}
	for i, note := range s.Notes {
		at := fmt.Sprintf("notes[%d]", i)
		src := s.Sources[note.Source]
		switch {
		case seen[note.N]:
			return fault(at+".n", "two notes have the number %d", note.N)
		case !Within(note.X, -0.5, float64(src.W)-0.5) || !Within(note.Y, -0.5, float64(src.H)-0.5):
			return fault(at, "note %d at %.0f, %.0f lies off %s", note.N, note.X, note.Y, src.File)
		}
		if _, err := time.Parse(time.RFC3339, note.At); err != nil {
			return fault(at+".at", "“%.40s” is no time: it is written such as 2006-01-02T15:04:05Z (RFC 3339)", note.At)
		}
		if f := checkSeen(&note.Seen, at+".seen"); f != nil {
			return f
		}
		seen[note.N] = true
	}
	if s.Decision.Seen != nil {
		if f := checkSeen(s.Decision.Seen, "decision.seen"); f != nil {
			return f
		}
	}
	return s.checkNames()
}
