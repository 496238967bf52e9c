package desk

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"threeply/proof/session"
	"threeply/proof/strict"
)

// A step whose session has more notes than a block is stored without them: they lie beside it in
// blocks, which steps share, so that a step costs no more where there are thousands.

// parted is a step that is stored without its notes.
type parted struct {
	Blocks []int           `json:"blocks"` // numbers of the blocks that hold them, in order
	State  json.RawMessage `json:"state"`
}

const partedBegins = `{"blocks":` // the text of such a step, of no other

func blockName(id string, n int) string { return id + "/" + blockPrefix + fmt.Sprintf("%06d", n) }

const blockPrefix = "notes/"

// block is some notes as they lie in the store, under a number that no others get.
type block struct {
	number int
	notes  []session.Note
}

// blocks are those of a document that lie in the store.
type blocks struct {
	last  []block       // of the step that was stored last
	next  int           // number of the next one
	there map[int]bool  // by number
	of    map[int][]int // by the number of a step: its blocks
}

// keptNotes is the text of a block.
type keptNotes struct {
	Notes []session.Note `json:"notes"`
}

// part gives what a step is stored as, and calls put for each block of its notes that does not lie
// in the store.
func (b *blocks) part(step int, s session.State, put func(n int, notes keptNotes)) (any, error) {
	delete(b.of, step)
	if len(s.Notes) <= session.NotesEach {
		return s, nil
	}
	if b.of == nil {
		b.of = map[int][]int{}
	}
	if b.there == nil {
		b.there = map[int]bool{}
	}
	last := make(map[int]block, len(b.last)) // by the number of its first note
	for _, one := range b.last {
		last[one.notes[0].N] = one
	}
	var now []block
	out := parted{}
	for notes := range session.NoteBlocks(s.Notes) {
		one, ok := last[notes[0].N]
		if !ok || !slices.Equal(one.notes, notes) {
			one = block{b.next, slices.Clone(notes)} // a part would keep the whole list
			b.next++
			b.there[one.number] = true
			put(one.number, keptNotes{notes})
		}
		now, out.Blocks = append(now, one), append(out.Blocks, one.number)
	}
	b.last, b.of[step] = now, out.Blocks
	s.Notes = nil
	var err error
	out.State, err = json.Marshal(s)
	return out, err
}

// drop gives the numbers of the blocks that no step has any more, and forgets them.
func (b *blocks) drop() []int {
	var out []int
	if len(b.there) == 0 {
		return out
	}
	used := map[int]bool{}
	for _, of := range b.of {
		for _, n := range of {
			used[n] = true
		}
	}
	for n := range b.there {
		if !used[n] {
			delete(b.there, n)
			out = append(out, n)
		}
	}
	b.last = slices.DeleteFunc(slices.Clone(b.last), func(one block) bool { return !used[one.number] })
	return out
}

// stored are the blocks of a document as they were read back.
type stored struct {
	texts map[int]string
	read  map[int][]session.Note // those that were needed
}

// take takes a record, and tells whether it is a block.
func (s *stored) take(id string, r Record) (bool, error) {
	number, ok := strings.CutPrefix(r.Name, id+"/"+blockPrefix)
	if !ok {
		return false, nil
	}
	n, err := strconv.Atoi(number)
	if s.texts == nil {
		s.texts, s.read = map[int]string{}, map[int][]session.Note{}
	}
	s.texts[n] = r.Text
	return true, err
}

// step reads a step of a history. name is for errors.
func (s *stored) step(name, text string) (session.State, error) {
	if !strings.HasPrefix(text, partedBegins) {
		return session.Read(name, []byte(text))
	}
	var p parted
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		return session.State{}, fmt.Errorf("%s: it is damaged (%v)", name, err)
	}
	out, err := session.Read(name, p.State)
	if err != nil {
		return out, err
	}
	for _, n := range p.Blocks {
		notes, err := s.block(n)
		if err != nil {
			return out, fmt.Errorf("%s: a part of its notes is damaged (%v)", name, err)
		}
		out.Notes = append(out.Notes, notes...)
	}
	if err := out.Check(); err != nil {
		return out, fmt.Errorf("%s: %v", name, err)
	}
	return out, nil
}

func (s *stored) block(n int) ([]session.Note, error) {
	if notes, ok := s.read[n]; ok {
		return notes, nil
	}
	text, ok := s.texts[n]
	if !ok {
		return nil, fmt.Errorf("block %d is missing", n)
	}
	var kept keptNotes
	if err := strict.Read([]byte(text), &kept); err != nil {
		return nil, err
	}
	if len(kept.Notes) == 0 {
		return nil, fmt.Errorf("block %d is empty", n)
	}
	s.read[n] = kept.Notes
	return kept.Notes, nil
}

// blocks are those that lie in the store, with those of the steps whose texts are given; last are the
// notes of one of these steps, now.
func (s *stored) blocks(steps map[int]string, now int) blocks {
	b := blocks{there: map[int]bool{}, of: map[int][]int{}}
	for n := range s.texts {
		b.there[n] = true
		b.next = max(b.next, n+1)
	}
	for step, text := range steps {
		var p parted
		if !strings.HasPrefix(text, partedBegins) || json.Unmarshal([]byte(text), &p) != nil {
			continue
		}
		b.of[step] = p.Blocks
		if step == now {
			for _, n := range p.Blocks {
				b.last = append(b.last, block{n, s.read[n]})
			}
		}
	}
	return b
}
