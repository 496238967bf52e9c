package session

import "slices"

// The ways of registering.
const (
	ByRegister = "auto"  // as the plates were found, or placed by hand
	ByMarks    = "marks" // by the marks alone
	ByBoth     = "both"  // both, the marks with the weight MarkShare
)

// Pinned is one mark: a feature of the scene and where each plate shows it.
type Pinned struct {
	N      int     `json:"n"` // its number, which it keeps
	At     [3]Pin  `json:"at"`
	Weight float64 `json:"weight"` // against the other marks, above 0
}

// Pin is where one source shows a feature.
type Pin struct {
	Set       bool    `json:"set"`
	X         float64 `json:"x"` // pixels of the source, centres at whole numbers
	Y         float64 `json:"y"`
	Certainty float64 `json:"certainty"` // of a place that was proposed, 0 … 1; 1 where a person set it
	Proposed  bool    `json:"proposed"`  // by the tool, not corrected or confirmed yet
}

// MostMarks bounds a session; a screen cannot show more.
const MostMarks = 99

// MarkOf returns the place in Marks of the mark of a number, or -1.
func (s *State) MarkOf(n int) int {
	return slices.IndexFunc(s.Marks, func(m Pinned) bool { return m.N == n })
}

// NextMark is the number that the next mark gets.
func (s *State) NextMark() int {
	n := 0
	for _, m := range s.Marks {
		n = max(n, m.N)
	}
	return n + 1
}
