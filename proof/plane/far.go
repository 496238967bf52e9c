package plane

import (
	"fmt"
	"sync"
)

// TileSide is the side of the squares in which the codes of a far plane are had, pixels; those at
// its right and lower edge reach beyond it.
const TileSide = 64

// mostTiles of a far plane are kept: 32 MB. Where more are wanted, all are let go first.
const mostTiles = 4096

// Source is where the codes of a far plane lie.
type Source interface {
	// Tiles fills each of some tiles with its codes, row by row, TileSide to the row; what is said
	// beyond the plane's edge is not read. Tiles are numbered row by row from 0 on.
	Tiles(numbers []int, codes [][]uint16)
	// Every gives each step-th code of the plane, row by row, from the first one on.
	Every(step int) []uint16
}

// Far returns a plane of w × h pixels that lies elsewhere: Window, Bilinear, Every and Expect have
// the tiles of it that they need, and keep them for a while. Pix is nil, so that all else but Half,
// which has to be told, panics. It is for work that looks at a few places of a large
// plane, and may be used by several goroutines.
func Far(w, h int, source Source) *Plane {
	if w <= 0 || h <= 0 {
		panic(fmt.Sprintf("plane: size %d × %d", w, h))
	}
	across, down := (w+TileSide-1)/TileSide, (h+TileSide-1)/TileSide
	return &Plane{W: w, H: h, far: &far{source: source, across: across, had: make([][]uint16, across*down)}}
}

// far is where the codes of a plane are had, and those that were.
type far struct {
	source Source
	across int // tiles in a row of them

	lock  sync.Mutex
	had   [][]uint16 // by tile, nil for those that are not at hand
	kept  []int      // those that are
	spare [][]uint16 // room of those that were let go
}

// Box is a part of a plane: the columns X0 … X1-1 of the rows Y0 … Y1-1.
type Box struct{ X0, Y0, X1, Y1 int }

// Within is the box as far as it lies on p. Where next to nothing of it does, it is moved onto the
// nearest pixels, and is then of four each way, or of all that there are.
func (b Box) Within(p *Plane) Box {
	on := func(from, to, side int) (int, int) {
		from, to = min(max(from, 0), max(side-4, 0)), min(max(to, 4), side)
		return from, to
	}
	b.X0, b.X1 = on(b.X0, b.X1, p.W)
	b.Y0, b.Y1 = on(b.Y0, b.Y1, p.H)
	return b
}

// Window is codes of a part of a plane of W × H pixels: that of column x and row y stands at
// y·Stride + x - Base of Pix, x and y being those of the plane.
type Window struct {
	W, H, Stride, Base int
	Pix                []uint16
}

// Window returns the codes of a box of the plane. Those of a plane that is at hand are shared with it;
// of a far one they are put into room, which is made larger where it has to be. What of the box
// lies beyond the plane is left out, see Within.
func (p *Plane) Window(b Box, room *[]uint16) Window {
	if p.far == nil {
		return Window{p.W, p.H, p.W, p.From * p.W, p.Pix}
	}
	b = b.Within(p)
	w, h := b.X1-b.X0, b.Y1-b.Y0
	if cap(*room) < w*h {
		*room = make([]uint16, w*h)
	}
	out := Window{p.W, p.H, w, b.Y0*w + b.X0, (*room)[:w*h]}
	f := p.far
	f.lock.Lock()
	defer f.lock.Unlock()
	f.have(f.under(nil, b))
	for y := b.Y0; y < b.Y1; y++ {
		row := out.Pix[(y-b.Y0)*w : (y-b.Y0+1)*w]
		for x := b.X0; x < b.X1; {
			tile := f.had[y/TileSide*f.across+x/TileSide]
			n := copy(row[x-b.X0:], tile[y%TileSide*TileSide+x%TileSide:(y%TileSide+1)*TileSide])
			x += n
		}
	}
	return out
}

// Expect has the tiles under boxes of a far plane at once, and not one after the other as they are
// asked for. Of a plane that is at hand nothing is had.
func (p *Plane) Expect(boxes []Box) {
	f := p.far
	if f == nil {
		return
	}
	var tiles []int
	for _, b := range boxes {
		tiles = f.under(tiles, b.Within(p))
	}
	f.lock.Lock()
	defer f.lock.Unlock()
	if len(tiles) <= mostTiles {
		f.have(tiles)
	}
}

// IsFar tells whether the plane's codes lie elsewhere.
func (p *Plane) IsFar() bool { return p.far != nil }

// Every returns each step-th code, row by row, from the first one on.
func (p *Plane) Every(step int) []uint16 {
	if p.far != nil {
		return p.far.source.Every(step)
	}
	out := make([]uint16, 0, len(p.Pix)/step+1)
	for i := 0; i < len(p.Pix); i += step {
		out = append(out, p.Pix[i])
	}
	return out
}

// under appends the tiles under a box.
func (f *far) under(tiles []int, b Box) []int {
	for y := b.Y0 / TileSide; y <= (b.Y1-1)/TileSide; y++ {
		for x := b.X0 / TileSide; x <= (b.X1-1)/TileSide; x++ {
			tiles = append(tiles, y*f.across+x)
		}
	}
	return tiles
}

// have has those of some tiles that are not at hand. The lock is held.
func (f *far) have(tiles []int) {
	missing := f.missing(tiles)
	if len(missing) == 0 {
		return
	}
	if len(f.kept)+len(missing) > mostTiles {
		for _, n := range f.kept {
			f.spare = append(f.spare, f.had[n])
			f.had[n] = nil
		}
		f.kept = f.kept[:0]
		missing = f.missing(tiles)
	}
	codes := make([][]uint16, len(missing))
	for i := range codes {
		if last := len(f.spare) - 1; last >= 0 {
			codes[i], f.spare = f.spare[last], f.spare[:last]
		} else {
			codes[i] = make([]uint16, TileSide*TileSide)
		}
	}
	f.source.Tiles(missing, codes)
	for i, n := range missing {
		f.had[n] = codes[i]
	}
	f.kept = append(f.kept, missing...)
}

// missing are the tiles that are not at hand, each once.
func (f *far) missing(tiles []int) (missing []int) {
	seen := map[int]bool{}
	for _, n := range tiles {
		if f.had[n] == nil && !seen[n] {
			seen[n] = true
			missing = append(missing, n)
		}
	}
	return missing
}
