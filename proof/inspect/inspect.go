// Package inspect defines the pictures by which a print is judged beside the print and
// its reference: how far the two differ, what cannot be printed, where the edges of two
// plates lie, and one plate alone. Each is a colour at a place, slow and obvious: the
// screen's shader is held to them by test, as it is to render.At.
package inspect

import (
	"image"
	"math"

	"threeply/proof/balance"
	"threeply/proof/density"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// Difference is the colour for ΔE00 of the print to the reference at pixel (x, y) of the
// picture. Of picture.VariantTrue it is that of the colours themselves, whether a
// display has them or not.
func Difference(p *render.Picture, x, y float64) render.RGB {
	return Heat(spectrum.DeltaE00(lab(p.At(render.Reference, x, y)), lab(p.Unbounded(x, y))))
}

// Apart is the colour for ΔE00 of one print to another at pixel (x, y), both of the colours
// themselves.
func Apart(p, other *render.Picture, x, y float64) render.RGB {
	return Heat(spectrum.DeltaE00(lab(other.Unbounded(x, y)), lab(p.Unbounded(x, y))))
}

// heatOfFar is where the ramp of Heat begins for what is just out of reach, and by how
// much it rises a ΔE00: MostFar ends it.
const heatOfFar, heatPerUnit = 9.5, 0.525

// MostFar is the distance out of reach, as ΔE00, that ends the ramp.
const MostFar = 20

// Reach is the colour at pixel (x, y) of how far the reference there, brought to the
// print's own scale from paper to depth, is out of reach; where it is within, its
// lightness in grey. far is the distance as ΔE00. At picture.OutOfReach the colour jumps:
// across is the one on the other side of the jump.
func Reach(p *render.Picture, shell *reach.Shell, scale balance.Scale, x, y float64) (c, across render.RGB, far float64) {
	q := *p
	q.Show = nil
	l := lab(q.At(render.Reference, x, y))
	far = shell.Miss(scale.Onto(l))
	c, across = grey(0.25+0.55*l[0]/100), Heat(heatOfFar+heatPerUnit*far)
	if far > picture.OutOfReach {
		c, across = across, c
	}
	return c, across, far
}

// LostColour and BlockedColour mark what of a layer the wash takes and where its coat is
// through: dark on the highlights, light on the shadows, of the hue that all maps have.
var LostColour, BlockedColour = render.RGB{0.37, 0.25, 0.05}, ramp[4]

// Losses shows at pixel (x, y) the tones of the plate of a printer in grey, and marks what
// of its layer is lost and blocked, by the plate's density or, of a masked print, by its
// tone behind the masks. near is how far, in density or in tone, the closest end of a
// marked stretch is: there the colour jumps to across.
func Losses(p *render.Picture, which pigment.Printer, loss picture.Loss, x, y float64) (c, across render.RGB, near float64) {
	l := &p.Layers[which]
	u, v := l.Scanned.Apply(x, y)
	code := l.Plane.Bilinear(u, v)
	d := code * density.Max / 65535
	if loss.ByTone {
		d = p.Masked(which, x, y)
	}
	at := func(d float64) render.RGB {
		switch loss.At(d) {
		case relief.Lost:
			return LostColour
		case relief.Blocked:
			return BlockedColour
		}
		return grey(0.25 + 0.55*l.Reference.At(code))
	}
	near = math.Inf(1)
	c, across = at(d), at(d)
	for _, end := range []float64{loss.LostFrom[0], loss.LostFrom[1], loss.BlockedFrom[0], loss.BlockedFrom[1]} {
		if by := math.Abs(d - end); by < near {
			near = by
			across = at(end + math.Copysign(1e-6, end-d))
		}
	}
	return c, across, near
}

// OutsideColour marks what a display cannot show.
var OutsideColour = ramp[4]

// OutsideFrom is how far beyond 0 … 1 a channel of a colour must lie to count as outside
// a display: half a step of 8 bits.
const OutsideFrom = 0.5 / 255

// Outside shows at pixel (x, y) the lightness of the print in grey, and marks where a
// display of a space does not have its colour. Of p the table is that of
// picture.VariantTrue. by is how far the farthest channel lies beyond 0 … 1, less than 0
// where none does; at OutsideFrom the colour jumps to across.
func Outside(p *render.Picture, space spectrum.RGBSpace, x, y float64) (c, across render.RGB, by float64) {
	own := p.Unbounded(x, y)
	by = math.Inf(-1)
	for _, v := range picture.InSpace(own, space) {
		by = max(by, -v, v-1)
	}
	c, across = grey(0.25+0.55*lab(own)[0]/100), OutsideColour
	if by > OutsideFrom {
		c, across = across, c
	}
	return c, across, by
}

// edgeStep is half the way, in pixels of the plate, over which an edge is measured.
const edgeStep = 1.5

// halfEdge is the steepness, in encoded tone over twice edgeStep, that shows half as
// light as the steepest.
const halfEdge = 0.06

// Edges shows at pixel (x, y) the edges of plate a light and those of plate b dark: each
// 0 … 1 by how steep the plate's tone is, so that a faint plate shows as plainly as a
// strong one.
func Edges(p *render.Picture, a, b pigment.Printer, x, y float64) render.RGB {
	return grey(0.42 + 0.55*(edge(&p.Layers[a], x, y)-edge(&p.Layers[b], x, y)))
}

func edge(l *render.Layer, x, y float64) float64 {
	u, v := l.Laid.Apply(x, y)
	at := func(x, y float64) float64 { return l.Reference.At(l.Plane.Bilinear(x, y)) }
	strength := math.Hypot(at(u+edgeStep, v)-at(u-edgeStep, v), at(u, v+edgeStep)-at(u, v-edgeStep))
	return strength / (strength + halfEdge)
}

// Plate shows one plate as light at pixel (x, y), where its layer lies on the print:
// the encoded tones between two ends go over the whole scale.
func Plate(p *render.Picture, which pigment.Printer, ends [2]float64, x, y float64) render.RGB {
	q := *p
	for i := range q.Layers {
		q.Layers[i].Scanned = q.Layers[i].Laid
	}
	q.Show = nil
	v := float64(q.At(render.Reference, x, y)[2-which]) // the yellow printer's plate is the blue one
	return grey((v - ends[0]) / (ends[1] - ends[0]))
}

// leastSpan is the least part of the tones that FullContrast spreads over the whole
// scale: beyond it grain would stand as strong as the picture.
const leastSpan = 0.05

// FullContrast returns the ends of the encoded tones that a part of a plane holds, but
// for the last hundredth at either end; the whole scale for an empty part.
func FullContrast(p *plane.Plane, reference *tone.Curve, part image.Rectangle) [2]float64 {
	part = part.Intersect(image.Rect(0, 0, p.W, p.H))
	if part.Empty() {
		return [2]float64{0, 1}
	}
	const bins = 1024
	var count [bins]int
	n := 0
	dx, dy := max(part.Dx()/128, 1), max(part.Dy()/128, 1) // some 128 × 128 samples
	for y := part.Min.Y; y < part.Max.Y; y += dy {
		for x := part.Min.X; x < part.Max.X; x += dx {
			count[min(int(reference.At(float64(p.Pix[y*p.W+x]))*bins), bins-1)]++
			n++
		}
	}
	end := func(from, step int) float64 {
		i := from
		for left := n / 100; left >= count[i] && i+step >= 0 && i+step < bins; i += step {
			left -= count[i]
		}
		return (float64(i) + 0.5) / bins
	}
	low, high := end(0, 1), end(bins-1, -1)
	if lacks := leastSpan - (high - low); lacks > 0 {
		low, high = low-lacks/2, high+lacks/2
	}
	return [2]float64{low, high}
}

// lab is the colour that an encoded one shows on an sRGB display.
func lab(c render.RGB) spectrum.Lab {
	var linear [3]float64
	for i, v := range c {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	return spectrum.SRGBLab(linear)
}

func grey(v float64) render.RGB {
	g := float32(min(max(v, 0), 1))
	return render.RGB{g, g, g}
}

// hottest is the difference that ends the ramp of Heat.
const hottest = 20

// ramp goes from a dark grey to one light hue: L* 22 to 84 in even steps, C* 0 to 56, h 82°
// throughout, so that who does not tell all colours apart reads it by its lightness, and
// nothing in it is taken for a colour of the print.
var ramp = [5]render.RGB{{0.206, 0.206, 0.206}, {0.383, 0.340, 0.258}, {0.568, 0.484, 0.308}, {0.763, 0.636, 0.354}, {0.967, 0.795, 0.399}}

// Heat is the colour for a difference of 0 … 20 ΔE00.
func Heat(dE float64) render.RGB {
	x := min(max(dE/hottest, 0), 1) * float64(len(ramp)-1)
	i := min(int(x), len(ramp)-2)
	f := float32(x - float64(i))
	var out render.RGB
	for ch := range out {
		out[ch] = ramp[i][ch]*(1-f) + ramp[i+1][ch]*f
	}
	return out
}
