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
	eyeGrey    = 2.0       // a* and b* of a grey that looks neutral
	eyeBeyond  = 9.0       // where it lies at the end of the block: the neutral may lie beyond
	eyeLoad    = 0.35      // log of a load, before anything is seen
	eyeBend    = 0.08      // share of the coat by which a curve bends from its straight line, and
	eyeToe     = 0.04      // by which it is likely to lie below it: a toe and a shoulder
	eyeApart   = 0.05      // density that two patches must differ by to be told apart, at some distance
	eyeSteps   = 12        // of the search
	eyeDraws   = 40        // cases that tell what to expect
	eyeScatter = 1.0986123 // log S: a factor three
)

// mostBend is how far a curve can bend and still rise.
const mostBend = 0.2

// glance is what is looked for by eye: the unknowns stand as the three log exposures at
// which a layer begins, the three from which on it has all that the base exposure leaves,
// the logarithms of the three loads against what the palette had, and by how much the middle
// of each curve lies below the straight line between the two, as a share of the coat.
type glance struct {
	sheet   *testsheet.Sheet
	recipe  stack.Recipe
	wedges  [3][]testsheet.Patch // the most light first
	facts   []fact
	filters spectrum.Status
}

// fact is one thing that was seen: how far, in standard deviations, the unknowns miss it.
type fact func(x []float64) float64

// BySight finds first curves and loads of a recipe's palette from what the eye told of its
// sheet: where each layer begins, from where on it is through, one match of its depth, and
// which grey is neutral. A curve is a straight line of log exposure between the two; spectra
// and scattering stay what they were. A match is read as a density of status A through the
// layer's own filter. The error names the layer and says what to do.
func BySight(sheet testsheet.Sheet, seen pigment.Seen, recipe stack.Recipe) (*Result, error) {
	g := &glance{sheet: &sheet, recipe: recipe}
	g.filters, _ = spectrum.StatusByID("A")
	x := make([]float64, 12)
	for l := range 3 {
		if err := g.layer(pigment.Printer(l), seen.Layer(pigment.Printer(l)), x); err != nil {
			return nil, err
		}
	}
	edge, err := g.neutral(seen.Neutral)
	if err != nil {
		return nil, err
	}
	x, cov := g.search(x)
	return g.result(x, cov, seen, edge), nil
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
	x[p] = begins
	g.near(int(p), begins, math.Hypot(wide/math.Sqrt(12), eyeLight))
	ends, wide := 0.0, light(last)-light(last+1)
	blind := -begins * g.justSeen(p) // log exposure that adds nothing that is seen
	if last > 0 {                    // more is left at it than at the one before, and above no more is seen
		ends = min((light(last)+light(last+1))/2+blind, 0)
	}
	x[3+p] = ends
	g.near(3+int(p), ends, math.Hypot(math.Hypot(wide/math.Sqrt(12), blind/2), eyeLight))
	g.near(6+int(p), 0, eyeLoad)
	x[9+p] = eyeToe
	g.near(9+int(p), eyeToe, eyeBend)
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
	paper := g.density(p, x, w[len(w)-1], true)
	if !(s.Density > paper && s.Density <= pigment.MostMatched) {
		return fmt.Errorf("%s layer: a grey of density %g; give that of a grey darker than the paper, which has %.2f, and at most %d", p, s.Density, paper, pigment.MostMatched)
	}
	g.facts = append(g.facts, func(x []float64) float64 {
		return (g.density(p, x, w[match], false) - s.Density) / eyeDensity
	})
	return nil
}

// near is what is taken to be likely of one unknown.
func (g *glance) near(i int, at, sigma float64) {
	g.facts = append(g.facts, func(x []float64) float64 { return (x[i] - at) / sigma })
}

// neutral takes the grey that looks neutral, "" for none that was pointed at; edge tells that
// it lies at the end of the block.
func (g *glance) neutral(id string) (edge bool, err error) {
	if id == "" {
		return false, nil
	}
	p, ok := g.sheet.Find(id)
	if !ok || !p.InBlock() {
		return false, fmt.Errorf("“%.10s” is none of the block of greys, which the plan marks ◇", id)
	}
	sigma := eyeGrey
	if edge = p.EndsBlock(); edge {
		sigma = eyeBeyond
	}
	light, _ := spectrum.LightByID("D50")
	for _, at := range []int{1, 2} {
		g.facts = append(g.facts, func(x []float64) float64 { return light.Lab(g.see(x, p))[at] / sigma })
	}
	return edge, nil
}

// amount is what a layer has of what the base exposure leaves.
func amount(x []float64, layer int, logE float64) float64 {
	begins, ends := x[layer], x[3+layer]
	u := min(max((logE-begins)/max(ends-begins, 0.05), 0), 1)
	return u * (1 - 4*x[9+layer]*(1-u))
}

// see is the reflectance of a patch on the paper.
func (g *glance) see(x []float64, p testsheet.Patch) spectrum.Curve {
	l := g.recipe.Layers()
	var t [3]float64
	for i, has := range p.Has {
		if has {
			t[i] = amount(x, i, p.LogE[i])
			l.K[i], l.S[i] = l.K[i].Scale(math.Exp(x[6+i])), l.S[i].Scale(math.Exp(x[6+i]))
		}
	}
	return l.Reflectance(t)
}

// density is that of a step through its layer's filter, or of the bare paper.
func (g *glance) density(p pigment.Printer, x []float64, step testsheet.Patch, bare bool) float64 {
	if bare {
		step.Has = [3]bool{}
	}
	return g.filters.Densities(g.see(x, step))[filter.Of(p)]
}

// justSeen is the amount by which the top of a layer's wedge must grow to be seen.
func (g *glance) justSeen(p pigment.Printer) float64 {
	const less = 0.1
	l := g.recipe.Layers()
	at := func(t float64) float64 {
		var amounts [3]float64
		amounts[p] = t
		return g.filters.Densities(l.Reflectance(amounts))[filter.Of(p)]
	}
	return min(less*eyeApart/max(at(1)-at(1-less), eyeApart/3), 0.3)
}

// search finds the unknowns that miss least, by K. Levenberg and D. W. Marquardt (J. SIAM 11,
// 1963, 431), and their covariance there.
func (g *glance) search(x []float64) (best, cov []float64) {
	misses := func(x []float64) []float64 {
		out := make([]float64, len(g.facts))
		for i, f := range g.facts {
			out[i] = f(x)
		}
		return out
	}
	within := func(x []float64) {
		for i := 3; i < 6; i++ {
			x[i] = min(x[i], 0)
			x[6+i] = min(max(x[6+i], -mostBend), mostBend)
		}
	}
	return linear.LeastSquares(x, misses, within, eyeSteps)
}

// expected is the ΔE00 that overprints which are held out would show on average: cases are
// drawn from what the eye leaves open, and from what scattering and bands may be.
func (g *glance) expected(x, cov []float64) float64 {
	n := len(x)
	root := cholesky(cov, n)
	light, _ := spectrum.LightByID("D50")
	random := rand.New(rand.NewPCG(testsheet.Seed, 1))
	var likely []spectrum.Lab
	var held []testsheet.Patch
	for _, p := range g.sheet.Patches {
		if p.Use == testsheet.HeldOut {
			held = append(held, p)
			likely = append(likely, light.Lab(g.see(x, p)))
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
		for i, p := range held {
			sum += spectrum.DeltaE00(likely[i], light.Lab(drawnFrom.see(drawn, p)))
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
