package plane

import (
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
)

// elsewhere gives the tiles of a plane that is at hand, and counts how often it was asked.
type elsewhere struct {
	*Plane
	asked, tiles int
}

func (e *elsewhere) Tiles(numbers []int, codes [][]uint16) {
	e.asked++
	e.tiles += len(numbers)
	across := (e.W + TileSide - 1) / TileSide
	for i, n := range numbers {
		for y := range TileSide {
			for x := range TileSide {
				px, py := n%across*TileSide+x, n/across*TileSide+y
				if px < e.W && py < e.H {
					codes[i][y*TileSide+x] = e.At(px, py)
				} else {
					codes[i][y*TileSide+x] = 0xdead // is not read
				}
			}
		}
	}
}

func noisy(w, h int) *Plane {
	rnd := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	p := New(w, h)
	for i := range p.Pix {
		p.Pix[i] = uint16(rnd.IntN(60000))
	}
	return p
}

// A far plane tells what the same plane at hand does: in windows anywhere, across its edges and
// beyond them, between pixels, and along it in steps.
func TestFarIsWhatIsThere(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	for _, size := range [][2]int{{300, 200}, {64, 128}, {65, 3}, {2, 90}, {1, 1}} {
		near := noisy(size[0], size[1])
		far := Far(near.W, near.H, &elsewhere{Plane: near})
		var room []uint16
		for range 300 {
			x, y := rnd.IntN(near.W+60)-30, rnd.IntN(near.H+60)-30
			asked := Box{x, y, x + 1 + rnd.IntN(150), y + 1 + rnd.IntN(150)}
			b := asked.Within(near)
			w, all := far.Window(asked, &room), near.Window(asked, nil)
			for y := b.Y0; y < b.Y1; y++ {
				for x := b.X0; x < b.X1; x++ {
					if got, want := w.Pix[y*w.Stride+x-w.Base], all.Pix[y*all.Stride+x-all.Base]; got != want || want != near.At(x, y) {
						t.Fatalf("%v, %v: (%d, %d) is %d, want %d", size, asked, x, y, got, want)
					}
				}
			}
			// what lies beyond the plane counts as its nearest pixel: that is in the window
			for _, at := range [2][2]int{{asked.X0, asked.Y0}, {asked.X1 - 1, asked.Y1 - 1}} {
				px, py := min(max(at[0], 0), near.W-1), min(max(at[1], 0), near.H-1)
				if px < b.X0 || px >= b.X1 || py < b.Y0 || py >= b.Y1 {
					t.Fatalf("%v, %v: the nearest pixel (%d, %d) is not in %v", size, asked, px, py, b)
				}
			}
			u, v := rnd.Float64()*float64(near.W+4)-2, rnd.Float64()*float64(near.H+4)-2
			if got, want := far.Bilinear(u, v), near.Bilinear(u, v); got != want {
				t.Fatalf("at (%g, %g): %g, want %g", u, v, got, want)
			}
		}
		for _, step := range []int{1, 7, near.W * near.H} {
			if !slices.Equal(far.Every(step), near.Every(step)) {
				t.Errorf("%v: every %d differ", size, step)
			}
		}
	}
}

// Tiles are had once, those that are expected at one time; where there are too many, others are
// let go and had again.
func TestFarKeepsWhatItHas(t *testing.T) {
	from := &elsewhere{Plane: noisy(64*80, 64*60)} // 4800 tiles
	far := Far(from.W, from.H, from)
	var room []uint16
	boxes := []Box{{0, 0, 100, 100}, {50, 50, 200, 90}, {1000, 1000, 1064, 1010}}
	far.Expect(boxes)
	for range 3 {
		for _, b := range boxes {
			far.Window(b, &room)
		}
	}
	if from.asked != 1 || from.tiles != 4+4+2 { // of the second box four are had with the first
		t.Errorf("asked %d times, for %d tiles", from.asked, from.tiles)
	}
	far.Expect([]Box{{0, 0, from.W, from.H}}) // is more than is kept: nothing is had
	if from.asked != 1 {
		t.Error("more was had than is kept")
	}
	for y := 0; y < from.H; y += 64 {
		w := far.Window(Box{0, y, from.W, y + 64}, &room)
		for x := range from.W {
			if w.Pix[y*w.Stride+x-w.Base] != from.At(x, y) {
				t.Fatalf("(%d, %d) is wrong", x, y)
			}
		}
	}
	if n := len(far.far.kept) + len(far.far.spare); n > mostTiles {
		t.Errorf("%d tiles are kept", n)
	}
}

func TestFarByMany(t *testing.T) {
	near := noisy(700, 500)
	far := Far(near.W, near.H, &elsewhere{Plane: near})
	var all sync.WaitGroup
	for k := range 4 {
		all.Go(func() {
			rnd := rand.New(rand.NewPCG(uint64(k), 1))
			for range 500 {
				x, y := rnd.Float64()*699, rnd.Float64()*499
				if got, want := far.Bilinear(x, y), near.Bilinear(x, y); got != want {
					t.Errorf("at (%g, %g): %g, want %g", x, y, got, want)
				}
			}
		})
	}
	all.Wait()
}
