package view

import "math"

// mostZoom is the largest zoom, in CSS pixels a pixel of the key.
const mostZoom = 16

// ZoomIn is how many device pixels a pixel of what a pane shows takes.
func (v *View) ZoomIn(p Pane) float64 {
	if e := p.enlarged; e != nil {
		return e.zoom / math.Sqrt(math.Abs(e.linear.Det()))
	}
	return v.Zoom
}

// ZoomSaid is the enlargement that the page speaks of.
func (v *View) ZoomSaid() float64 {
	if v.Look == "marks" {
		return v.Marking.Zoom
	}
	return v.Zoom
}

// fitting is the zoom at which all that is shown stands in a pane.
func (v *View) fitting() float64 {
	panes := v.Panes()
	w, h := v.Shown[2]-v.Shown[0], v.Shown[3]-v.Shown[1]
	if len(panes) == 0 || w <= 0 || h <= 0 {
		return 1
	}
	return v.Stage.Ratio * min(panes[0].wholeW/w, panes[0].H/h)
}

// fit holds a fitted view to the stage.
func (v *View) fit() {
	if v.Fitted {
		v.Zoom = v.fitting()
		v.Centre = [2]float64{(v.Shown[0] + v.Shown[2]) / 2, (v.Shown[1] + v.Shown[3]) / 2}
	}
}

// zoomTo sets the zoom so that the key's pixel under a point of the stage stays there,
// as far as hold lets it.
func (v *View) zoomTo(zoom, x, y float64) {
	kx, ky := v.KeyAt(x, y)
	v.Zoom, v.Fitted = v.between(zoom), false
	nx, ny := v.KeyAt(x, y)
	v.Centre[0] += kx - nx
	v.Centre[1] += ky - ny
	v.hold()
}

// between is the nearest zoom that the view takes: from half of what fits.
func (v *View) between(zoom float64) float64 {
	return min(max(zoom, min(v.fitting(), 1)/2), mostZoom*v.Stage.Ratio)
}

// hold keeps the picture from leaving the panes.
func (v *View) hold() {
	for i := range v.Centre {
		v.Centre[i] = min(max(v.Centre[i], v.Shown[i]), v.Shown[i+2])
	}
}

// goTo brings a pixel of the key into the middle, at its own size or larger.
func (v *View) goTo(x, y float64) {
	v.Centre = [2]float64{x, y}
	v.Zoom, v.Fitted = max(v.Zoom, v.Stage.Ratio), false
	v.hold()
}
