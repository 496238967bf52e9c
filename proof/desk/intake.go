package desk

import (
	"fmt"

	"threeply/proof/plane"
	"threeply/proof/session"
)

// intake is what has arrived of the plates of one job.
type intake struct {
	levels [3][]*plane.Plane
	broken [3]bool // a part came out of turn
}

// Arrive takes a part of a plate: the job that it belongs to, its source, the level
// of its pyramid, that level's width and height, and how many bytes of it have gone
// before. It returns the codes that the part belongs to, two bytes each, for the
// caller to copy n bytes into, beginning at byte at; nil where the part is not
// wanted. Parts come in order; where one does not fit, Opened finds the plate
// missing.
func (d *Desk) Arrive(t Token, source, level, w, h, at, n int) []uint16 {
	j := d.job(t)
	if j == nil || j.Kind != Opening && j.Kind != Rereading || source < 0 || source > 2 {
		return nil
	}
	in := d.intake[t]
	if in == nil {
		in = &intake{}
		d.intake[t] = in
	}
	if at == 0 && level == 0 && d.tooLarge(t, w, h) {
		return nil
	}
	levels := &in.levels[source]
	if at == 0 && level >= 0 && level <= len(*levels) && w > 0 && h > 0 {
		*levels = append((*levels)[:level], plane.New(w, h))
	}
	if level < 0 || level >= len(*levels) || at < 0 || at+n > 2*len((*levels)[level].Pix) {
		in.broken[source] = true
		return nil
	}
	return (*levels)[level].Pix
}

// mostBytes is what plates may take together. WebAssembly has 4 GiB at most, for its addresses
// have 32 bits; a quarter is left to the program, its tables and what passes through.
const mostBytes = 3 << 30

// tooLarge refuses a plate of w × h pixels for which there is no memory, with the whole of its
// job: a program that asks for more than there is would end. A plate's ever smaller halves
// take a third of it.
func (d *Desk) tooLarge(t Token, w, h int) bool {
	bytes := float64(d.Bytes()) + float64(w)*float64(h)*2*4/3
	if bytes <= mostBytes {
		return false
	}
	d.order(Halt{t})
	d.Failed(t, fmt.Sprintf("These plates are too large for a browser: with what is open they take more than %d GB of memory. Make the scans smaller, or use the command line.", mostBytes>>30))
	return true
}

// whole returns the plates that have arrived for a state, or says what is missing.
func (in *intake) whole(s *session.State) ([3][]*plane.Plane, error) {
	for i, src := range s.Sources {
		if in == nil || in.broken[i] || len(in.levels[i]) == 0 || in.levels[i][0].W != src.W || in.levels[i][0].H != src.H {
			return [3][]*plane.Plane{}, fmt.Errorf("%s: its picture did not arrive whole; open it again", src.File)
		}
	}
	return in.levels, nil
}

// Bytes is how much memory the plates take: those that are open and those that
// are arriving.
func (d *Desk) Bytes() int {
	n := 0
	count := func(plates [3][]*plane.Plane) {
		for _, levels := range plates {
			for _, p := range levels {
				n += 2 * len(p.Pix)
			}
		}
	}
	if d.open != nil {
		count(d.open.Plates)
	}
	for _, in := range d.intake {
		count(in.levels)
	}
	if d.coming != nil {
		count(d.coming.plates)
	}
	return n
}
