package spread

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Place is one place of a print, which is asked about.
type Place struct {
	Recipe stack.Recipe
	Light  spectrum.Light
	Amount [3]float64 // relative thickness that the negatives ask for, by printer, before the wash

	PerStop   [3]float64 // by how much of the coat a layer grows for a stop of its exposure (relief.Response.PerStop)
	PerScene  [3]float64 // for a stop of the scene on its plate, in the print as it is made
	HoldOn    [3]float64 // share of the coat: the thinnest layer that stays, as it is taken to be
	HoldKnown [3]bool    // HoldOn was measured
}

// The causes, as they are called.
const (
	CauseAmount   = "pigment"
	CauseExposure = "exposure"
	CauseLevels   = "levels"
	CauseSpectra  = "spectra"
	CauseScatter  = "scatter"
	CausePaper    = "paper"
	CauseSurface  = "surface"
	CauseHoldOn   = "wash"
)

// Sure is how sure the colour of a place is.
type Sure struct {
	Likely spectrum.Lab
	DeltaE float64    // nine of ten cases lie within this CIEDE2000 of Likely
	L      [2]float64 // and nine of ten between these L*
	Causes []Cause    // each alone, strongest first; DeltaE as above
}

// Words says what the figures mean.
func (s Sure) Words() string {
	if len(s.Causes) == 0 {
		return "Nothing that is left open moves this colour."
	}
	first := s.Causes[0]
	of := first.What
	if first.Layer != "" {
		of += " of the " + first.Layer + " layer"
	}
	return fmt.Sprintf("Of ten prints made with what is known, nine come within ΔE00 %.1f of this colour, between L* %.0f and %.0f. The most comes from the %s, alone %.1f.",
		s.DeltaE, s.L[0], s.L[1], of, first.DeltaE)
}

// The draws of the joint distribution and of each cause alone, and the seed: the same
// question has the same answer.
const (
	jointDraws = 400
	aloneDraws = 120
	seed       = 20
	within     = 0.90
	toSigma    = 1 / 1.6449 // half width of nine of ten to the standard deviation
)

// Of samples the joint distribution of all unknowns, and then that of each cause
// alone.
func (u Unknowns) Of(p Place) Sure {
	d := newDrawer(p)
	out := Sure{Likely: d.look(d.likely())}
	joint := rand.New(rand.NewPCG(seed, seed))
	var off, l []float64
	for range jointDraws {
		lab := d.look(u.draw(joint, &d.place, func(string, int) bool { return true }))
		off, l = append(off, spectrum.DeltaE00(out.Likely, lab)), append(l, lab[0])
	}
	slices.Sort(off)
	slices.Sort(l)
	out.DeltaE = quantile(off, within)
	out.L = [2]float64{quantile(l, (1-within)/2), quantile(l, (1+within)/2)}
	alone := func(what string, layer int) {
		r := rand.New(rand.NewPCG(seed, seed+1))
		off = off[:0]
		for range aloneDraws {
			lab := d.look(u.draw(r, &d.place, func(w string, i int) bool { return w == what && i == layer }))
			off = append(off, spectrum.DeltaE00(out.Likely, lab))
		}
		slices.Sort(off)
		c := Cause{What: what, DeltaE: quantile(off, within)}
		if layer >= 0 {
			c.Layer = pigment.Printer(layer).String()
		}
		if c.DeltaE > 0.01 {
			out.Causes = append(out.Causes, c)
		}
	}
	for _, what := range []string{CauseAmount, CauseExposure, CauseLevels, CauseSpectra, CauseScatter, CauseHoldOn} {
		for i := range 3 {
			alone(what, i)
		}
	}
	alone(CausePaper, -1)
	alone(CauseSurface, -1)
	slices.SortStableFunc(out.Causes, func(a, b Cause) int { return cmp.Compare(b.DeltaE, a.DeltaE) })
	return out
}

// quantile of a sorted list.
func quantile(sorted []float64, q float64) float64 {
	x := q * float64(len(sorted)-1)
	i := min(int(x), len(sorted)-2)
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}

// drawn is one case: what a print turned out to be made of.
type drawn struct {
	amount          [3]float64 // relative thickness, after the wash
	load, scatter   [3]float64 // factors
	shift, unwanted [3]float64 // nm, share
	paper, tilt     float64    // shares of the reflectance, even and from end to end
	surface         float64    // factor of K0
}

// draw draws a case, every number in the same order whatever is open. open tells
// which cause of which layer, -1 for the whole print, is.
func (u Unknowns) draw(r *rand.Rand, p *Place, open func(what string, layer int) bool) drawn {
	normal := func(what string, layer int) float64 {
		v := r.NormFloat64()
		if !open(what, layer) {
			return 0
		}
		return max(min(v, 3), -3) * toSigma
	}
	factor := func(f, by float64) float64 { return math.Exp(math.Log(max(f, 1)) * by) }
	var c drawn
	for i := range 3 {
		nm, unwanted := bandShift(p.Recipe.Palette, pigment.Printer(i))
		u := u.measured(p.Recipe.Palette, pigment.Printer(i))
		t := p.Amount[i] + p.PerStop[i]*u.Exposure*normal(CauseExposure, i) + p.PerScene[i]*u.Levels*normal(CauseLevels, i)
		c.load[i] = factor(1+u.Amount, normal(CauseAmount, i))
		c.scatter[i] = factor(u.Scatter, normal(CauseScatter, i))
		by := normal(CauseSpectra, i)
		c.shift[i], c.unwanted[i] = u.Spectra*nm*by, u.Spectra*unwanted*normal(CauseSpectra, i)
		hold, any := p.HoldOn[i], r.Float64()
		if open(CauseHoldOn, i) && !p.HoldKnown[i] && u.HoldOn > 0 {
			hold = u.HoldOn * any
		}
		t = min(max(t, 0), cube.Max)
		if t < hold {
			t = 0
		}
		c.amount[i] = t
	}
	c.paper, c.tilt = u.Paper*normal(CausePaper, -1), u.Paper*normal(CausePaper, -1)
	c.surface = factor(u.Surface, normal(CauseSurface, -1))
	return c
}

// drawer is a place made ready: its spectra are worked out once.
type drawer struct {
	place Place
	base  *stack.Layers
}

func newDrawer(p Place) *drawer { return &drawer{p, p.Recipe.Layers()} }

// likely is the case that the proof shows.
func (d *drawer) likely() drawn {
	return Unknowns{}.draw(rand.New(rand.NewPCG(seed, seed)), &d.place, func(string, int) bool { return false })
}

// look is the colour of a case.
func (d *drawer) look(c drawn) spectrum.Lab {
	l := *d.base
	for i := range 3 {
		if c.amount[i] == 0 {
			continue
		}
		l.K[i] = moved(d.base.K[i], c.shift[i], c.unwanted[i])
		for w := range l.K[i] {
			l.K[i][w] *= c.load[i]
			l.S[i][w] *= c.load[i] * c.scatter[i]
		}
	}
	l.Surface.K0 = min(l.Surface.K0*c.surface, 0.2)
	for w, v := range d.place.Recipe.Paper.R {
		at := (spectrum.Wavelength(w) - 555) / 175
		l.Ground[w] = l.Surface.Inside(min(max(v*(1+c.paper+c.tilt*at), 0), 1))
	}
	return d.place.Light.Lab(l.Reflectance(c.amount))
}

// moved is an absorption with its bands shifted by nm and what lies away from its
// peak scaled.
func moved(k spectrum.Curve, nm, unwanted float64) spectrum.Curve {
	if nm == 0 && unwanted == 0 {
		return k
	}
	peak := slices.Max(k[:])
	if !(peak > 0) {
		return k
	}
	var out spectrum.Curve
	for i := range out {
		x := min(max(float64(i)-nm/spectrum.Step, 0), spectrum.N-1)
		j := min(int(x), spectrum.N-2)
		v := k[j] + (x-float64(j))*(k[j+1]-k[j])
		out[i] = max(0, v*(1+unwanted*(1-v/peak)))
	}
	return out
}
