package spread

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// none leaves nothing open.
var none = Unknowns{Scatter: 1, Surface: 1}

// placeOf is a tone of the neutral scale of a palette, tuned.
func placeOf(t testing.TB, id string, tone01 float64) Place {
	t.Helper()
	palette, ok := pigment.PaletteByID(id)
	if !ok {
		t.Fatal(id)
	}
	p := Place{Recipe: stack.DefaultRecipe(palette), Light: spectrum.Lights()[0]}
	scale := balance.Neutral(p.Recipe, p.Light, balance.DefaultLimit)
	for i := range 3 {
		r := relief.Of(palette.Layer(pigment.Printer(i)))
		l := relief.Tuned(r, r, func(u float64) float64 { return scale.Thickness(u)[i] }, 0)
		p.Amount[i], p.PerStop[i], p.PerScene[i], p.HoldOn[i] = l.Hardened(tone01), r.PerStop(), l.PerScene(tone01), r.HoldOn/r.Coat
	}
	return p
}

func TestUsualSpread(t *testing.T) {
	for _, p := range pigment.Palettes() {
		for _, tone := range []float64{0.1, 0.5, 0.9} {
			place := placeOf(t, p.ID, tone)
			s := Usual.Of(place)
			t.Logf("%-10s tone %.1f: %s", p.ID, tone, s.Words())
			largest, sum := 0.0, 0.0
			for i, c := range s.Causes {
				largest, sum = max(largest, c.DeltaE), sum+c.DeltaE
				if i > 0 && c.DeltaE > s.Causes[i-1].DeltaE {
					t.Errorf("%s: causes are out of order", p.ID)
				}
			}
			// Independent causes together move more than any alone and less than all
			// at their worst at once.
			if !(s.DeltaE > 0.8*largest && s.DeltaE < sum) {
				t.Errorf("%s at %g: %.2f in all, %.2f the largest, %.2f the sum", p.ID, tone, s.DeltaE, largest, sum)
			}
			if !(s.L[0] < s.Likely[0] && s.Likely[0] < s.L[1]) {
				t.Errorf("%s at %g: L* %.1f between %.1f", p.ID, tone, s.Likely[0], s.L)
			}
			if again := Usual.Of(place); again.DeltaE != s.DeltaE || again.L != s.L || again.Words() != s.Words() {
				t.Errorf("%s: another answer to the same question", p.ID)
			}
		}
	}
}

// One cause alone: nine of ten cases of a normal spread lie within its half width,
// so the figure lies between the two ends moved by hand.
func TestOneCauseAgainstItsEnds(t *testing.T) {
	place := placeOf(t, "chrome", 0.5)
	place.HoldOn = [3]float64{}
	d := newDrawer(place)
	likely := d.look(d.likely())
	ends := func(change func(c *drawn, sign float64)) (least, most float64) {
		least = math.Inf(1)
		for _, sign := range []float64{-1, 1} {
			c := d.likely()
			change(&c, sign)
			e := spectrum.DeltaE00(likely, d.look(c))
			least, most = min(least, e), max(most, e)
		}
		return least, most
	}
	for _, c := range []struct {
		what   string
		u      Unknowns
		change func(c *drawn, sign float64)
	}{
		{CauseAmount, Unknowns{Amount: 0.2, Scatter: 1, Surface: 1}, func(c *drawn, s float64) { c.load[2] = math.Pow(1.2, s) }},
		{CauseExposure, Unknowns{Exposure: 0.2, Scatter: 1, Surface: 1}, func(c *drawn, s float64) { c.amount[2] += 0.2 * s * place.PerStop[2] }},
		{CauseScatter, Unknowns{Scatter: 3, Surface: 1}, func(c *drawn, s float64) { c.scatter[2] = math.Pow(3, s) }},
	} {
		least, most := ends(c.change)
		for _, got := range c.u.Of(place).Causes {
			if got.Layer != "cyan" {
				continue
			}
			t.Logf("%s of cyan: %.2f, its ends %.2f and %.2f", c.what, got.DeltaE, least, most)
			if got.What != c.what || !(got.DeltaE > 0.8*least && got.DeltaE < 1.2*most) {
				t.Errorf("%+v, ends %.2f and %.2f", got, least, most)
			}
		}
	}
}

func TestNothingOpenNothingMoves(t *testing.T) {
	s := none.Of(placeOf(t, "lemon", 0.5))
	if s.DeltaE != 0 || len(s.Causes) != 0 || s.L[0] != s.L[1] || !strings.Contains(s.Words(), "Nothing") {
		t.Errorf("%+v: %s", s, s.Words())
	}
}

// Common practice: the lightest tones stand or fall with the exposure and the wash,
// the deep blacks with scatter and surface.
func TestWhatMovesWhat(t *testing.T) {
	of := func(s Sure, what string) float64 {
		most := 0.0
		for _, c := range s.Causes {
			if c.What == what {
				most = max(most, c.DeltaE)
			}
		}
		return most
	}
	light, black := Usual.Of(placeOf(t, "chrome", 0.08)), Usual.Of(placeOf(t, "chrome", 1))
	if !(of(light, CauseExposure) > 3*of(black, CauseExposure)) {
		t.Errorf("exposure: %.2f in the highlights, %.2f in the black", of(light, CauseExposure), of(black, CauseExposure))
	}
	if !(of(black, CauseSurface) > 3*of(light, CauseSurface) && of(black, CauseScatter) > of(light, CauseScatter)) {
		t.Errorf("surface %.2f and %.2f, scatter %.2f and %.2f", of(light, CauseSurface), of(black, CauseSurface), of(light, CauseScatter), of(black, CauseScatter))
	}
	// A measured hold-on leaves nothing of the wash open.
	known := placeOf(t, "chrome", 0.08)
	known.HoldKnown = [3]bool{true, true, true}
	if got := of(Usual.Of(known), CauseHoldOn); got != 0 || of(light, CauseHoldOn) == 0 {
		t.Errorf("wash %.2f, measured %.2f", of(light, CauseHoldOn), got)
	}
	// The spectra of memory are less sure than fitted ones.
	memory := pigment.Palette{Cyan: pigment.NewTissue(pigment.Share{CI: "PB24", Share: 1})}
	fitted := pigment.Palette{Cyan: pigment.NewTissue(pigment.Share{CI: "PB15:3", Share: 1})}
	if a, _ := bandShift(memory, pigment.Cyan); a <= func() float64 { b, _ := bandShift(fitted, pigment.Cyan); return b }() {
		t.Error("a spectrum from memory is as sure as a fitted one")
	}
}

// A tissue whose fit left little open leaves little open in the proof: its coats, and
// what it scatters; never more than is doubted without a fit.
func TestMeasuredNarrows(t *testing.T) {
	p := placeOf(t, "chrome", 0.6)
	for _, printer := range pigment.Printers() {
		tissue := p.Recipe.Palette.Layer(printer)
		k, s := tissue.KS()
		tissue.Load, tissue.Haze, tissue.Measured = 1, 1, &pigment.Spectra{K: k, S: s, KSigma: 0.005, SSigma: 0.05}
		p.Recipe.Palette = p.Recipe.Palette.WithLayer(printer, tissue)
	}
	all := func(p Place) (out [3]float64) {
		for _, c := range Usual.Of(p).Causes {
			for i, what := range []string{CauseAmount, CauseScatter, CauseSpectra} {
				if c.What == what {
					out[i] = max(out[i], c.DeltaE)
				}
			}
		}
		return out
	}
	before := all(p)
	p.Recipe.Palette.Measured = &pigment.Measurement{Way: "spectra", Coat: 0.01}
	after := all(p)
	if !(after[0] < before[0]/3 && after[1] < before[1]/3 && after[2] == 0 && before[2] > 0) {
		t.Errorf("amount, scatter, spectra: %.2f before, %.2f measured", before, after)
	}
	p.Recipe.Palette.Measured.Coat = 0.5
	if got := all(p); got[0] > before[0]*1.001 {
		t.Errorf("amounts are doubted more than before: %.2f, %.2f", got[0], before[0])
	}
}

// What was judged by eye leaves each layer as sure as the eye was: more than is usually taken, or
// less.
func TestByEyeIsAsSureAsItSays(t *testing.T) {
	p := placeOf(t, "arylide", 0.5)
	usual := Usual.Of(p).DeltaE
	of := func(doubt float64) float64 {
		p.Recipe.Palette.Measured = &pigment.Measurement{Way: pigment.Eye, Doubt: [3]float64{doubt, doubt, doubt}}
		return Usual.Of(p).DeltaE
	}
	if little, much := of(0.03), of(0.3); !(little < usual && usual < much) {
		t.Errorf("ΔE00 %.1f where little is open, %.1f as usual, %.1f where much is", little, usual, much)
	}
	// Nine of ten cases lie within 1.645 standard deviations (normal distribution).
	if u := Usual.measured(p.Recipe.Palette, pigment.Cyan); math.Abs(math.Log(1+u.Amount)-0.3*1.645) > 1e-3 {
		t.Errorf("a share of %.3f", u.Amount)
	}
}

// The usual doubts and none lie within the bounds, and every field has some.
func TestBounds(t *testing.T) {
	bounds := Bounds()
	for _, u := range []Unknowns{Usual, none} {
		v := reflect.ValueOf(u)
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			b, ok := bounds[name]
			if x := v.Field(i).Float(); !ok || x < b.Least || x > b.Most || b.Name == "" {
				t.Errorf("%s: %g within %+v", name, x, b)
			}
		}
		if v.NumField() != len(bounds) {
			t.Errorf("%d bounds of %d fields", len(bounds), v.NumField())
		}
	}
}

func BenchmarkUsual(b *testing.B) {
	p := placeOf(b, "earth", 0.5)
	for b.Loop() {
		Usual.Of(p)
	}
}

// A batch that went light or heavy, all layers exposed alike and loaded alike.
func TestEndsOfABatch(t *testing.T) {
	p := placeOf(t, "chrome", 0.5)
	look := func(r stack.Recipe, stops float64) float64 {
		x := p.Amount
		for i := range x {
			x[i] += stops * p.PerStop[i]
		}
		return p.Light.Lab(r.Reflectance(x))[0]
	}
	light, stops := Usual.Lighter(p.Recipe)
	heavy, more := Usual.Heavier(p.Recipe)
	if a, b, c := look(light, stops), look(p.Recipe, 0), look(heavy, more); !(a > b+1 && b > c+1) {
		t.Errorf("L* %.1f, %.1f, %.1f", a, b, c)
	}
}
