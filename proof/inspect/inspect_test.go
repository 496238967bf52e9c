package inspect

import (
	"image"
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/render"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// positive is the film of a scan that is light itself: density 1 is a tenth of it.
var positive = tone.Film{White: 0, Black: 3, Gamma: 1}

// plates is a picture of three planes in register, whose densities are given.
func plates(w, h int, dense func(printer, x, y int) float64) *render.Picture {
	p := &render.Picture{}
	for i := range p.Layers {
		one := plane.New(w, h)
		for j := range one.Pix {
			one.Pix[j] = density.Code(dense(i, j%w, j/w))
		}
		way := render.Way{Matrix: affine.Identity}
		p.Layers[i] = render.Layer{Plane: one, Laid: way, Scanned: way, Reference: tone.ReferenceCurve(positive)}
	}
	return p
}

func near(a, b render.RGB, by float64) bool {
	for i := range a {
		if math.Abs(float64(a[i]-b[i])) > by {
			return false
		}
	}
	return true
}

// The ramp goes from a grey to one hue in even steps of lightness, 15.5 L* for 5 ΔE00, and
// its colours lie where their share of 20 ΔE00 is.
func TestHeat(t *testing.T) {
	if Heat(0) != ramp[0] || Heat(-3) != ramp[0] || Heat(20) != ramp[4] || Heat(90) != ramp[4] {
		t.Errorf("the ends are %v and %v", Heat(0), Heat(20))
	}
	for i, want := range ramp {
		if got := Heat(5 * float64(i)); !near(got, want, 1e-6) {
			t.Errorf("ΔE00 %d is %v, want %v", 5*i, got, want)
		}
	}
	if got := Heat(7.5); !near(got, render.RGB{0.4755, 0.412, 0.283}, 1e-6) { // halfway between the second and the third
		t.Errorf("ΔE00 7.5 is %v", got)
	}
	for i, c := range ramp {
		l := lab(c)
		hue := math.Atan2(l[2], l[1]) * 180 / math.Pi
		if math.Abs(l[0]-(22+15.5*float64(i))) > 0.5 || math.Abs(math.Hypot(l[1], l[2])-14*float64(i)) > 0.6 || i > 0 && math.Abs(hue-82) > 1.5 {
			t.Errorf("step %d is L* %.1f, C* %.1f, h %.1f", i, l[0], math.Hypot(l[1], l[2]), hue)
		}
	}
	last := -1.0
	for dE := 0.0; dE <= 20; dE += 0.5 {
		l := lab(Heat(dE))[0]
		if l <= last {
			t.Errorf("at ΔE00 %g the ramp grows darker: L* %g after %g", dE, l, last)
		}
		last = l
	}
}

// An edge is the way that the encoded tone goes over three pixels. A plate of densities
// that rise by 0.01 a pixel across has at density d the tone 10^-d.
func TestEdges(t *testing.T) {
	p := plates(60, 40, func(printer, x, y int) float64 {
		if printer == int(pigment.Cyan) {
			return 0.5 + 0.01*float64(x)
		}
		return 0.7 // magenta and yellow have no edge
	})
	for _, x := range []float64{10, 30.5, 50} {
		tone := func(x float64) float64 { return spectrum.EncodeSRGB(positive.Exposure(0.5 + 0.01*x)) }
		steep := math.Abs(tone(x+1.5) - tone(x-1.5))
		want := 0.42 + 0.55*steep/(steep+0.06)
		if got := Edges(p, pigment.Cyan, pigment.Magenta, x, 20); math.Abs(float64(got[0])-want) > 2e-3 || got[0] != got[2] {
			t.Errorf("at %g: %v, want grey %.4f", x, got, want)
		}
		if got := Edges(p, pigment.Magenta, pigment.Cyan, x, 20); math.Abs(float64(got[0])-(0.84-want)) > 2e-3 {
			t.Errorf("at %g the other way round: %v, want grey %.4f", x, got, 0.84-want)
		}
		if got := Edges(p, pigment.Magenta, pigment.Yellow, x, 20); !near(got, render.RGB{0.42, 0.42, 0.42}, 1e-6) {
			t.Errorf("at %g without edges: %v", x, got)
		}
	}
}

// One plate is shown where its layer lies; its tones between the ends go over the whole
// scale, and beyond the plate there is no light.
func TestPlate(t *testing.T) {
	p := plates(60, 40, func(printer, x, y int) float64 { return 0.2 + 0.01*float64(x) + 0.1*float64(printer) })
	p.Layers[pigment.Magenta].Laid.Matrix = affine.Translate(-7, 0) // the layer lies 7 further right
	tone := spectrum.EncodeSRGB(positive.Exposure(0.2 + 0.01*13 + 0.1))
	if got := Plate(p, pigment.Magenta, [2]float64{0, 1}, 20, 10); math.Abs(float64(got[1])-tone) > 2e-3 {
		t.Errorf("%v, want %.4f", got, tone)
	}
	if got, want := Plate(p, pigment.Magenta, [2]float64{0.5, 0.9}, 20, 10), (tone-0.5)/0.4; math.Abs(float64(got[1])-want) > 5e-3 {
		t.Errorf("in contrast %v, want %.4f", got, want)
	}
	if got := Plate(p, pigment.Magenta, [2]float64{0, 1}, 5, 10); got != (render.RGB{}) {
		t.Errorf("beyond the plate: %v", got)
	}
	if got := Plate(p, pigment.Yellow, [2]float64{0, 1}, 20, 10); math.Abs(float64(got[0])-spectrum.EncodeSRGB(positive.Exposure(0.4))) > 2e-3 {
		t.Errorf("the blue plate: %v", got)
	}
}

// Full contrast takes the tones of the part in sight, but for a hundredth at either end,
// and never less than a twentieth of the scale.
func TestFullContrast(t *testing.T) {
	curve := tone.ReferenceCurve(positive)
	at := func(d float64) float64 { return spectrum.EncodeSRGB(positive.Exposure(d)) }
	p := plane.New(100, 100)
	for i := range p.Pix {
		d := 0.6 // the left half
		if i%100 >= 50 {
			d = 0.9
		}
		p.Pix[i] = density.Code(d)
	}
	p.Pix[0], p.Pix[99] = density.Code(0), density.Code(3) // two specks
	for _, c := range []struct {
		part      image.Rectangle
		low, high float64
	}{
		{image.Rect(0, 0, 100, 100), at(0.9), at(0.6)},
		{image.Rect(-50, -50, 400, 400), at(0.9), at(0.6)},
		{image.Rect(10, 10, 40, 90), at(0.6) - 0.025, at(0.6) + 0.025},
		{image.Rect(200, 0, 300, 10), 0, 1},
	} {
		if got := FullContrast(p, curve, c.part); math.Abs(got[0]-c.low) > 0.002 || math.Abs(got[1]-c.high) > 0.002 {
			t.Errorf("%v: %.4f, want %.4f %.4f", c.part, got, c.low, c.high)
		}
	}
}

// The difference is that of the two pictures; where both are alike it is the darkest.
func TestDifference(t *testing.T) {
	s, planes := picturetest.Patches()
	printing, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	p := picture.Assemble(&s, printing, printing.Curves(&s), planes, affine.Identity, 0)
	for _, at := range [][2]float64{{10, 10}, {10, 150}, {70, 90}, {130, 130}} {
		a, b := lab(p.At(render.Reference, at[0], at[1])), lab(p.At(render.Print, at[0], at[1]))
		if got, want := Difference(p, at[0], at[1]), Heat(spectrum.DeltaE00(a, b)); got != want {
			t.Errorf("at %v: %v, want %v", at, got, want)
		}
	}
	// Another print of the same plates: they differ by the ΔE00 of their own colours, and
	// none differs from itself.
	s.Palette = "gamboge"
	second, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	q := picture.Assemble(&s, second, second.Curves(&s), planes, affine.Identity, 0)
	for _, at := range [][2]float64{{70, 90}, {130, 130}} {
		want := Heat(spectrum.DeltaE00(lab(q.At(render.Print, at[0], at[1])), lab(p.At(render.Print, at[0], at[1]))))
		if got := Apart(p, q, at[0], at[1]); got != want || got == Heat(0) || Apart(q, q, at[0], at[1]) != Heat(0) {
			t.Errorf("at %v two prints are %v apart, want %v", at, got, want)
		}
	}
	white := plates(20, 20, func(_, _, _ int) float64 { return 0 })
	white.N, white.Table = 2, make([]float32, 3*8)
	for i := range white.Table {
		white.Table[i] = 1 // any amount is white
	}
	for i := range white.Layers {
		white.Layers[i].Print = new(tone.Curve)
	}
	if got := Difference(white, 10, 10); !near(got, ramp[0], 1e-3) {
		t.Errorf("of white to white: %v", got)
	}
	for i := range white.Table {
		white.Table[i] = [3]float32{-0.2, 1.1, 0.6}[i%3] // a green that no sRGB display has
	}
	want := Heat(spectrum.DeltaE00(spectrum.SRGBLab([3]float64{1, 1, 1}), spectrum.SRGBLab([3]float64{
		-spectrum.DecodeSRGB(0.2), spectrum.DecodeSRGB(1.1), spectrum.DecodeSRGB(0.6)})))
	if got := Difference(white, 10, 10); !near(got, want, 1e-3) {
		t.Errorf("of a colour beyond the display: %v, want %v", got, want)
	}
}

// A colour that cannot be printed is hot, one that can be is grey as it is light; white
// and black themselves are within reach, for they are brought to paper and depth.
func TestReach(t *testing.T) {
	s, planes := picturetest.Patches()
	printing, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	shell := reach.New(printing.Cube, printing.Limit).Shell(printing.Scale)
	p := picture.Assemble(&s, printing, printing.Curves(&s), planes, affine.Identity, 0)
	for _, y := range []float64{10, 90, 150} { // of the grey scale in the first column, from black to white
		grey, _, far := Reach(p, shell, printing.Scale, 10, y)
		l := lab(p.At(render.Reference, 10, y))[0]
		if want := 0.25 + 0.55*l/100; far > picture.OutOfReach || math.Abs(float64(grey[0])-want) > 1e-6 || grey[0] != grey[2] {
			t.Errorf("grey of L* %.1f lies %g out of reach and is %v, want %.3f", l, far, grey, want)
		}
	}
	blue := plates(20, 20, func(printer, _, _ int) float64 { // full blue light, no red and green
		if printer == int(pigment.Yellow) {
			return 0
		}
		return 4
	})
	hot, across, far := Reach(blue, shell, printing.Scale, 10, 10)
	want := shell.Miss(printing.Scale.Onto(lab(render.RGB{0, 0, 1})))
	if math.Abs(far-want) > 0.2 || far < 5 || !near(hot, Heat(9.5+0.525*far), 1e-6) || across[0] != across[2] {
		t.Errorf("the blue of a display lies ΔE00 %g out of reach, want %g; its colour is %v, across the jump %v", far, want, hot, across)
	}
}

// What the wash takes is dark and what blocks is light, in one hue, by the density of the one
// plate; between them its tones are grey. Close to an end the other colour is told.
func TestLosses(t *testing.T) {
	p := plates(301, 20, func(printer, x, _ int) float64 {
		if printer == int(pigment.Magenta) {
			return float64(x) / 100
		}
		return 1
	})
	loss := picture.Loss{LostFrom: [2]float64{2, 2.5}, BlockedFrom: [2]float64{0, 0.305}}
	for x, want := range map[float64]render.RGB{
		10: BlockedColour, 30: BlockedColour, 210: LostColour, 250: LostColour,
		100: grey(0.25 + 0.55*spectrum.EncodeSRGB(0.1)), 270: grey(0.25 + 0.55*spectrum.EncodeSRGB(math.Pow(10, -2.7)-1e-3)),
	} {
		c, _, from := Losses(p, pigment.Magenta, loss, x, 10)
		by := 0.004
		if !near(c, want, by) {
			t.Errorf("density %.2f is %v, want %v", x/100, c, want)
		}
		if want := min(math.Abs(x/100-0.305), math.Abs(x/100-2), math.Abs(x/100-2.5), x/100); math.Abs(from-want) > 1e-3 {
			t.Errorf("density %.2f is %.3f from an end, want %.3f", x/100, from, want)
		}
	}
	if c, across, _ := Losses(p, pigment.Magenta, loss, 30, 10); c != BlockedColour || across[0] != across[2] {
		t.Errorf("across the end lies %v", across)
	}
	if c, _, _ := Losses(p, pigment.Cyan, picture.Loss{}, 30, 10); c[0] != c[2] {
		t.Errorf("where nothing is lost it is %v", c)
	}
}

// A colour beyond sRGB and within Display P3 is outside the one and not the other; a grey
// is outside neither. Display P3's own red, as linear sRGB, has 1.2249 of red (the
// matrix between the two spaces, from the primaries of SMPTE RP 431-2 and BT.709).
func TestOutside(t *testing.T) {
	p := plates(20, 20, func(_, _, _ int) float64 { return 0 })
	for i := range p.Layers {
		p.Layers[i].Print = new(tone.Curve)
	}
	p.N, p.Table = 2, make([]float32, 3*8)
	of := func(linear [3]float64, space spectrum.RGBSpace) (bool, float64) {
		for i := range p.Table {
			p.Table[i] = float32(spectrum.EncodeSRGB(linear[i%3]))
		}
		c, across, by := Outside(p, space, 10, 10)
		if out := c == OutsideColour; out == (across == OutsideColour) || out != (by > OutsideFrom) {
			t.Errorf("%v: %v, across %v, by %g", linear, c, across, by)
		}
		return c == OutsideColour, by
	}
	red := [3]float64{1.2249 * 0.7, -0.0420 * 0.7, -0.0197 * 0.7}
	if out, _ := of(red, spectrum.SRGB); !out {
		t.Error("seven tenths of the red of P3 are within sRGB")
	}
	if out, by := of(red, spectrum.DisplayP3); out {
		t.Errorf("they are outside P3, by %g", by)
	}
	for _, space := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		if out, _ := of([3]float64{0.4, 0.4, 0.4}, space); out {
			t.Errorf("a grey is outside %s", space.Name)
		}
		if out, _ := of([3]float64{-0.05, 0.9, -0.1}, space); !out {
			t.Errorf("a strong green is within %s", space.Name)
		}
	}
}
