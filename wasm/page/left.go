//go:build js

package main

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/words"
)

// left is what the last register left over, held beside the session, whose
// history it would burden. It counts only while the session has what that
// register found.
type left struct {
	of     [3]session.Found
	fields [3][]register.Offset // by source, in pixels of the key of then
	shown  bool                 // in looks other than edges too
	next   int                  // the place that the key w goes to
	at     *worstPlace          // where it went last
}

// worstPlace is one of the worst.
type worstPlace struct {
	registration.WorstPlace
	n, of int // its turn among all, hottest first
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
	Sure     bool    `json:"sure"` // measured with certainty
	Cut      bool    `json:"cut"`
}

func (l *left) take(r registration.Registration) {
	l.of, l.fields, l.next, l.at = r.Found, r.Left, 0, nil
}

// hasLeft tells whether the fields belong to the register as it stands.
func (a *app) hasLeft() bool {
	return a.has() && a.left.of == a.Found && registration.ArrowScale(a.left.fields, longArrow) > 0
}

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
	fields := registration.Rests(&a.State, a.left.fields)
	scale := registration.ArrowScale(fields, longArrow)
	m.Words = fmt.Sprintf("An offset of 1 px of the scan is drawn %g px of the screen long.", scale)
	if a.left.at != nil {
		m.Place, m.Short = a.placeWords(*a.left.at)
	}
	if (a.left.shown || a.look == "edges") && a.look != "marks" {
		for _, p := range a.panes() {
			m.Frames = append(m.Frames, a.leftFrame(p, fields, scale))
		}
	}
	return m
}

// leftFrame draws residual fields, by source, in a pane: scale CSS pixels to the
// pixel.
func (a *app) leftFrame(p pane, fields [3][]register.Offset, scale float64) leftFrame {
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
		for _, o := range fields[i] {
			x, y := css(o.X, o.Y)
			if x*a.ratio < float64(x0) || y*a.ratio < float64(y0) || x*a.ratio > float64(x1) || y*a.ratio > float64(y1) {
				continue
			}
			tx, ty := key.Apply(o.X+o.DX, o.Y+o.DY)
			fx, fy := key.Apply(o.X, o.Y)
			dx, dy := scale*(tx-fx), scale*(ty-fy)
			long := math.Hypot(dx, dy)
			cut := long > cutArrow
			if cut {
				dx, dy = dx*cutArrow/long, dy*cutArrow/long
			}
			f.Arrows = append(f.Arrows, arrowModel{round(x), round(y), round(dx), round(dy), printerOf(filter).String(), o.Outvoted, o.Sure(), cut})
		}
	}
	if at := a.left.at; at != nil {
		x, y := css(at.Offset.X, at.Offset.Y)
		f.Ring = &[2]float64{round(x), round(y)}
	}
	f.BarPx = registration.RoundDown(60 / scale)
	f.BarCSS = f.BarPx * scale
	return f
}

// round keeps a tenth of a pixel.
func round(v float64) float64 { return math.Round(10*v) / 10 }

// worst brings the place where most is left into the middle, and when it is
// called again the next: of all that were measured with certainty, those that lie
// elsewhere first.
func (a *app) worst() error {
	if !a.hasLeft() {
		return fmt.Errorf("what register leaves is not known yet; register the plates first")
	}
	all := registration.Worst(registration.Rests(&a.State, a.left.fields))
	if len(all) == 0 {
		return fmt.Errorf("no place was measured with certainty; look at the edges, or pin marks")
	}
	n := a.left.next % len(all)
	at := worstPlace{all[n], n + 1, len(all)}
	a.left.next, a.left.at = n+1, &at
	a.cx, a.cy = a.fromFound().Apply(at.Offset.X, at.Offset.Y)
	a.zoom, a.fitted = max(a.zoom, a.ratio), false
	a.hold()
	if a.look == "marks" {
		a.meetAt(a.cx, a.cy)
	}
	return nil
}

// placeWords says what is left at one of the worst places, with the print as it
// is now, in a sentence and in short.
func (a *app) placeWords(at worstPlace) (long, short string) {
	f := slices.Index(a.Assign[:], at.Source)
	size := math.Hypot(at.Offset.DX, at.Offset.DY)
	short = fmt.Sprintf("%d of %d: %s %.2f px off", at.n, at.of, printerOf(f), size)
	long = fmt.Sprintf("Place %d of %d: the %s layer, from the %s plate, lies %.2f px off (%s on the print), certain to %.0f %%.",
		at.n, at.of, printerOf(f), session.Filters[f], size, words.Microns(size*a.PixelMicrons()), 100*at.Offset.Certainty)
	if at.Offset.Outvoted {
		short += ", against the other places"
		long += " The other places outvote it: the subject moved, or the film is torn."
	}
	return long, short
}
