package picture

import (
	"fmt"
	"image"
	"math"

	"threeply/proof/affine"
	"threeply/proof/balance"
	"threeply/proof/mask"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// Reduced is an open picture at a size for small prints and figures.
type Reduced struct {
	Planes [3]*plane.Plane // by source
	Level  int             // of their pyramids
	Frame  [4]float64      // edges of the picture in key pixels: x0, y0, x1, y1
}

// Coarse is the level that masks and figures are taken from, and its number. It is the
// same as Small's: one level further where no plane is as small as a thumbnail yet.
func (r Reduced) Coarse() (planes [3]*plane.Plane, level int) {
	for _, p := range r.Planes {
		if max(p.W, p.H) <= ThumbSide {
			return r.Planes, r.Level
		}
	}
	for i, p := range r.Planes {
		planes[i] = p.Half()
	}
	return planes, r.Level + 1
}

// Tried is what a palette comes to on the open picture: its black, its reach
// and how near the print comes to the reference.
type Tried struct {
	Lab      spectrum.Lab `json:"lab"`      // of the deepest neutral
	Density  float64      `json:"density"`  // visual, of the same
	Full     spectrum.Lab `json:"full"`     // of all three layers as thick as they may be
	Even     bool         `json:"even"`     // there is no grey scale: Lab is Full
	InA      spectrum.Lab `json:"inA"`      // the deepest neutral under illuminant A
	InLED    spectrum.Lab `json:"inLED"`    // and under the neutral white LED
	DriftA   float64      `json:"driftA"`   // its ΔE00 from the chosen light to A
	DriftLED float64      `json:"driftLED"` // and from the chosen light to the LED
	Volume   float64      `json:"volume"`   // of all colours that can be printed, CIELAB units cubed
	Least    float64      `json:"least"`    // the mean below, at its least and its most between the likely print and batches that went light or heavy
	Most     float64      `json:"most"`
	Note     string       `json:"note"` // why a print that was to be masked is not; "" otherwise
	Measured
}

// Try prints the picture small with another palette of the session. Everything else is
// as the session has it, but hidden layers are shown. side is the longer side of the
// small print, in pixels.
func Try(s *session.State, palette string, r Reduced, side int) (Tried, *image.NRGBA, error) {
	t := *s
	t.Palette, t.Hidden = palette, [3]bool{}
	p, err := Prepare(&t)
	if err != nil {
		return Tried{}, nil, err
	}
	var out Tried
	coarse, level := r.Coarse()
	if t.Masked {
		if m, err := p.FindMasks(&t, coarse, level); err != nil {
			out.Note = err.Error()
		} else {
			p.Masks = &m
		}
	}
	d := p.Scale.Depth
	out.Lab, out.Density, out.Even = d.Lab, d.VisualDensity, p.Scale.Even
	out.Full = p.Light.Lab(p.Recipe.Reflectance([3]float64{p.Limit, p.Limit, p.Limit}))
	tungsten, _ := spectrum.LightByID("A")
	led, _ := spectrum.LightByID("LED-B3")
	drifts := balance.Drifts(p.Recipe, d.Thickness, p.Light, tungsten, led)
	out.InA, out.DriftA = drifts[1].Lab, drifts[1].DeltaE
	out.InLED, out.DriftLED = drifts[2].Lab, drifts[2].DeltaE
	out.Volume = reach.New(p.Cube, p.Limit).Volume()
	out.Measured = p.Measure(&t, coarse, level)
	out.Least, out.Most = out.Mean, out.Mean
	for _, batch := range []*Printing{p.Lighter(t.Doubts()), p.Heavier(t.Doubts())} {
		mean := batch.meanFrom(p.Scale, &t, coarse, level)
		out.Least, out.Most = min(out.Least, mean), max(out.Most, mean)
	}
	return out, p.smallPrint(&t, p.Curves(&t), r, side), nil
}

// smallPrint prints what lies in the frame of r by curves that Curves gave. side is the
// longer side of the small print, in pixels.
func (p *Printing) smallPrint(s *session.State, curves [3]Curves, r Reduced, side int) *image.NRGBA {
	made, w, h := p.small(s, curves, r, side)
	return made.Image(render.Print, w, h, nil)
}

// SmallRows is smallPrint row by row: its size, and what draws row y, four bytes a pixel.
func (p *Printing) SmallRows(s *session.State, curves [3]Curves, r Reduced, side int) (w, h int, row func(y int, rgba []uint8)) {
	made, w, h := p.small(s, curves, r, side)
	return w, h, made.Rows(render.Print, w, h)
}

func (p *Printing) small(s *session.State, curves [3]Curves, r Reduced, side int) (made *render.Picture, across, down int) {
	w, h := max(r.Frame[2]-r.Frame[0], 1), max(r.Frame[3]-r.Frame[1], 1)
	scale := max(w, h) / float64(side)
	nw, nh := max(int(math.Round(w/scale)), 1), max(int(math.Round(h/scale)), 1)
	kx, ky := w/float64(nw), h/float64(nh)
	view := affine.Matrix{kx, 0, r.Frame[0] + kx/2, 0, ky, r.Frame[1] + ky/2}
	return Assemble(s, p, curves, r.Planes, view, r.Level), nw, nh
}

// WayTrial is one recipe printed tuned and straight, unmasked.
type WayTrial struct {
	Tuned    Measured `json:"tuned"`
	Straight Measured `json:"straight"`
	Anchored Measured `json:"anchored"` // straight, exposed for the black where Straight is for a middle grey, or the other way round
	Says     string   `json:"says"`     // what both ways come to
}

// TryWays measures the session's print tuned and straight.
func TryWays(s *session.State, r Reduced) (WayTrial, error) {
	t := *s
	t.Masked = false
	p, err := Prepare(&t)
	if err != nil {
		return WayTrial{}, err
	}
	planes, level := r.Coarse()
	out := WayTrial{Tuned: p.Printed(false).Measure(&t, planes, level), Straight: p.Printed(true).Measure(&t, planes, level)}
	t.Way.AtDepth = !t.Way.AtDepth
	out.Anchored = p.Printed(true).Measure(&t, planes, level)
	out.Says = out.words(s.Way.AtDepth)
	return out, nil
}

// asNear is how far the means of two ways may lie apart, as CIEDE2000, and the ways still count
// as equally near over the whole picture: half of what an eye can just tell of one colour.
const asNear = 0.5

// words says what both ways of printing come to; straight is exposed for the black, or for a
// middle grey.
func (w *WayTrial) words(atDepth bool) string {
	first, other := "a middle grey", "the black"
	if atDepth {
		first, other = other, first
	}
	says := fmt.Sprintf("Mean ΔE00 from the reference: tuned %.1f, straight %.1f (exposed for %s; for %s %.1f).", w.Tuned.Mean, w.Straight.Mean, first, other, w.Anchored.Mean)
	switch apart := w.Straight.Mean - w.Tuned.Mean; {
	case math.Abs(apart) < asNear:
		return says + " Over the whole picture they are as near."
	case apart > 0:
		return says + fmt.Sprintf(" Straight costs %.1f more.", apart)
	default:
		return says + fmt.Sprintf(" Tuned costs %.1f more.", -apart)
	}
}

// TryExposures prints the picture small with a layer exposed by so many stops more each,
// masked where the session is. The masks are those of the session's own exposures. side is
// the longer side of a small print, in pixels. The errors are Prepare's and FindMasks'.
func TryExposures(s *session.State, printer pigment.Printer, stops []float64, r Reduced, side int) ([]*image.NRGBA, error) {
	t := *s
	t.Hidden = [3]bool{}
	p, err := Prepare(&t)
	if err != nil {
		return nil, err
	}
	if t.Masked {
		coarse, level := r.Coarse()
		m, err := p.FindMasks(&t, coarse, level)
		if err != nil {
			return nil, err
		}
		p.Masks = &m
	}
	var out []*image.NRGBA
	for _, more := range stops {
		t.Way = s.Way
		t.Way.Stops[printer] += more
		out = append(out, p.smallPrint(&t, p.Curves(&t), r, side))
	}
	return out, nil
}

// MaskTrial is one recipe printed unmasked and masked.
type MaskTrial struct {
	Unmasked Measured     `json:"unmasked"`
	Masked   *Measured    `json:"masked"` // nil where no masks can be found
	Masks    *mask.Matrix `json:"masks"`
	Note     string       `json:"note"` // why there are none, "" otherwise
}

// TryMasks measures the session's print unmasked and masked.
func TryMasks(s *session.State, r Reduced) (MaskTrial, error) {
	p, err := Prepare(s)
	if err != nil {
		return MaskTrial{}, err
	}
	planes, level := r.Coarse()
	out := MaskTrial{Unmasked: p.Measure(s, planes, level)}
	m, err := p.FindMasks(s, planes, level)
	if err != nil {
		out.Note = err.Error()
		return out, nil
	}
	p.Masks = &m
	masked := p.Measure(s, planes, level)
	out.Masked, out.Masks = &masked, &m
	return out, nil
}
