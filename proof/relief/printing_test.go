package relief

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/tone"
)

var (
	negative = tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}
	positive = tone.Film{White: 0.1, Black: 1.9, Gamma: 1}
)

func half(u float64) float64 { return 0.8 * u }

// Behind a negative the height is linear in its density: the straight line of
// carbon, from Hurter and Driffield's densities and the working curve.
func TestStraightIsLinearInDensity(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24}
	l := Straight(negative, r, 0, MidGrey, half, 0)
	a := l.Amount(1)
	for d := 0.8; d < 1.2; d += 0.05 {
		if want := a - (d-1)*8*math.Ln10/24; math.Abs(l.Amount(d)-want) > 1e-9 {
			t.Errorf("density %.2f: %g, want %g", d, l.Amount(d), want)
		}
	}
	if got := l.Amount(DensityOf(negative, MidGrey)); math.Abs(got-half(MidGrey)) > 1e-6 {
		t.Errorf("the mid grey prints %g, want %g", got, half(MidGrey))
	}
}

// Enlarged to the range of the tissue's 80 % a negative prints from nothing to
// there whatever its own range was.
func TestStraightEnlarged(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24}
	for _, film := range []tone.Film{negative, positive, {Negative: true, White: 0.9, Black: 0.2, Gamma: 0.5}} {
		l := Straight(film, r, 0.8*r.Range(), 1, half, 0)
		if got := l.Amount(film.Black); math.Abs(got-0.8) > 1e-6 {
			t.Errorf("%+v: black prints %g", film, got)
		}
		if got := l.Amount(film.White); got > 1e-6 {
			t.Errorf("%+v: white prints %g", film, got)
		}
	}
}

// A stop more adds D_p ln 2 everywhere between nothing and the coat.
func TestStops(t *testing.T) {
	r := Response{Depth: 8, Threshold: 5, Coat: 24}
	plain, more := Straight(negative, r, 0, MidGrey, half, 0), Straight(negative, r, 0, MidGrey, half, 1)
	if by := more.Amount(1) - plain.Amount(1); math.Abs(by-r.PerStop()) > 1e-9 {
		t.Errorf("a stop adds %g, want %g", by, r.PerStop())
	}
	if got := more.Exposure() / plain.Exposure(); math.Abs(got-2) > 1e-9 {
		t.Errorf("a stop is %g times the exposure", got)
	}
	twice := r
	twice.Threshold *= 2
	if got := Straight(negative, twice, 0, MidGrey, half, 0).Exposure() / plain.Exposure(); math.Abs(got-2) > 1e-9 {
		t.Errorf("a tissue of half the speed takes %g times the exposure", got)
	}
}

// No layer is higher than its coat and nothing thinner than the hold-on stays; what
// becomes of a place is told.
func TestFates(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24, HoldOn: 2}
	l := Straight(negative, r, 2.5, MidGrey, half, 0.5)
	seen := map[Fate]int{}
	for d := 0.0; d <= 2; d += 0.001 {
		a, f := l.Amount(d), l.Fate(d)
		seen[f]++
		switch {
		case a < 0 || a > 1:
			t.Fatalf("density %.3f: %g of the coat", d, a)
		case a > 0 && a*24 < 2-1e-6:
			t.Fatalf("density %.3f: %g µm stay, below the hold-on", d, a*24)
		case f == Blocked && a != 1, f == Lost && a != 0:
			t.Fatalf("density %.3f: %s at %g", d, f, a)
		case f == Lost && d >= negative.White:
			t.Fatalf("density %.3f is white, yet lost", d)
		}
	}
	if seen[Held] == 0 || seen[Lost] == 0 || seen[Blocked] == 0 {
		t.Fatalf("seen %v", seen)
	}
	lost, blocked := l.Ends(0, 2)
	for d := 0.0; d <= 2; d += 0.01 {
		if in := d >= lost[0]-1e-3 && d <= lost[1]+1e-3; (l.Fate(d) == Lost) && !in {
			t.Errorf("density %.2f is lost outside %.3f", d, lost)
		}
		if in := d >= blocked[0]-1e-3 && d <= blocked[1]+1e-3; (l.Fate(d) == Blocked) && !in {
			t.Errorf("density %.2f is blocked outside %.3f", d, blocked)
		}
	}
	for f, want := range map[Fate]string{Held: "held", Lost: "lost", Blocked: "blocked"} {
		if f.String() != want {
			t.Error(f)
		}
	}
}

// scaleOf is the neutral scale and the response of each layer of a palette.
func scaleOf(t *testing.T, id string) (*stack.Layers, balance.Scale, [3]Response) {
	t.Helper()
	p, ok := pigment.PaletteByID(id)
	if !ok {
		t.Fatal(id)
	}
	r := stack.DefaultRecipe(p)
	var all [3]Response
	for i := range all {
		all[i] = Of(p.Layer(pigment.Printer(i)))
	}
	return r.Layers(), balance.Neutral(r, spectrum.Lights()[0], balance.DefaultLimit), all
}

// difference is the CIEDE2000 of two ways of printing a tone, by layer.
func difference(l *stack.Layers, a, b func(i int) float64) float64 {
	d50 := spectrum.Lights()[0]
	lab := func(f func(i int) float64) spectrum.Lab {
		return d50.Lab(l.Reflectance([3]float64{f(0), f(1), f(2)}))
	}
	return spectrum.DeltaE00(lab(a), lab(b))
}

// Tuned at the normal exposure is the neutral scale itself, but for what the wash
// takes; straight is not: its mid-tones lean and its ends miss (common practice). It is
// exposed for a middle grey here; for the black it lies twice as far and more (package
// picture, TestStraightAgainstTuned).
func TestTunedIsNeutralAndStraightIsNot(t *testing.T) {
	for _, p := range pigment.Palettes() {
		layers, scale, r := scaleOf(t, p.ID)
		sum, n, worst := 0.0, 0.0, 0.0
		for u := 0.0; u <= 1; u += 0.02 {
			wanted := func(i int) float64 { return scale.Thickness(u)[i] }
			tuned := func(i int) float64 {
				whole := r[i]
				whole.HoldOn = 0
				return Tuned(whole, whole, func(u float64) float64 { return scale.Thickness(u)[i] }, 0).Amount(u)
			}
			straight := func(i int) float64 {
				return Straight(negative, r[i], 1.3, MidGrey, func(u float64) float64 { return scale.Thickness(u)[i] }, 0).Amount(DensityOf(negative, u))
			}
			worst = max(worst, difference(layers, tuned, wanted))
			sum, n = sum+difference(layers, straight, wanted), n+1
		}
		t.Logf("%-10s straight prints ΔE00 %.1f off in the mean, tuned %.4f at most", p.ID, sum/n, worst)
		if !(worst < 0.01) {
			t.Errorf("%s: tuned prints %.3f off", p.ID, worst)
		}
		if !(sum/n > 2) {
			t.Errorf("%s: straight prints only %.2f off", p.ID, sum/n)
		}
	}
}

// Derived from the working curve: at a range of 1.3 the way from paper to L* 80
// spans about log 0.065, a fifth of a stop, so that a tenth of a stop is seen
// there and hardly in the shadows.
func TestATenthOfAStopShowsInTheHighlights(t *testing.T) {
	layers, scale, r := scaleOf(t, "arylide")
	d50 := spectrum.Lights()[0]
	span := 0.0
	for u := 0.0; u < 1; u += 0.001 {
		x := scale.Thickness(u)
		if d50.Lab(layers.Reflectance(x))[0] <= 80 {
			for _, v := range x {
				span += 1.3 * v / 3
			}
			break
		}
	}
	t.Logf("paper to L* 80 spans log %.3f at a range of 1.3", span)
	if !(span > 0.04 && span < 0.1) {
		t.Errorf("paper to L* 80 spans log %.3f, want about 0.065", span)
	}
	at := func(u, stops float64) func(i int) float64 {
		return func(i int) float64 {
			return Tuned(r[i], r[i], func(u float64) float64 { return scale.Thickness(u)[i] }, stops).Amount(u)
		}
	}
	light, dark := difference(layers, at(0.25, 0.1), at(0.25, 0)), difference(layers, at(0.95, 0.1), at(0.95, 0))
	t.Logf("a tenth of a stop: ΔE00 %.1f in the highlights, %.1f in the shadows", light, dark)
	if !(light > 1 && dark < light/2) {
		t.Errorf("ΔE00 %.2f in the highlights, %.2f in the shadows", light, dark)
	}
}

// The wash takes the lightest tones of a tuned print in one step to the bare paper.
func TestTunedLosesTheLightest(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24, HoldOn: 1.2}
	l := Tuned(r, r, half, 0)
	edge := 1.2 / 24 / 0.8
	if l.Amount(edge-1e-4) != 0 || l.Fate(edge-1e-4) != Lost || math.Abs(l.Amount(edge+1e-4)-0.05) > 1e-3 {
		t.Errorf("about the hold-on: %g and %g", l.Amount(edge-1e-4), l.Amount(edge+1e-4))
	}
	if l.Fate(0) != Held || l.Amount(0) != 0 {
		t.Error("white is lost")
	}
	if l.Amount(1) != 0.8 && math.Abs(l.Amount(1)-0.8) > 1e-9 {
		t.Errorf("black prints %g", l.Amount(1))
	}
	if over := Tuned(r, r, func(u float64) float64 { return u }, 0.5); over.Fate(1) != Blocked || over.Amount(1) != 1 {
		t.Error("what is over-exposed does not block")
	}
}

// A negative drawn for a tissue of one depth prints another with another contrast.
func TestTunedForAnotherTissue(t *testing.T) {
	drawn, is := Response{Depth: 8, Threshold: 1, Coat: 24}, Response{Depth: 6, Threshold: 1, Coat: 24}
	l := Tuned(drawn, is, half, 0)
	for _, u := range []float64{0.2, 0.5, 0.9} {
		if got, want := l.Amount(u), half(u)*6/8; math.Abs(got-want) > 1e-9 {
			t.Errorf("tone %g prints %g, want %g", u, got, want)
		}
	}
}

// A stop of the scene is gamma log 2 of density on the plate; the tuned print moves
// along its scale.
func TestPerScene(t *testing.T) {
	r := Response{Depth: 8, Threshold: 1, Coat: 24}
	l := Straight(negative, r, 0, MidGrey, half, 0)
	if got, want := l.PerScene(1), -0.8*math.Log10(2)*8*math.Ln10/24; math.Abs(got-want) > 1e-6 {
		t.Errorf("straight: %g a stop, want %g", got, want)
	}
	u := tone.Depth01(0.18)
	want := (half(tone.Depth01(0.18*math.Exp2(0.1))) - half(tone.Depth01(0.18*math.Exp2(-0.1)))) / 0.2
	if got := Tuned(r, r, half, 0).PerScene(u); math.Abs(got-want) > 1e-9 {
		t.Errorf("tuned: %g a stop, want %g", got, want)
	}
	washed := r
	washed.HoldOn = 23
	if w := Straight(negative, washed, 0, MidGrey, half, 0); w.Hardened(1) != l.Hardened(1) || w.Amount(1) != 0 {
		t.Error("the wash is taken before it is")
	}
}

// The density that a tuned negative has more than at its clearest takes the light away by
// what the working curve asks for: (coat - height) / (D_p ln 10), heights by Jacobs'
// equation (see TestWorkingCurveOfJacobs), density by ISO 5-2.
func TestDensityOfATunedNegative(t *testing.T) {
	r := Response{Depth: 8, Threshold: 3, Coat: 24}
	l := Tuned(r, r, half, 0)
	for _, u := range []float64{0.1, 0.25, 0.5, 0.75, 1} {
		if got, want := l.Negative(u), (24*half(1)-24*half(u))/(8*math.Ln10); math.Abs(got-want) > 1e-9 {
			t.Errorf("tone %g: density %.4f, want %.4f", u, got, want)
		}
	}
}
