package screen

import "image"

// portion is how many pixels a frame paints where frames hold the page up: some 40 ms by a
// renderer in software, for which a picture in a large window is a tenth of a second and more.
const portion = 150_000

// due is what of a pane is still to be painted: rows from the row next on, which go on from the
// first again after the last. So a pane whose colours change while it is being painted
// goes on where it was, and none of it is left behind by a hand that keeps changing them.
type due struct{ rows, next int }

// all has all rows of a pane painted anew.
func (d *due) all(pane image.Rectangle) {
	d.rows = pane.Dy()
	if d.next >= d.rows {
		d.next = 0
	}
}

// take takes the next part of a pane to be painted. It has at most so many pixels, or one row;
// the parts of a pane are about equal.
func (d *due) take(pane image.Rectangle, pixels int) image.Rectangle {
	parts := 1 + (pane.Dx()*pane.Dy()-1)/pixels
	rows := min((pane.Dy()+parts-1)/parts, d.rows, pane.Dy()-d.next)
	part := pane
	part.Min.Y += d.next
	part.Max.Y = part.Min.Y + rows
	d.rows -= rows
	d.next = (d.next + rows) % pane.Dy()
	return part
}
