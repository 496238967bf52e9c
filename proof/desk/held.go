package desk

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"threeply/proof/command"
	"threeply/proof/session"
)

// held is a kept document as it was read back.
type held struct {
	card    Card
	head    head
	left    Leftover
	history *command.History
	texts   keeping // the records as they lie in the store
	notes   stored
	steps   map[int]string // texts, by number
}

// readHeld reads the records of a document. It refuses a history with a step that
// is missing or cannot be read.
func readHeld(id string, records []Record) (*held, error) {
	h := &held{steps: map[int]string{}}
	fail := func(why string) (*held, error) {
		return nil, fmt.Errorf("the kept work cannot be opened: %s; it stays where it is, open its scans to begin anew", why)
	}
	for _, r := range records {
		var err error
		switch {
		case r.Store == storeCards:
			h.texts.card = r.Text
			err = json.Unmarshal([]byte(r.Text), &h.card)
		case r.Store == storeHeads && r.Name == id:
			h.texts.head = r.Text
			err = json.Unmarshal([]byte(r.Text), &h.head)
		case r.Store == storeHeads:
			err = json.Unmarshal([]byte(r.Text), &h.left)
		case r.Store == storeSteps:
			var block bool
			if block, err = h.notes.take(id, r); block {
				break
			}
			var n int
			n, err = strconv.Atoi(strings.TrimPrefix(r.Name, id+"/"))
			h.steps[n] = r.Text
		}
		if err != nil {
			return fail(fmt.Sprintf("its record “%s” is damaged (%v)", r.Name, err))
		}
	}
	if h.card.ID != id || h.texts.head == "" {
		return fail("a part of its records is missing")
	}
	var steps []command.Step
	for i, words := range h.head.Words {
		n := h.head.First + i
		text, there := h.steps[n]
		if !there {
			return fail(fmt.Sprintf("step %d of its history is missing", n))
		}
		steps = append(steps, command.Step{Number: n, Words: words, State: func() (session.State, error) {
			return h.notes.step(fmt.Sprintf("step %d of the kept work", n), text)
		}})
	}
	var err error
	h.history, err = command.Restore(steps, h.head.At-h.head.First)
	if err != nil {
		return fail(err.Error())
	}
	return h, nil
}

// keeping is what of the document lies in the store already.
func (h *held) keeping() keeping {
	k := h.texts
	k.steps = map[int]int{}
	steps, _ := h.history.Steps()
	for _, step := range steps {
		k.steps[step.Number] = step.Serial
	}
	k.notes = h.notes.blocks(h.steps, h.head.At)
	k.at = h.card.Changed
	return k
}
