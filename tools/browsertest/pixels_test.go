package browsertest

import (
	"image"
	"image/color"
	"time"
)

// colours counts the different colours in a part of a picture.
func colours(picture image.Image, part image.Rectangle) int {
	seen := map[color.RGBA]bool{}
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			seen[rgba(picture, x, y)] = true
		}
	}
	return len(seen)
}

// changed is the share, 0 to 1, of the pixels of a part that differ by more than the
// given step (of 255) in some channel.
func changed(a, b image.Image, part image.Rectangle, step int) float64 {
	n := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if differs(rgba(a, x, y), rgba(b, x, y), step) {
				n++
			}
		}
	}
	return float64(n) / float64(max(1, part.Dx()*part.Dy()))
}

func differs(a, b color.RGBA, step int) bool {
	return apart(a.R, b.R) > step || apart(a.G, b.G) > step || apart(a.B, b.B) > step
}

func apart(a, b uint8) int {
	return max(int(a), int(b)) - min(int(a), int(b))
}

func rgba(picture image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA)
}

// waitChanged waits until more than the given share of a frame looks different from
// before, by more than 2/255, and gives the new picture of the window.
func (p *page) waitChanged(before image.Image, id string, share float64) image.Image {
	p.t.Helper()
	part := p.frameRect(id)
	for end := time.Now().Add(patience); ; {
		after := p.shot()
		got := changed(before, after, part, 2)
		if got > share {
			return after
		}
		if time.Now().After(end) {
			p.t.Fatalf("%.2f %% of the frame %q changed, want more than %.2f %%", 100*got, id, 100*share)
		}
	}
}

// waitSame waits until a frame looks as in an earlier picture, but for the given share.
func (p *page) waitSame(before image.Image, id string, share float64) {
	p.t.Helper()
	part := p.frameRect(id)
	for end := time.Now().Add(patience); ; {
		got := changed(before, p.shot(), part, 2)
		if got <= share {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("%.2f %% of the frame %q still differ, want at most %.2f %%", 100*got, id, 100*share)
		}
	}
}
