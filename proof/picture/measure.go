package picture

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/mask"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// How many samples are taken along each side of the part of the key that all three
// plates hold.
const (
	maskSide    = 32 // for masks
	measureSide = 96 // for figures
)

// Overlap is the upright rectangle of the key, in its pixels, that all three
// plates hold within their borders; the whole key where there is none.
func Overlap(s *session.State) (x0, y0, x1, y1 float64) {
	w, h := s.Frame()
	x0, y0, x1, y1 = 0, 0, float64(w-1), float64(h-1)
	for i, src := range s.Sources {
		back, ok := place.Register(s, i).Inverse()
		if !ok || src.Area[2] <= src.Area[0] || src.Area[3] <= src.Area[1] {
			continue
		}
		in := Within(back, src.Area)
		x0, y0, x1, y1 = max(x0, in[0]), max(y0, in[1]), min(x1, in[2]), min(y1, in[3])
	}
	if x1-x0 < 8 || y1-y0 < 8 {
		return 0, 0, float64(w - 1), float64(h - 1)
	}
	return x0, y0, x1, y1
}

// Within takes an area of a plate, x0, y0, x1, y1 in pixels, through a map, and returns
// the upright rectangle inside what comes out, in the same order. The map must turn by
// nearly a multiple of 90°.
func Within(m affine.Matrix, area [4]int) [4]float64 {
	var xs, ys []float64
	for _, c := range [4][2]int{{0, 1}, {2, 1}, {0, 3}, {2, 3}} {
		x, y := m.Apply(float64(area[c[0]])-0.5, float64(area[c[1]])-0.5)
		xs, ys = append(xs, x), append(ys, y)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	return [4]float64{xs[1], ys[1], xs[2], ys[2]}
}

// samples calls visit at side × side places of the overlap, in pixels of the key.
func samples(s *session.State, side int, visit func(x, y float64)) {
	x0, y0, x1, y1 := Overlap(s)
	for j := range side {
		for i := range side {
			visit(x0+(x1-x0)*(float64(i)+0.5)/float64(side), y0+(y1-y0)*(float64(j)+0.5)/float64(side))
		}
	}
}

// farthest is how far a colour may lie from what can be printed, in CIELAB, and still
// count for the masks: a judgement without a source.
const farthest = 30

// FindMasks returns the masks that bring the print nearest to the reference. They are
// fitted at samples of the picture: from the tones of the plates there to the tones that
// the stack needs. First the reference's scale from white to black is brought to the
// print's from paper to depth, so that neutrals print neutral with masks too. planes are
// that level of each source's pyramid, by source. The error is mask.ErrTooFew.
func (p *Printing) FindMasks(s *session.State, planes [3]*plane.Plane, level int) (mask.Matrix, error) {
	unmasked := *p
	unmasked.Masks = nil
	pic := Assemble(s, &unmasked, p.Curves(s), planes, affine.Identity, level)
	for i := range pic.Layers { // the tones themselves, in place of thicknesses
		l := &pic.Layers[i]
		l.Print, l.Hidden, l.Laid = l.Tone, false, l.Scanned
	}
	var plates, wanted [][3]float64
	samples(s, maskSide, func(x, y float64) {
		var u [3]float64
		for i, v := range pic.Coordinates(x, y) {
			u[i] = float64(v)
		}
		t, dE := balance.Near(p.Cube, p.Scale.Onto(labAt(pic, x, y)), farthest)
		if dE < farthest {
			plates, wanted = append(plates, u), append(wanted, p.Scale.Tones(t))
		}
	})
	return mask.Fit(plates, wanted)
}

// labAt is the reference's colour at a pixel of the key.
func labAt(pic *render.Picture, x, y float64) spectrum.Lab {
	return spectrum.SRGBLab(linearOf(pic.At(render.Reference, x, y)))
}

// Measured is how near a print of the open picture comes to its reference. The reference
// is brought to the print's own scale from paper to depth first, so that no palette is
// preferred for a white of the paper or a black that others do not have.
type Measured struct {
	Mean   float64 `json:"mean"`   // CIEDE2000, its mean over the picture
	Light  float64 `json:"light"`  // the part of the mean that lies in lightness alone
	Colour float64 `json:"colour"` // and that in chroma and hue; the squares of both make that of each difference
	P95    float64 `json:"p95"`    // CIEDE2000 that 95 % of the picture keeps within
	Beyond float64 `json:"beyond"` // share of the picture out of reach, 0 … 1
	Below  float64 `json:"below"`  // share that the reference has darker than the depth, 0 … 1: those tones lie closer together on the print
}

// OutOfReach is how far a colour must lie beyond what can be printed to count as out of
// reach, as CIEDE2000. One unit is about what an eye can just tell, common practice.
const OutOfReach = 1

// ReachWords says whether a colour, on the print's own scale from paper to depth, can be
// printed, and if not by how much and why.
func ReachWords(wanted spectrum.Lab, shell *reach.Shell) string {
	by := shell.Miss(wanted)
	if by <= OutOfReach {
		return "can be printed"
	}
	to := shell.Nearest(wanted)
	dL := wanted[0] - to[0]
	dC := math.Hypot(wanted[1], wanted[2]) - math.Hypot(to[1], to[2])
	why := "more colourful than the tissues give"
	switch {
	case dL > math.Abs(dC):
		why = "paler than the paper"
	case -dL > math.Abs(dC):
		why = "darker than the tissues give"
	}
	return fmt.Sprintf("cannot be printed: ΔE00 %.1f %s", by, why)
}

// meanFrom is the mean of Measure alone, on fewer places. aim is the scale of the print as it was
// meant, which the reference is brought onto; p may be a batch that came out otherwise.
func (p *Printing) meanFrom(aim balance.Scale, s *session.State, planes [3]*plane.Plane, level int) float64 {
	pic := p.bare(s, planes, level)
	sum, n := 0.0, 0
	samples(s, measureSide/2, func(x, y float64) {
		sum += spectrum.DeltaE00(aim.Onto(labAt(pic, x, y)), p.printedAt(pic, x, y))
		n++
	})
	return sum / float64(n)
}

// bare is the picture without offsets, with all its layers.
func (p *Printing) bare(s *session.State, planes [3]*plane.Plane, level int) *render.Picture {
	pic := Assemble(s, p, p.Curves(s), planes, affine.Identity, level)
	for i := range pic.Layers {
		l := &pic.Layers[i]
		l.Hidden, l.Laid = false, l.Scanned
	}
	return pic
}

// printedAt is the print's colour at a pixel of the key.
func (p *Printing) printedAt(pic *render.Picture, x, y float64) spectrum.Lab {
	var t [3]float64
	for i, q := range pic.Coordinates(x, y) {
		t[i] = cube.Thickness(float64(q))
	}
	return p.Cube.At(t)
}

// Measure compares print and reference over the picture, with the printing's masks where
// it has them. It tells of the colours alone: offsets and hidden layers are left out.
// planes are that level of each source's pyramid, by source.
func (p *Printing) Measure(s *session.State, planes [3]*plane.Plane, level int) Measured {
	shell := reach.New(p.Cube, p.Limit).Shell(p.Scale)
	pic := p.bare(s, planes, level)
	var all []float64
	var out Measured
	samples(s, measureSide, func(x, y float64) {
		want := labAt(pic, x, y)
		if want[0] < p.Scale.Depth.Lab[0] {
			out.Below++
		}
		want = p.Scale.Onto(want)
		got := p.printedAt(pic, x, y)
		dE, light := spectrum.DeltaE00(want, got), spectrum.DeltaE00(want, spectrum.Lab{got[0], want[1], want[2]})
		out.Light += min(light, dE)
		out.Colour += math.Sqrt(max(dE*dE-light*light, 0))
		all = append(all, dE)
		out.Mean += dE
		if shell.Miss(want) > OutOfReach {
			out.Beyond++
		}
	})
	slices.Sort(all)
	n := float64(len(all))
	out.Light, out.Colour = out.Light/n, out.Colour/n
	out.Mean, out.Beyond, out.Below, out.P95 = out.Mean/n, out.Beyond/n, out.Below/n, all[int(math.Round(0.95*(n-1)))]
	return out
}
