package view

import "slices"

// LookChoice is a look that the user can choose, and its name on the page.
type LookChoice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Of   string `json:"of"` // what is looked at: "print" or "plates"
}

// Looks are the ways of looking, in the order of the page: at the print, then at its
// plates.
var Looks = []LookChoice{
	{"beside", "beside", "print"}, {"divided", "divided", "print"}, {"blink", "blink", "print"}, {"difference", "difference", "print"},
	{"reach", "out of reach", "print"}, {"sure", "lighter, heavier", "print"},
	{"ways", "two ways", "print"}, {"rooms", "two rooms", "print"}, {"board", "all palettes", "print"},
	{"layer", "one layer", "plates"}, {"plate", "one plate", "plates"}, {"turns", "two plates by turns", "plates"},
	{"edges", "edges", "plates"}, {"marks", "marks", "plates"},
}

func isLook(id string) bool {
	return slices.ContainsFunc(Looks, func(l LookChoice) bool { return l.ID == id })
}
