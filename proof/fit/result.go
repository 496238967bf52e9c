package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Result is what a fit found.
type Result struct {
	Patches     []Patch          `json:"patches"`
	HeldOut     Errors           `json:"held_out"`
	Fitted      Errors           `json:"fitted"`
	Layers      map[string]Layer `json:"layers"`
	LeftAtPrior []string         `json:"left_at_prior"`
	LeftOut     []string         `json:"left_out"` // patches that do not belong to the rest, and why
	Way         string           `json:"way"`
	Optics      string           `json:"optics"`     // two-flux or angular
	Coat        float64          `json:"coat"`       // standard deviation of amounts from patch to patch, as a share
	SurfaceK0   float64          `json:"surface_k0"` // light that the surface adds
	Notes       []string         `json:"notes"`
	Sentence    string           `json:"sentence"`
	Expected    float64          `json:"expected,omitempty"` // where the way tells no spectra: the ΔE00 that is to be expected on average
	Drift       []Since          `json:"drift,omitempty"`    // against earlier measurements, where they were given

	ExposureRatio map[string]float64 `json:"exposure_ratio,omitempty"` // see Ratio

	tissues [3]pigment.Tissue
	paper   spectrum.Curve
	told    [3]float64 // how many sheets told of each block of greys
	seen    *pigment.Seen
	doubt   [3]float64 // see pigment.Measurement
	misread *Misread   // two rows that seem to be swapped

	basesKnown bool // of ExposureRatio
}

// Patch is a patch as it was measured and as it is predicted, in CIELAB under D50.
type Patch struct {
	ID        string       `json:"id"`
	Use       string       `json:"use"`
	Measured  spectrum.Lab `json:"measured_lab"`
	Predicted spectrum.Lab `json:"predicted_lab"`
	DE00      float64      `json:"de00"`
}

// Errors sum ΔE00 up; P95 is what 95 of 100 lie within.
type Errors struct {
	Mean float64 `json:"mean"`
	P95  float64 `json:"p95"`
	Max  float64 `json:"max"`
	N    int     `json:"n"`
}

// Layer is what was found of one tissue. Log exposures count from the base exposure.
type Layer struct {
	Load         float64 `json:"load"`          // against the pigment as tabulated; see pigment.Tissue
	Scatter      float64 `json:"scatter"`       // S against what the palette had
	ScatterSigma float64 `json:"scatter_sigma"` // standard deviation of its natural logarithm
	LoadSigma    float64 `json:"load_sigma"`    // of the load's, where the amount is known
	Threshold    float64 `json:"threshold"`     // the least log exposure that leaves something
	HoldOn       float64 `json:"hold_on"`       // the least amount that was left
	Through      bool    `json:"through"`       // more exposure than the base leaves no more: the coat is through
	Curve        []Step  `json:"curve"`
}

// Step is what an exposure leaves.
type Step struct {
	LogE   float64 `json:"logE"`
	Amount float64 `json:"amount"`
	Sigma  float64 `json:"sigma"` // standard deviation
}

// layers are the tissues as fitted, at all samples, on white paper.
func (f *fitted) layers() *stack.Layers {
	p := f.unpack(f.x)
	l := &stack.Layers{Order: f.order, Surface: f.solver.surface, Optics: f.optics}
	l.Surface.K0 = math.Exp(p.logK0)
	for i := range 3 {
		prior, scatter := f.palette.Layer(pigment.Printer(i)).KS()
		l.K[i] = f.whole(p.logK[i], prior)
		for j, v := range scatter {
			l.S[i][j] = v * math.Exp(p.logS[i]+p.tilted[i]*tilt(j))
		}
	}
	return l
}

// whole brings log K at the fitted samples to all: between them by a cubic, beyond them
// in step with what the palette had.
func (f *fitted) whole(logK []float64, prior spectrum.Curve) spectrum.Curve {
	nm := make([]float64, len(f.at))
	for j, i := range f.at {
		nm[j] = spectrum.Wavelength(i)
	}
	c := resampled(nm, logK)
	first, last := f.at[0], f.at[len(f.at)-1]
	for i := range c {
		v := math.Exp(c[i])
		if i < first {
			v *= max(prior[i], leastK) / max(prior[first], leastK)
		} else if i > last {
			v *= max(prior[i], leastK) / max(prior[last], leastK)
		}
		c[i] = v
	}
	return c
}

// predicted is a patch as the layers print it, under D50.
func (f *fitted) predicted(l *stack.Layers, p testsheet.Patch) spectrum.Lab {
	return f.colour(l, p, [3]float64{})
}

// colour is that of a patch whose coats differ by so much.
func (f *fitted) colour(l *stack.Layers, p testsheet.Patch, own [3]float64) spectrum.Lab {
	light, _ := spectrum.LightByID("D50")
	return light.Lab(f.reflectance(l, p, own))
}

// measured is a patch as it was read, under D50. Densities tell a colour by the tissues
// alone: it is that of the amounts that have these densities.
func (f *fitted) measured(l *stack.Layers, p testsheet.Patch) spectrum.Lab {
	one := f.Readings.by[p.ID]
	if !f.Readings.byDensity() {
		return one.lab
	}
	if p.Bare() {
		return f.predicted(l, p)
	}
	o, ok := f.observe(f.model, p)
	if !ok {
		return f.predicted(l, p)
	}
	alone := *f.solver
	alone.coat = mostOwn
	alone.seen, alone.weigh, alone.own = []observation{o}, []float64{1}, make([][3]float64, 1)
	for range 3 {
		alone.settle(f.x)
	}
	return f.colour(l, p, alone.own[0])
}

func (f *fitted) result(told string) *Result {
	l := f.layers()
	out := &Result{
		Patches: []Patch{}, Layers: map[string]Layer{}, LeftAtPrior: []string{}, LeftOut: []string{}, Way: f.Readings.Way,
		Optics: [...]string{"two-flux", "angular"}[f.optics], Coat: f.coat, SurfaceK0: l.Surface.K0,
		Notes: slices.Clone(f.Readings.Notes), paper: f.ground[testsheet.White],
	}
	out.LeftOut = append(out.LeftOut, f.out...)
	var held, fit []float64
	for _, p := range f.Sheet.Patches {
		if _, ok := f.Readings.by[p.ID]; !ok {
			continue
		}
		one := Patch{ID: p.ID, Use: p.Use, Measured: f.measured(l, p), Predicted: f.predicted(l, p)}
		one.DE00 = spectrum.DeltaE00(one.Measured, one.Predicted)
		out.Patches = append(out.Patches, one)
		switch {
		case p.Use == testsheet.HeldOut:
			held = append(held, one.DE00)
		case !f.beside[p.ID]:
			fit = append(fit, one.DE00)
		}
	}
	out.HeldOut, out.Fitted = errorsOf(held), errorsOf(fit)
	for i := range 3 {
		f.layer(i, l, out)
	}
	f.left(l, out)
	if told != "" {
		out.Notes = append(out.Notes, told)
	}
	if f.Readings.byDensity() {
		out.Notes = append(out.Notes, "Densities alone tell no colour: “measured” is the colour that the tissues as fitted have at the densities that were read.")
	}
	if n := len(f.beside); float64(n) >= mostOut*float64(len(f.seen)) {
		out.Notes = append(out.Notes, fmt.Sprintf("%d patches do not belong to the rest: the readings contradict each other. Were rows swapped, or is it another sheet?", n))
	}
	if f.Readings.byDensity() {
		out.Expected = math.Hypot(out.HeldOut.Mean, f.byShape(l))
	}
	out.Sentence, out.misread = f.sentence(out), f.swapped()
	return out
}

func errorsOf(d []float64) Errors {
	if len(d) == 0 {
		return Errors{}
	}
	d = slices.Clone(d)
	slices.Sort(d)
	e := Errors{N: len(d), Max: d[len(d)-1], P95: d[int(math.Ceil(0.95*float64(len(d))))-1]}
	for _, v := range d {
		e.Mean += v / float64(len(d))
	}
	return e
}

// layer tells what was found of one.
func (f *fitted) layer(i int, l *stack.Layers, out *Result) {
	p, n := f.unpack(f.x), f.size()
	cov := f.covariance()
	sigma := func(at int) float64 { return math.Sqrt(max(cov[at*n+at], 0)) }
	one := Layer{Scatter: math.Exp(p.logS[i]), ScatterSigma: sigma(f.iS(i))}
	peak := 0
	for w := range l.K[i] {
		if nm := spectrum.Wavelength(w); nm >= 400 && nm <= 700 && l.K[i][w] > l.K[i][peak] || w == 4 {
			peak = w
		}
	}
	one.Load = l.K[i][peak] / math.Ln10
	one.LoadSigma = sigma(f.iK(i, min(after(f.at, peak), len(f.at)-1)))
	c := f.printed(i)
	one.Curve = c.steps
	if c.first >= 0 {
		one.HoldOn, one.Threshold = c.steps[c.first].Amount, c.threshold
	}
	last := len(one.Curve) - 1
	rise := (one.Curve[last].Amount - one.Curve[last-2].Amount) / (one.Curve[last].LogE - one.Curve[last-2].LogE)
	one.Through = rise < 0.2/f.reach[i]
	out.Layers[pigment.Printer(i).String()] = one
	out.tissues[i] = f.tissue(i, l, one, &c)
}

// tissue is the layer's, as measured: its curve in heights of the coat.
func (f *fitted) tissue(i int, l *stack.Layers, one Layer, c *printed) pigment.Tissue {
	t := f.palette.Layer(pigment.Printer(i))
	t.Load = min(max(one.Load, pigment.LeastLoad), pigment.MostLoad)
	t.Haze = 1
	t.Measured = &pigment.Spectra{K: l.K[i].Scale(1 / t.Load), S: l.S[i].Scale(1 / t.Load), KSigma: min(one.LoadSigma, 5), SSigma: min(one.ScatterSigma, 5)}
	t.Hardening = pigment.Hardening{}
	wedge := c.wedge()
	for k, w := range wedge {
		wedge[k].Micron = min(w.Micron, 1) * t.CoatMicron
	}
	if len(wedge) >= 2 {
		t.Hardening.Wedge = wedge
		hold := min(c.holds*t.CoatMicron, pigment.MostHoldOn)
		t.Hardening.HoldOnMicron = &hold
	}
	return t
}

// left says what the readings did not tell.
func (f *fitted) left(l *stack.Layers, out *Result) {
	lost := func(format string, args ...any) {
		out.LeftAtPrior = append(out.LeftAtPrior, fmt.Sprintf(format, args...))
	}
	dark := f.ground[testsheet.Dark] != spectrum.Curve{}
	for i := range 3 {
		name := pigment.Printer(i).String()
		one := out.Layers[name]
		if by := math.Exp(one.ScatterSigma); one.ScatterSigma > toldScatter {
			lost("scattering of the %s layer nearer than by a factor %.2g, ΔE00 %.2f at most in a print", name, by, f.byScatter(l, i, by))
		}
		if f.Readings.Way != Spectra {
			lost("shape of the %s layer's absorption", name)
		}
		if !one.Through {
			lost("%s coat beyond its base exposure", name)
		}
	}
	if first, last := f.at[0], f.at[len(f.at)-1]; f.Readings.Way == Spectra && (first > 0 || last < spectrum.N-1) {
		lost("absorption below %g and above %g nm", spectrum.Wavelength(first), spectrum.Wavelength(last))
	}
	if cov, n := f.covariance(), f.size(); math.Sqrt(cov[f.iK0()*n+f.iK0()]) > told*f.logK0 {
		lost("light of the surface")
	}
	if !dark {
		out.Notes = append(out.Notes, "Nothing was read on a dark ground: what a tissue scatters is told from what it absorbs by the overprints alone.")
	}
}

// told is by how much the readings must have narrowed what was taken to be likely, toldScatter the
// doubt of log S up to which 20 % are told, as two standard deviations.
const (
	told        = 0.3
	toldScatter = 0.1
)

// byScatter is by how much the base exposure of a layer, alone and with all others, would differ, as
// ΔE00, if it scattered so many times as much and were the same otherwise.
func (f *fitted) byScatter(l *stack.Layers, layer int, times float64) (most float64) {
	other := *l
	other.S[layer] = l.S[layer].Scale(times)
	solid := testsheet.Patch{Ground: testsheet.White}
	for range 2 {
		solid.Has[layer] = true
		most = max(most, spectrum.DeltaE00(f.predicted(l, solid), f.predicted(&other, solid)))
		solid.Has = [3]bool{true, true, true}
	}
	return most
}

// strangeMean is the mean ΔE00 of overprints from which on a sheet is hardly the one that was
// planned (assumed: three times what coats as uneven as 3 % leave of spectra).
const strangeMean = 3.0

// sentence says how far the proof may be believed, and what to measure next.
func (f *fitted) sentence(out *Result) string {
	if out.HeldOut.N == 0 {
		return "No overprint was held out, so nothing tests these tissues: measure the patches marked ○."
	}
	worst := slices.MaxFunc(out.Patches, func(a, b Patch) int {
		if (a.Use == testsheet.HeldOut) != (b.Use == testsheet.HeldOut) {
			if a.Use == testsheet.HeldOut {
				return 1
			}
			return -1
		}
		return cmp.Compare(a.DE00, b.DE00)
	})
	mind := slices.Clone(f.Readings.Mind)
	if out.HeldOut.Mean > strangeMean {
		mind = append(mind, "Readings and sheet do not go together: was another sheet read, or from another place on? Give the plan of the sheet that was printed (test-sheet.json), or read it again.")
	}
	before := strings.Join(append(mind, ""), " ")
	if f.Readings.byDensity() {
		return before + fmt.Sprintf("Densities tell no spectra: expect errors of about ΔE00 %.1f in this proof, on this paper and from this batch. The densities of overprints that were held out are met within ΔE00 %.1f on average, %.1f at most (%s). Next, measure the sheet with a spectrophotometer.",
			out.Expected, out.HeldOut.Mean, out.HeldOut.Max, worst.ID)
	}
	next := "print and measure a second sheet, for coats differ from one to the next"
	unsure := f.unsureWhere(out)
	switch {
	case f.Readings.Way != Spectra:
		next = "measure the sheet with a spectrophotometer, for the shape of the spectra is assumed"
	case f.ground[testsheet.Dark] == spectrum.Curve{}:
		next = "measure the row on black, for it tells what scatters"
	case unsure >= 0:
		next = "print and measure the sheet of these tissues: the " + pigment.Printer(unsure).String() + " layer begins somewhere between two steps"
	}
	return before + fmt.Sprintf("Overprints that were held out come within ΔE00 %.1f on average, %.1f at most (%s). Expect errors of this size in this proof, on this paper and from this batch. Next, %s.",
		out.HeldOut.Mean, out.HeldOut.Max, worst.ID, next)
}

// Paper is the reflectance of the bare paper, as lines of nm and 0 to 1.
func (r *Result) Paper() []byte {
	var out strings.Builder
	for i, v := range r.paper {
		fmt.Fprintf(&out, "%g\t%.5f\n", spectrum.Wavelength(i), min(v, 1))
	}
	return []byte(out.String())
}

// Palette is the measured palette: the tissues as found, and how it was measured. Sheets that were
// judged by eye one after the other are counted.
func (r *Result) Palette(id, name string, from pigment.Palette, m pigment.Measurement) pigment.Palette {
	out := from
	out.ID, out.Name = id, name
	m.Way, m.Mean, m.P95, m.Max, m.Patches = r.Way, r.HeldOut.Mean, r.HeldOut.P95, r.HeldOut.Max, r.HeldOut.N
	m.Coat, m.K0, m.Angular = r.Coat, min(r.SurfaceK0, pigment.MostK0), r.Optics == "angular"
	m.Seen, m.Doubt, m.Told, m.Expected = r.seen, r.doubt, r.told, r.Expected
	if was := from.Measured; m.Way == pigment.Eye && was != nil && was.Way == pigment.Eye {
		m.Sheets = min(max(was.Sheets, 1)+1, pigment.MostCounted)
	}
	out.Measured = &m
	for i, t := range r.tissues {
		out = out.WithLayer(pigment.Printer(i), t)
	}
	return out
}
