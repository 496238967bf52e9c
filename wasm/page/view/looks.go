package view

import "slices"

// LookChoice is a look that the user can choose, and its name on the page.
type LookChoice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Of   string `json:"of"` // what is looked at: the "print", "all" palettes, places "marked" in it, "pairs" of prints, or the "plates"
}

// Looks are the ways of looking, in the order of the page.
var Looks = []LookChoice{
	{"beside", "beside", "print"}, {"divided", "divided", "print"}, {"blink", "blink", "print"}, {"difference", "difference", "print"}, {"board", "all palettes", "all"},
	{"reach", "cannot be printed", "marked"}, {"losses", "washed off, blocked", "marked"}, {"outside", "outside this screen", "marked"},
	{"palettes", "two palettes", "pairs"}, {"exposed", "15 % off", "pairs"}, {"sure", "how far it may vary", "pairs"}, {"ways", "straight, tuned", "pairs"}, {"dots", "continuous, dots", "pairs"}, {"masks", "unmasked, masked", "pairs"}, {"rooms", "bench and gallery", "pairs"}, {"faded", "after years on show", "pairs"},
	{"layer", "one layer", "plates"}, {"plate", "one plate", "plates"}, {"turns", "two plates by turns", "plates"},
	{"edges", "edges", "plates"}, {"marks", "marks", "plates"},
}

func isLook(id string) bool {
	return slices.ContainsFunc(Looks, func(l LookChoice) bool { return l.ID == id })
}
