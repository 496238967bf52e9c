package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/linear"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// How far the eye is taken to be off: standard deviations (assumed).
const (
	eyeLight   = 0.03      // log exposure, besides that steps are as wide as they are
	eyeDensity = 0.06      // of a grey that is matched
	eyeGrey    = 1.2       // a* and b* of a grey, beside others, and
	eyeStep    = 15.0      // as many times the step by which these differ
	eyeToe     = 0.05      // log exposure from where a layer begins to where it is seen, and by how much this is off
	eyeLoad    = 0.35      // log of a load, before anything is seen
	eyeApart   = 0.05      // density that two patches must differ by to be told apart, at some distance
	eyeSteps   = 20        // of the search
	eyeDraws   = 24        // cases that tell what to expect
	eyeScatter = 1.0986123 // log S: a factor three
)

// How much nearer the truth is taken to lie to what one earlier sheet told by eye; see nearer.
const (
	againLight = 0.05 // log exposure
	againLoad  = 0.1  // log of a load
)

// againGrey is by how much a* and b* of a grey that one earlier sheet told to be neutral are taken
// to be off: of the light, the middle and the deep block. They are about as sure as those of the
// sheet at hand, so that what all sheets told counts alike.
var againGrey = [3]float64{1.5, 1.2, 1.5}

// When no other sheet is asked for, each laid by the one before (assumed). Coats differ by some
// percent from sheet to sheet, so that two which agree may both be off.
const (
	enoughTold = 2    // sheets that tell which grey of a block is neutral
	mostMoved  = 4    // a* and b* by which a sheet moves the greys that those before told to be neutral
	mostSpread = 1    // standard deviation of a* and b* of the deep greys, which are known last
	deeper     = 0.08 // log exposure beyond the middle of the deep block at which they are looked at too
)

// glance is what is looked for by eye. The unknowns stand by kind, three of each, one a layer:
// the log exposure at which it begins, that from which on it has all that the base exposure
// leaves, the logarithm of its load against what the palette had, and the waves by which its
// curve departs from the one that is likely; see course.
type glance struct {
	sheet   *testsheet.Sheet
	recipe  stack.Recipe
	wedges  [3][]testsheet.Patch // the most light first
	facts   []fact
	filters spectrum.Status
	light   spectrum.Light
	paper   spectrum.Lab // bare
	black   float64      // L* of the whole coats
	likely  [3]course
	layers  *stack.Layers // of the palette's own loads
}

// fact is one thing that was seen: how far, in standard deviations, the unknowns, and the print
// that they make, miss it; of a colour in two directions.
type fact func(x []float64, l *likeness) (misses []float64)

// BySight finds first curves and loads of a recipe's palette from what the eye told of its
// sheet: where each layer begins, from where on it is through, one match of its depth, and
// which greys are neutral in the light, the middle and the dark. A curve bends between the two
// so that those greys come out neutral; spectra and scattering stay what they were. What an
// earlier sheet told by eye of the palette is taken into account. A match is read as a density
// of status A through the layer's own filter. The error names the layer and says what to do.
func BySight(sheet testsheet.Sheet, seen pigment.Seen, recipe stack.Recipe) (*Result, error) {
	g := &glance{sheet: &sheet, recipe: recipe}
	g.filters, _ = spectrum.StatusByID("A")
	g.light, _ = spectrum.LightByID("D50")
	g.layers = recipe.Layers()
	g.paper, g.black = g.light.Lab(g.layers.Reflectance([3]float64{})), g.light.Lab(g.layers.Reflectance([3]float64{1, 1, 1}))[0]
	x := make([]float64, unknowns)
	for l := range 3 {
		if err := g.layer(pigment.Printer(l), seen.Layer(pigment.Printer(l)), x); err != nil {
			return nil, err
		}
	}
	told, err := g.neutrals(seen)
	if err != nil {
		return nil, err
	}
	x, cov := g.search(x)
	return g.result(x, cov, seen, told), nil
}

// step finds a step of a layer's wedge, by its place.
func (g *glance) step(p pigment.Printer, id, what string) (int, error) {
	w := g.wedges[p]
	i := slices.IndexFunc(w, func(q testsheet.Patch) bool { return q.ID == id })
	if i < 0 {
		var ids []string
		for _, q := range w {
			ids = append(ids, q.ID)
		}
		if id == "" {
			return 0, fmt.Errorf("%s layer: say %s; its steps, the most light first, are %s", p, what, strings.Join(ids, ", "))
		}
		return 0, fmt.Errorf("%s layer: “%.10s” is none of its steps; the most light first, they are %s", p, id, strings.Join(ids, ", "))
	}
	return i, nil
}

// layer takes what was seen of one, and begins its unknowns with it.
func (g *glance) layer(p pigment.Printer, s pigment.SeenLayer, x []float64) error {
	w := g.sheet.Wedge(p)
	g.wedges[p] = w
	if len(w) < leastSteps {
		return fmt.Errorf("the plan has %d steps of the %s wedge; it takes %d or more", len(w), p, leastSteps)
	}
	held, err := g.step(p, s.Held, "which is the lightest that left something")
	if err != nil {
		return err
	}
	last, err := g.step(p, s.Last, "which is the darker of the last two that can be told apart")
	if err != nil {
		return err
	}
	if last >= held {
		return fmt.Errorf("%s layer: %s, the last that can be told from the one before, must have more light than %s, the first that held; are they exchanged?", p, s.Last, s.Held)
	}
	light := func(i int) float64 { return w[min(i, len(w)-1)].LogE[p] }
	begins, wide := (light(held)+light(held+1))/2, light(held)-light(held+1)
	if held == len(w)-1 { // it held down to the last step, and begins somewhere below
		wide = light(held-1) - light(held)
		begins = light(held) - wide/2
	}
	x[p] = begins - eyeToe
	off := math.Hypot(wide/math.Sqrt(12), eyeLight)
	seen := g.justSeen(p, 0)
	g.facts = append(g.facts, func(x []float64, l *likeness) []float64 {
		return []float64{(where(l.curves[p], seen*math.Exp(-x[6+p])) - begins) / off}
	})
	ends, wide := 0.0, light(last)-light(last+1)
	blind := -begins * g.justSeen(p, 1) // log exposure that adds nothing that is seen
	if last > 0 {                       // more is left at it than at the one before, and above no more is seen
		ends = min((light(last)+light(last+1))/2+blind, 0)
	}
	again := g.before(p, x)
	if !again {
		x[3+p] = ends
		g.near(3+int(p), ends, math.Hypot(math.Hypot(wide/math.Sqrt(12), blind/2), eyeLight))
	}
	if s.Match == "" && s.Density == 0 {
		return nil
	}
	match, err := g.step(p, s.Match, "which looks as dark as the grey")
	if err != nil {
		return err
	}
	if match > held {
		return fmt.Errorf("%s layer: %s, which looks as dark as a grey, must have as much light as %s, the first that held, or more", p, s.Match, s.Held)
	}
	paper := g.density(p, g.layers.Reflectance([3]float64{}))
	if !(s.Density > paper && s.Density <= pigment.MostMatched) {
		return fmt.Errorf("%s layer: a grey of density %g; give that of a grey darker than the paper, which has %.2f, and at most %d", p, s.Density, paper, pigment.MostMatched)
	}
	if !again {
		g.facts = append(g.facts, func(_ []float64, l *likeness) []float64 {
			return []float64{(g.density(p, l.see(w[match])) - s.Density) / eyeDensity}
		})
	}
	return nil
}

// near is what is taken to be likely of one unknown.
func (g *glance) near(i int, at, sigma float64) {
	g.facts = append(g.facts, func(x []float64, _ *likeness) []float64 { return []float64{(x[i] - at) / sigma} })
}

// before is what is taken to be likely of a layer's load and curve. Where an earlier sheet told
// them by eye, which again says, they are near to what it told: its greys have corrected them
// since it was seen where a layer is through, and how dark it is.
func (g *glance) before(p pigment.Printer, x []float64) (again bool) {
	i := int(p)
	t := g.recipe.Palette.Layer(p)
	m := g.recipe.Palette.Measured
	again = m != nil && m.Way == pigment.Eye && len(t.Hardening.Wedge) > 2
	wave, load := eyeWave, eyeLoad
	if again {
		nearer := g.nearer()
		wave, load = againWave*nearer, againLoad*nearer
		g.likely[p], x[3+i] = courseOf(t)
		g.near(i, t.Hardening.Wedge[0].LogExposure, againLight*nearer)
		g.near(3+i, x[3+i], againLight*nearer)
	} else {
		g.likely[p] = firstCourse()
		g.near(i, x[i], eyeToe)
	}
	g.likely[p].wave = wave
	g.near(6+i, 0, load)
	for k := range waves {
		g.near(9+3*k+i, 0, 1)
	}
	return again
}

// density is that of a reflectance through a layer's filter.
func (g *glance) density(p pigment.Printer, r spectrum.Curve) float64 {
	return g.filters.Densities(r)[filter.Of(p)]
}

// justSeen is the amount that the bottom of a layer's wedge, from nothing, or its top, to the
// whole coat, must have more to be seen.
func (g *glance) justSeen(p pigment.Printer, top float64) float64 {
	const more = 0.1
	at := func(t float64) float64 {
		var amounts [3]float64
		amounts[p] = t
		return g.density(p, g.layers.Reflectance(amounts))
	}
	return min(more*eyeApart/max(at(more+top*(1-more))-at(top*(1-more)), eyeApart/3), 0.3)
}

// search finds the unknowns that miss least, by K. Levenberg and D. W. Marquardt (J. SIAM 11,
// 1963, 431), and their covariance there.
func (g *glance) search(x []float64) (best, cov []float64) {
	misses := func(x []float64) []float64 {
		out, l := make([]float64, 0, 2*len(g.facts)), g.print(x)
		for _, f := range g.facts {
			out = append(out, f(x, l)...)
		}
		return out
	}
	within := func(x []float64) {
		for i := range 3 {
			x[3+i] = min(x[3+i], 0)
			for k := range waves {
				x[9+3*k+i] = min(max(x[9+3*k+i], -mostWave), mostWave)
			}
		}
	}
	return linear.LeastSquares(x, misses, within, eyeSteps)
}

// expected is the ΔE00 that overprints which are held out would show on average: cases are
// drawn from what the eye leaves open, and from what scattering and bands may be.
func (g *glance) expected(x, cov []float64) float64 {
	n := len(x)
	root := cholesky(cov, n)
	light := g.light
	random := rand.New(rand.NewPCG(testsheet.Seed, 1))
	now := g.print(x)
	var likely []spectrum.Lab
	var held []testsheet.Patch
	for _, p := range g.sheet.Patches {
		if p.Use == testsheet.HeldOut {
			held = append(held, p)
			likely = append(likely, light.Lab(now.see(p)))
		}
	}
	if len(held) == 0 {
		return 0
	}
	sum := 0.0
	for range eyeDraws {
		z, drawn := make([]float64, n), slices.Clone(x)
		for i := range z {
			z[i] = random.NormFloat64()
			for j := range i + 1 {
				drawn[i] += root[i*n+j] * z[j]
			}
		}
		drawnFrom := *g
		for _, p := range pigment.Printers() {
			t := g.recipe.Palette.Layer(p)
			t.Haze *= math.Exp(eyeScatter * max(min(random.NormFloat64(), 2), -2))
			k, scatter := t.KS()
			t.Measured, t.Load, t.Haze = &pigment.Spectra{K: shifted(k, otherMake*random.NormFloat64()), S: scatter}, 1, 1
			drawnFrom.recipe.Palette = drawnFrom.recipe.Palette.WithLayer(p, t)
		}
		drawnFrom.layers = drawnFrom.recipe.Layers()
		l := drawnFrom.print(drawn)
		for i, p := range held {
			sum += spectrum.DeltaE00(likely[i], light.Lab(l.see(p)))
		}
	}
	return sum / float64(eyeDraws*len(held))
}

// shifted is a curve whose bands lie so many nm further to the red; beyond its ends it stays.
func shifted(c spectrum.Curve, nm float64) spectrum.Curve {
	return spectrum.Sample(func(at float64) float64 {
		x := min(max((at-nm-spectrum.First)/spectrum.Step, 0), spectrum.N-1)
		i := min(int(x), spectrum.N-2)
		return c[i] + (x-float64(i))*(c[i+1]-c[i])
	})
}

// cholesky is the lower root of a covariance.
func cholesky(cov []float64, n int) []float64 {
	root := make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			v := cov[i*n+j]
			for k := range j {
				v -= root[i*n+k] * root[j*n+k]
			}
			if i == j {
				root[i*n+i] = math.Sqrt(max(v, 0))
			} else if root[j*n+j] > 0 {
				root[i*n+j] = v / root[j*n+j]
			}
		}
	}
	return root
}
