package prints

import "threeply/proof/picture"

// mostTries are as many small prints as figures are kept of: the board asks for one a palette.
const mostTries = 400

// Tries are what the small prints of the board came to, by the keys of their cards. The zero
// Tries is ready.
type Tries struct {
	by    map[string]Try
	order []string // keys, the oldest first
	times int
}

// Try is what became of one small print: its figures or, where it could not be made, why.
type Try struct {
	Figures picture.Tried
	Why     string
}

// Take keeps what became of the print that key stands for.
func (t *Tries) Take(key string, one Try) {
	if t.by == nil {
		t.by = map[string]Try{}
	}
	if _, again := t.by[key]; !again {
		t.order = append(t.order, key)
	}
	t.by[key] = one
	if len(t.order) > mostTries {
		delete(t.by, t.order[0])
		t.order = t.order[1:]
	}
	t.times++
}

// Of gives what became of the print that key stands for.
func (t *Tries) Of(key string) (Try, bool) {
	one, ok := t.by[key]
	return one, ok
}

// Times counts what was taken: it changes with everything that Of gives.
func (t *Tries) Times() int { return t.times }
