//go:build js

package main

import (
	"syscall/js"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/sheet"
)

// drawing is a file that several workers draw, each some bands of its rows.
type drawing struct {
	file  sheet.Strips
	needs func(y0, y1 int) [3][2]int // rows of the planes, from … to-1, behind rows of the file
}

// sketch is where one band after the other is drawn.
type sketch struct {
	drawing
	planes [3]*plane.Plane
	bytes  []byte
}

// turns are the calls that wait to be told what to do next, by the call's id.
var turns = map[int]chan js.Value{}

// ask tells the page what was drawn and waits for what to do next: {band}, one to be
// drawn; {join}, all that is known of the packed strips, to finish the file; else nothing
// more.
func ask(id js.Value, told map[string]any, transfer ...any) js.Value {
	return <-beginAsking(id, told, transfer...)
}

// beginAsking asks, and gives where the answer comes. A call asks one thing at a time.
func beginAsking(id js.Value, told map[string]any, transfer ...any) <-chan js.Value {
	answer := make(chan js.Value, 1)
	turns[id.Int()] = answer
	post(map[string]any{"id": id, "turn": told}, transfer...)
	return answer
}

// draw draws bands of a file as the page gives them out, {id, turn: {bands, needs}} and then
// {id, turn: {band, bytes, packed}}, and joins the file where it is told to: the bytes
// before and after its strips, else nil. planes are those that the file is drawn from.
func draw(m js.Value, d drawing, planes [3]*plane.Plane, progress func(share float64)) (any, []any, error) {
	id := m.Get("id")
	bands := sheet.Bands(d.file)
	on := &sketch{drawing: d, planes: planes}
	turn := ask(id, map[string]any{"bands": len(bands), "needs": on.mostBytes(bands)})
	for {
		if join := turn.Get("join"); join.Truthy() {
			return joined(d.file, join)
		}
		band := turn.Get("band")
		if band.Type() != js.TypeNumber {
			return nil, nil, nil
		}
		told, err := on.band(id, bands[band.Int()], progress)
		if err != nil {
			return nil, nil, err
		}
		told["band"] = band
		turn = ask(id, told, told["bytes"].(js.Value).Get("buffer"))
	}
}

// band draws one band: its bytes, and what Join has to know of its strips.
func (d *sketch) band(id js.Value, strips [2]int, progress func(share float64)) (map[string]any, error) {
	for i, rows := range d.needs(d.rows(strips)) {
		p := d.planes[i]
		n := (rows[1] - rows[0]) * p.W
		if cap(p.Pix) < n {
			p.Pix = make([]uint16, n)
		}
		p.From, p.Pix = rows[0], p.Pix[:n]
		if err := fetch(id, i, 0, 2*rows[0]*p.W, bytesOf(p.Pix)); err != nil {
			return nil, err
		}
	}
	d.bytes = d.bytes[:0]
	packed := []any{}
	for i := strips[0]; i < strips[1]; i++ {
		began := len(d.bytes)
		var sum uint32
		var err error
		if d.bytes, sum, err = d.file.Pack(d.bytes, i); err != nil {
			return nil, err
		}
		packed = append(packed, len(d.bytes)-began, float64(sum))
		progress(float64(i+1-strips[0]) / float64(strips[1]-strips[0]))
	}
	return map[string]any{"bytes": bytesTo(d.bytes), "packed": packed}, nil
}

// rows are those of the file that some of its strips hold.
func (d drawing) rows(strips [2]int) (y0, y1 int) {
	y0, _ = d.file.Rows(strips[0])
	_, y1 = d.file.Rows(strips[1] - 1)
	return y0, y1
}

// mostBytes is how much of the planes the band that takes most is drawn from.
func (d *sketch) mostBytes(bands [][2]int) int {
	most := 0
	for _, strips := range bands {
		all := 0
		for i, rows := range d.needs(d.rows(strips)) {
			all += 2 * (rows[1] - rows[0]) * d.planes[i].W
		}
		most = max(most, all)
	}
	return most
}

// joined finishes a file of which all strips are drawn: two numbers of each, as band tells them.
func joined(file sheet.Strips, told js.Value) (any, []any, error) {
	packed := make([]sheet.Packed, told.Length()/2)
	for i := range packed {
		packed[i] = sheet.Packed{Size: told.Index(2 * i).Int(), Sum: uint32(told.Index(2*i + 1).Float())}
	}
	before, after, err := file.Join(packed)
	if err != nil {
		return nil, nil, err
	}
	return map[string]any{"before": bytesTo(before), "after": bytesTo(after)}, nil, nil
}

// unread are the planes of a session, of which no row is there yet.
func unread(s *session.State) (planes [3]*plane.Plane) {
	for i, src := range s.Sources {
		planes[i] = &plane.Plane{W: src.W, H: src.H}
	}
	return planes
}

// printingOf is what a session prints, with the masks of its own picture where it prints
// masked.
func printingOf(m js.Value, s *session.State) (*picture.Printing, error) {
	p, err := picture.Prepare(s)
	if err != nil || !s.Masked {
		return p, err
	}
	level := picture.SmallLevel(s)
	planes, err := fetchLevel(m, s, level)
	if err != nil {
		return nil, err
	}
	found, err := p.FindMasks(s, planes, level)
	p.Masks = &found
	return p, err
}
