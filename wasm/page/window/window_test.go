package window

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"
)

// Of a scan of up to a gigapixel, at any zoom and anywhere on it, all that a screen shows lies
// in the window, and the window is no larger than a small multiple of the screen. The levels
// are half as large each, to the nearest: no more than √2 of their pixels lie on a pixel of
// the screen along each axis, and with half as much again that is 2.25 · 2 of its area, or,
// enlarged, less.
func TestWindowsAreBoundedByTheScreen(t *testing.T) {
	rnd := rand.New(rand.NewPCG(14, 14))
	largest := 0.0
	for range 20000 {
		side := 200 + rnd.IntN(32000)
		w, h := side, max(side*(40+rnd.IntN(60))/100, 1)
		screenW, screenH := 300+rnd.Float64()*2600, 200+rnd.Float64()*1500
		levels := 1
		for s := side; s > 320; s = (s + 1) / 2 {
			levels++
		}
		fit := min(screenW/float64(w), screenH/float64(h))
		zoom := fit / 2 * math.Pow(2*32/fit, rnd.Float64()) // from half of what fits to 32 times
		l := Level(zoom, max(screenW, screenH), levels)
		each := math.Exp2(float64(l))
		all := image.Rect(0, 0, int(math.Ceil(float64(w)/each)), int(math.Ceil(float64(h)/each)))
		x, y := rnd.Float64()*float64(w), rnd.Float64()*float64(h)
		want := image.Rect(
			int((x-screenW/zoom/2)/each)-4, int((y-screenH/zoom/2)/each)-4,
			int((x+screenW/zoom/2)/each)+5, int((y+screenH/zoom/2)/each)+5)
		got := Cut(all, want)
		if !want.Intersect(all).In(got) || !got.In(all) || got.Empty() || !Fits(got) {
			t.Fatalf("of %v %v is seen, %v cut (level %d, zoom %g)", all, want, got, l, zoom)
		}
		area := float64(got.Dx() * got.Dy())
		room := (1.5*math.Sqrt2*screenW + 100) * (1.5*math.Sqrt2*screenH + 100)
		if fit := float64(320+64) * (320 + 64); area > max(room, fit) { // the smallest level is not made smaller
			t.Fatalf("a screen of %.0f × %.0f takes a window of %v at zoom %g of %d × %d, level %d", screenW, screenH, got.Size(), zoom, w, h, l)
		}
		largest = max(largest, area/(screenW*screenH))
	}
	t.Logf("the largest window is %.2f times the screen", largest)
}

// A part that no window holds is known as one, and cut.
func TestWindowTooLarge(t *testing.T) {
	all := image.Rect(0, 0, 20000, 9000)
	want := image.Rect(100, 100, 100+Most+1, 300)
	if Fits(want) || !Fits(image.Rect(0, 0, Most, Most)) {
		t.Error("what fits is not told from what does not")
	}
	if got := Cut(all, want); !Fits(got) || got.Min.X != 100 || !got.In(all) {
		t.Errorf("%v is cut", got)
	}
	if got := Cut(all, image.Rect(-50, -50, -10, -10)); got.Empty() || !got.In(all) {
		t.Errorf("beside the plate %v is cut", got)
	}
}
