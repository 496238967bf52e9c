package model

import (
	"fmt"
	"strings"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// Review is what was noted and decided, and which object the plates are.
type Review struct {
	Notes      []Note            `json:"notes"`      // that are listed, those of the page
	NotesFrom  int               `json:"notesFrom"`  // so many are listed before them
	NotesAll   int               `json:"notesAll"`   // and so many on all pages
	NotesPage  int               `json:"notesPage"`  // 1 for the first
	NotesPages int               `json:"notesPages"` // how many there are
	NoteCounts map[string]int    `json:"noteCounts"` // of all, by their state
	NotesOnly  string            `json:"notesOnly"`  // the state that is listed alone, "" for all
	NotePins   [][]view.PaneNote `json:"notePins"`   // in every frame
	NoteDots   [][]int           `json:"noteDots"`   // in every frame those that have no room for a number: x, y, x, y …
	Decision   Decision          `json:"decision"`
	Identity   session.Identity  `json:"identity"`
	PlatesAre  []PlateIs         `json:"platesAre"`
	Names      string            `json:"names"`     // pattern of names of files
	NamesLike  string            `json:"namesLike"` // a name that it gives
}

// Note is one that is listed.
type Note struct {
	N      int    `json:"n"`
	Title  string `json:"title"`
	Text   string `json:"text"`
	By     string `json:"by"`
	At     string `json:"at"` // day and time, in UTC
	State  string `json:"state"`
	Seen   string `json:"seen"` // the print that it is tied to, in words
	Now    bool   `json:"now"`  // that print is the one that is chosen
	Chosen bool   `json:"chosen"`
}

// Decision is what was decided.
type Decision struct {
	Choice    string `json:"choice"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	Date      string `json:"date"`
	Questions string `json:"questions"`
	Seen      string `json:"seen"` // the print, in words; "" for none
	Now       bool   `json:"now"`
}

// PlateIs is which plate a source is.
type PlateIs struct {
	Filter    string `json:"filter"`
	Source    int    `json:"source"`
	File      string `json:"file"`
	Letter    string `json:"letter"`
	Condition string `json:"condition"`
}

type reviewOn struct {
	view    view.View // see panesOf; with the notes
	shown   bool      // the station is open
	session session.State
}

// onReview: notes are seen where they are worked at, and in the room view.
func onReview(in Input) reviewOn {
	if in.View.Station != "review" && !in.View.Room {
		return reviewOn{}
	}
	on := reviewOn{view: panesOf(in.View), shown: true, session: *in.Session}
	on.view.Noting = in.View.Noting
	return on
}

func makeReview(on reviewOn) Review {
	out := Review{Notes: []Note{}, NoteCounts: map[string]int{}, NotePins: [][]view.PaneNote{}, NoteDots: [][]int{}, PlatesAre: []PlateIs{}}
	if !on.shown {
		return out
	}
	s := &on.session
	now := s.Shown()
	out.NotesOnly = on.view.Noting.Only
	for i := range s.Notes {
		out.NoteCounts[s.Notes[i].State]++
	}
	page, before, all := on.view.Noting.Listed(s.Notes)
	out.NotesFrom, out.NotesAll = before, all
	out.NotesPage, out.NotesPages = before/view.NotesOnPage+1, (all+view.NotesOnPage-1)/view.NotesOnPage
	for _, n := range page {
		at := strings.TrimSuffix(strings.Replace(n.At, "T", " ", 1), "Z")
		out.Notes = append(out.Notes, Note{n.N, n.Title, n.Text, n.By, at, n.State, n.Seen.Words, n.Seen == now, n.N == on.view.Noting.Note})
	}
	d := s.Decision
	out.Decision = Decision{Choice: d.Choice, Reason: d.Reason, By: d.By, Date: d.Date, Questions: d.Questions}
	if d.Seen != nil {
		out.Decision.Seen, out.Decision.Now = d.Seen.Words, *d.Seen == now
	}
	out.Identity = s.Identity
	if out.Names = s.Names; out.Names == "" {
		out.Names = session.UsualNames
	}
	out.NamesLike = export.FileName(s, "proof.png")
	if !open(s) {
		return out
	}
	for _, f := range filter.All {
		i := s.Assign[f]
		out.PlatesAre = append(out.PlatesAre, PlateIs{f.String(), i, s.Sources[i].File, s.PlateIdentities[i].Letter, s.PlateIdentities[i].Condition})
	}
	for _, p := range on.view.Panes() {
		discs, dots := on.view.Notes(s, p)
		out.NotePins, out.NoteDots = append(out.NotePins, discs), append(out.NoteDots, dots)
	}
	return out
}

// reviewWords say how far the review is.
func reviewWords(s *session.State) string {
	open := 0
	for i := range s.Notes {
		if s.Notes[i].State == session.NoteOpen {
			open++
		}
	}
	var parts []string
	if s.Decision.Choice != "" {
		parts = append(parts, "decided")
	}
	switch {
	case open == 1:
		parts = append(parts, "1 note open")
	case open > 1:
		parts = append(parts, fmt.Sprintf("%d notes open", open))
	}
	switch {
	case len(parts) > 0:
	case len(s.Notes) == 1:
		return "1 note"
	case len(s.Notes) > 1:
		return fmt.Sprintf("%d notes", len(s.Notes))
	default:
		return "no notes"
	}
	return strings.Join(parts, ", ")
}
