//go:build js

package main

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/register"
	"threeply/proof/session"
)

// left is what the last register left over, held beside the session, whose
// history it would burden. It counts only while the session has what that
// register found.
type left struct {
	of     [3]session.Found
	fields [3][]register.Offset // by source, in pixels of the key of then
	scale  float64              // CSS pixels that an offset of one pixel is drawn long
	shown  bool                 // in looks other than edges too
	next   int                  // the place that the key w goes to
	at     *place               // where it went last
}

// place is one of the worst: what is left of a source's plate there.
type place struct {
	source int
	offset register.Offset
	n, of  int // its turn among all, hottest first
}

// longArrow is the length, in CSS pixels, that most arrows keep within, and
// cutArrow that of those that are cut short.
const (
	longArrow = 36
	cutArrow  = 72
)

type leftModel struct {
	Have   bool        `json:"have"`
	Shown  bool        `json:"shown"`
	Words  string      `json:"words"`
	Place  string      `json:"place"`
	Short  string      `json:"short"`  // the same over the picture
	Frames []leftFrame `json:"frames"` // as frames; empty where no arrows are drawn
}

type leftFrame struct {
	Arrows []arrowModel `json:"arrows"`
	Ring   *[2]float64  `json:"ring"`   // about the worst place
	BarPx  float64      `json:"barPx"`  // the scale: this many pixels of the scan
	BarCSS float64      `json:"barCss"` // are this long
}

// arrowModel is an arrow in CSS pixels of the stage.
type arrowModel struct {
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	DX       float64 `json:"dx"`
	DY       float64 `json:"dy"`
	Printer  string  `json:"printer"`
	Outvoted bool    `json:"outvoted"`
	Cut      bool    `json:"cut"`
}

func (l *left) take(r picture.Registration) {
	l.of, l.fields, l.next, l.at = r.Found, r.Left, 0, nil
	l.scale = picture.ArrowScale(r.Left, longArrow)
}

// hasLeft tells whether the fields belong to the register as it stands.
func (a *app) hasLeft() bool { return a.has() && a.left.scale > 0 && a.left.of == a.Found }

// fromFound takes a pixel of the key that was registered to, to the key's of
// now.
func (a *app) fromFound() affine.Matrix { return a.Found[a.KeySource()].Matrix }

func (a *app) leftModel() leftModel {
	m := leftModel{Have: a.hasLeft(), Shown: a.left.shown, Frames: []leftFrame{}}
	switch {
	case !a.has():
		return m
	case !m.Have:
		m.Words = "Nothing is known of what is left: register the plates."
		if a.Registered == "auto" && a.left.of != a.Found {
			m.Words = "What this register left is no longer at hand: register again to see it."
		}
		return m
	}
	m.Words = fmt.Sprintf("An offset of 1 px of the scan is drawn %g px of the screen long.", a.left.scale)
	if a.left.at != nil {
		m.Place, m.Short = a.placeWords(*a.left.at)
	}
	if (a.left.shown || a.look == "edges") && a.look != "marks" {
		for _, p := range a.panes() {
			m.Frames = append(m.Frames, a.leftFrame(p))
		}
	}
	return m
}

func (a *app) leftFrame(p pane) leftFrame {
	f := leftFrame{Arrows: []arrowModel{}}
	back, ok := a.view(p).Inverse()
	if !ok {
		return f
	}
	key := a.fromFound()
	css := func(x, y float64) (float64, float64) {
		x, y = back.Apply(key.Apply(x, y))
		return (x + 0.5) / a.ratio, (y + 0.5) / a.ratio
	}
	x0, y0, x1, y1 := a.shown(p)
	for filter := range session.Filters {
		i := a.Assign[filter]
		for _, o := range a.left.fields[i] {
			x, y := css(o.X, o.Y)
			if x*a.ratio < float64(x0) || y*a.ratio < float64(y0) || x*a.ratio > float64(x1) || y*a.ratio > float64(y1) {
				continue
			}
			tx, ty := key.Apply(o.X+o.DX, o.Y+o.DY)
			fx, fy := key.Apply(o.X, o.Y)
			dx, dy := a.left.scale*(tx-fx), a.left.scale*(ty-fy)
			long := math.Hypot(dx, dy)
			cut := long > cutArrow
			if cut {
				dx, dy = dx*cutArrow/long, dy*cutArrow/long
			}
			f.Arrows = append(f.Arrows, arrowModel{round(x), round(y), round(dx), round(dy), printerOf(filter).String(), o.Outvoted, cut})
		}
	}
	if at := a.left.at; at != nil {
		x, y := css(at.offset.X, at.offset.Y)
		f.Ring = &[2]float64{round(x), round(y)}
	}
	f.BarPx = picture.RoundDown(60 / a.left.scale)
	f.BarCSS = f.BarPx * a.left.scale
	return f
}

// round keeps a tenth of a pixel.
func round(v float64) float64 { return math.Round(10*v) / 10 }

// worst brings the place where most is left into the middle, and when it is
// called again the next.
func (a *app) worst() error {
	if !a.hasLeft() {
		return fmt.Errorf("what register leaves is not known yet; register the plates first")
	}
	var all []place
	for i, field := range a.left.fields {
		for _, o := range field {
			if !o.Outvoted {
				all = append(all, place{source: i, offset: o})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q place) int { return picture.Hotter(p.offset, q.offset) })
	n := a.left.next % len(all)
	at := all[n]
	a.left.next = n + 1
	at.n, at.of = n+1, len(all)
	a.left.at = &at
	a.cx, a.cy = a.fromFound().Apply(at.offset.X, at.offset.Y)
	a.zoom, a.fitted = max(a.zoom, a.ratio), false
	a.hold()
	if a.look == "marks" {
		a.meetAt(a.cx, a.cy)
	}
	return nil
}

// placeWords says what is left at one of the worst places, with the print as it
// is now, in a sentence and in short.
func (a *app) placeWords(at place) (long, short string) {
	f := slices.Index(a.Assign[:], at.source)
	size := math.Hypot(at.offset.DX, at.offset.DY)
	short = fmt.Sprintf("%d of %d: %s %.2f px off", at.n, at.of, printerOf(f), size)
	long = fmt.Sprintf("Place %d of %d: the %s layer, from the %s plate, lies %.2f px off (%s on the print), certain to %.0f %%.",
		at.n, at.of, printerOf(f), session.Filters[f], size, session.Microns(size*a.PixelMicrons()), 100*at.offset.Certainty)
	return long, short
}
