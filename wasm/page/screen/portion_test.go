package screen

import (
	"image"
	"testing"
)

// All of a pane is painted, each row once, in parts that are no larger than asked for; a
// change on the way has all of it painted again, from where it was.
func TestPortions(t *testing.T) {
	for _, pane := range []image.Rectangle{image.Rect(10, 20, 660, 520), image.Rect(0, 0, 1, 1), image.Rect(5, 5, 400_000, 8), image.Rect(0, 0, 300, 301)} {
		for changedAfter := range 4 { // parts
			painted := make([]int, pane.Dy())
			d := due{}
			d.all(pane)
			left := 1_000
			for n := 0; d.rows > 0; n++ {
				if n > 0 && n == changedAfter {
					d.all(pane)
					clear(painted)
				}
				part := d.take(pane, portion)
				if !part.In(pane) || part.Empty() || part.Dx() != pane.Dx() {
					t.Fatalf("%v: %v is no part of it", pane, part)
				}
				if part.Dy() > 1 && part.Dx()*part.Dy() > portion+pane.Dx() {
					t.Errorf("%v: %v has more than %d pixels", pane, part, portion)
				}
				for y := part.Min.Y; y < part.Max.Y; y++ {
					painted[y-pane.Min.Y]++
				}
				if left--; left == 0 {
					t.Fatalf("%v: never done", pane)
				}
			}
			for y, times := range painted {
				if times != 1 {
					t.Fatalf("%v, changed after %d parts: row %d was painted %d times", pane, changedAfter, y, times)
				}
			}
		}
	}
}
