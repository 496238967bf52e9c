package command

import (
	"slices"

	"threeply/proof/session"
)

// lean is a state as a step holds it. Steps share the blocks of notes that are the same in
// them: each with a list of its own, 200 steps over thousands of notes would hold hundreds of
// megabytes.
type lean struct {
	state session.State    // without its notes where they are in blocks
	notes [][]session.Note // never changed; none where there are few
}

// leanOf gives a state as a step holds it, which shares what it can with another one.
func leanOf(s session.State, with *lean) lean {
	if len(s.Notes) <= session.NotesEach {
		return lean{state: s}
	}
	there := make(map[int][]session.Note, len(with.notes)) // by the number of its first note
	for _, block := range with.notes {
		there[block[0].N] = block
	}
	out := lean{state: s}
	for block := range session.NoteBlocks(s.Notes) {
		one, ok := there[block[0].N]
		if !ok || !slices.Equal(one, block) {
			one = slices.Clone(block) // a part would keep the whole list
		}
		out.notes = append(out.notes, one)
	}
	out.state.Notes = nil
	return out
}

// whole is the state with its notes.
func (l *lean) whole() session.State {
	out := l.state
	if len(l.notes) > 0 {
		out.Notes = slices.Concat(l.notes...)
	}
	return out
}
