// Package window says which part of a plate lies on the graphics card: of the pyramid's level
// whose pixels come nearest to the screen's the part that is seen, and some around it. So
// the memory that a plate takes there is bounded by the screen, whatever the scan.
package window

import (
	"image"
	"math"
)

// Most bounds a window's side in pixels: every WebGL device takes 4096.
const Most = 4096

// Level is the level of a pyramid that is shown at a zoom, screen pixels a pixel of the
// plate, on a screen whose longer side is so many pixels: the nearest, or a coarser one where
// a very large screen would need more of it than a window holds. levels is how many there are.
func Level(zoom, screen float64, levels int) int {
	l := int(math.Round(math.Log2(1 / zoom)))
	for screen/zoom/math.Exp2(float64(l)) > Most*3/4 {
		l++
	}
	return min(max(l, 0), levels-1)
}

// Fits tells whether a window can hold a part.
func Fits(part image.Rectangle) bool { return max(part.Dx(), part.Dy()) <= Most }

// Cut is the part of a level that a window is to hold where want is seen: half as much
// around it again, so that a pan seldom cuts a new one. It lies in all, the whole of the
// level, is never empty, and holds all of want that it can.
func Cut(all, want image.Rectangle) image.Rectangle {
	want = want.Intersect(all)
	if want.Empty() {
		want = image.Rect(all.Min.X, all.Min.Y, all.Min.X+1, all.Min.Y+1)
	}
	dx := max(0, min(max(32, want.Dx()/4), (Most-want.Dx())/2))
	dy := max(0, min(max(32, want.Dy()/4), (Most-want.Dy())/2))
	part := image.Rect(want.Min.X-dx, want.Min.Y-dy, want.Max.X+dx, want.Max.Y+dy).Intersect(all)
	part.Max.X = min(part.Max.X, part.Min.X+Most)
	part.Max.Y = min(part.Max.Y, part.Min.Y+Most)
	return part
}
