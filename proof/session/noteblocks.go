package session

import "iter"

// NotesEach is how many numbers a block of notes stands for.
const NotesEach = 50

// NoteBlocks parts notes, in their order, into blocks by their numbers: 1 to NotesEach, and so
// on. A note that is added, changed or taken away changes its own block alone, so that states
// before and after can share all others. Notes whose numbers do not ascend make more blocks.
func NoteBlocks(notes []Note) iter.Seq[[]Note] {
	return func(yield func([]Note) bool) {
		for from := 0; from < len(notes); {
			to := from + 1
			for to < len(notes) && numberBlock(&notes[to]) == numberBlock(&notes[from]) {
				to++
			}
			if !yield(notes[from:to:to]) {
				return
			}
			from = to
		}
	}
}

func numberBlock(n *Note) int { return (n.N - 1) / NotesEach }
