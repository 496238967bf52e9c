package fit

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Job is what is fitted: readings of a sheet of a recipe's palette. The recipe's paper
// stands where the readings do not tell the paper's spectrum.
type Job struct {
	Sheet    testsheet.Sheet
	Readings *Readings
	Recipe   stack.Recipe
	Progress func(share float64) // may be nil
}

// fitted is a job with its solver done.
type fitted struct {
	*Job
	*solver
	ground map[string]spectrum.Curve // as measured, of the bare patches
	out    []string                  // patches that were left out, and why, in words
	beside map[string]bool           // the same patches, by id
}

// How much work a fit is.
const (
	rounds = 5  // of steps, and what they leave to find the spreads
	steps  = 12 // of a round, at most
)

// The optics is chosen by shorter fits; slanting ways must be clearly better.
const (
	angularRounds = 2
	clearlyBetter = 0.85 // error against that of two fluxes
)

// prepare makes the model of a job and its observations, at every least-th sample of a
// spectrum or fewer. Held-out patches are no part of it.
func (j *Job) prepare(least int) (*fitted, error) {
	f := &fitted{Job: j, ground: map[string]spectrum.Curve{}, beside: map[string]bool{}}
	m := &model{order: j.Recipe.Order, surface: j.Recipe.Surface, palette: j.Recipe.Palette, ground: map[string][]float64{}}
	r := j.Readings
	step := max(r.step, least)
	if r.Way != Spectra {
		step = 2
	}
	for i := r.from; i <= r.to; i += step {
		m.at = append(m.at, i)
	}
	for _, i := range m.at {
		m.tilt = append(m.tilt, tilt(i))
	}
	for l := range 3 {
		t := m.palette.Layer(pigment.Printer(l))
		k, s := t.KS()
		for i := range k {
			k[i] = max(k[i], leastK)
		}
		m.k[l], m.s[l] = m.sample(k), m.sample(s)
		m.reach[l] = testsheet.ScaleOf(t).Reach
		m.knots[l] = knots(j.Sheet, l)
		if len(m.knots[l]) < leastSteps {
			return nil, fmt.Errorf("the plan has %d steps of the %s wedge; it takes %d or more", len(m.knots[l]), pigment.Printer(l), leastSteps)
		}
	}
	if err := f.bare(m); err != nil {
		return nil, err
	}
	var seen []observation
	for _, p := range j.Sheet.Patches {
		if o, ok := f.observe(m, p); ok && p.Use != testsheet.HeldOut && !p.Bare() {
			seen = append(seen, o)
		}
	}
	likely := ofSpectra
	if r.Way != Spectra {
		likely = ofTriples
	}
	f.solver = newSolver(m, seen, likely)
	return f, nil
}

// leastK keeps logarithms finite: a layer that lets all light through.
const leastK = 1e-4

// knots are the exposures of a layer in all patches that are fitted, rising.
func knots(s testsheet.Sheet, layer int) []float64 {
	var out []float64
	for _, p := range s.Patches {
		if p.Has[layer] && p.Use != testsheet.HeldOut {
			out = append(out, p.LogE[layer])
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// observe is what was read of a patch; ok is false where nothing was, or nothing lies
// under it that is known.
func (f *fitted) observe(m *model, p testsheet.Patch) (o observation, ok bool) {
	one, ok := f.Readings.by[p.ID]
	if !ok || m.ground[p.Ground] == nil {
		return o, false
	}
	switch f.Readings.Way {
	case Spectra:
		return spectral(p, m.sample(one.curve)), true
	case Colours:
		return triple(p, one.lab, sigmaLab, f.kind(m)), true
	}
	o = triple(p, one.density, sigmaDensity, f.kind(m))
	if f.Readings.Way == Scan {
		o.sigma = one.sigma[:]
	}
	return o, true
}

// kind is the way of measuring of the readings.
func (f *fitted) kind(m *model) *kind {
	if f.Readings.Way == Colours {
		return colours(f.Readings.light, m.at)
	}
	return densities(f.Readings.status, m.at)
}

// bare finds the grounds: of spectra the bare patches themselves, else a curve that has
// their colour.
func (f *fitted) bare(m *model) error {
	of := map[string][]string{}
	for _, p := range f.Sheet.Patches {
		if _, ok := f.Readings.by[p.ID]; ok && p.Bare() {
			of[p.Ground] = append(of[p.Ground], p.ID)
		}
	}
	if err := f.absolute(of[testsheet.White]); err != nil {
		return err
	}
	if len(of[testsheet.White]) == 0 { // as after Mend, where the bare patches were not read
		return errBare(&f.Sheet)
	}
	for i, ground := range []string{testsheet.White, testsheet.Dark} {
		ids := f.agreeing(of[ground], worstBare[i])
		if len(ids) == 0 {
			continue
		}
		var c spectrum.Curve
		var lab spectrum.Lab
		var d [3]float64
		part := 1 / float64(len(ids))
		for _, id := range ids {
			one := f.Readings.by[id]
			c = c.Add(one.curve.Scale(part))
			for k := range 3 {
				lab[k] += one.lab[k] * part
				d[k] += one.density[k] * part
			}
		}
		switch f.Readings.Way {
		case Colours:
			paper, err := stack.PaperFromLab("bare", "bare", lab)
			if err != nil {
				if ground == testsheet.Dark {
					continue
				}
				return fmt.Errorf("%s: the bare paper: %w", f.Readings.by[ids[0]].line, err)
			}
			c = paper.R
		case Densitometer, Scan:
			c = f.likePaper(d)
		}
		f.ground[ground], m.ground[ground] = c, m.sample(c)
	}
	return nil
}

// absolute brings densities that count from the paper to absolute ones, by the recipe's
// paper.
func (f *fitted) absolute(bare []string) error {
	r := f.Readings
	if r.Way != Densitometer || r.absolute {
		return nil
	}
	most := 0.0
	for _, id := range bare {
		for _, d := range r.by[id].density {
			most = max(most, math.Abs(d))
		}
	}
	if !r.paperZero && most > paperZero {
		return nil
	}
	if most > 0.1 {
		return fmt.Errorf("%s: the densities are said to count from the paper, but the bare paper reads %.2f; say how they were read", r.by[bare[0]].line, most)
	}
	own := r.status.Densities(f.Recipe.Paper.R)
	for _, one := range r.by {
		for k := range own {
			one.density[k] += own[k]
		}
	}
	r.absolute = true
	r.Notes = append(r.Notes, fmt.Sprintf("The densities count from the paper; the paper is taken to be %s.", f.Recipe.Paper.Name))
	return nil
}

// paperZero is the density of bare paper up to which an instrument was set to zero on it.
const paperZero = 0.015

// likePaper is the recipe's paper, made darker so that it has the densities.
func (f *fitted) likePaper(d [3]float64) spectrum.Curve {
	c := f.Recipe.Paper.R
	for range 4 {
		now := f.Readings.status.Densities(c)
		// Blue, green and red lie about 445, 535 and 620 nm.
		off := [3]float64{d[2] - now[2], d[1] - now[1], d[0] - now[0]}
		for i := range c {
			nm := spectrum.Wavelength(i)
			var more float64
			switch {
			case nm <= 445:
				more = off[0]
			case nm <= 535:
				more = off[0] + (off[1]-off[0])*(nm-445)/90
			case nm <= 620:
				more = off[1] + (off[2]-off[1])*(nm-535)/85
			default:
				more = off[2]
			}
			c[i] = min(c[i]*math.Pow(10, -more), 1)
		}
	}
	return c
}

// agreeing are the bare patches of a ground without one that is stained: where they
// differ by more than a ΔE00, those that lie near the lightest.
func (f *fitted) agreeing(ids []string, most float64) []string {
	if len(ids) < 2 || f.Readings.byDensity() {
		return ids
	}
	by := f.Readings.by
	lightest := slices.MaxFunc(ids, func(a, b string) int { return cmp.Compare(by[a].lab[0], by[b].lab[0]) })
	var out []string
	for _, id := range ids {
		if d := spectrum.DeltaE00(by[id].lab, by[lightest].lab); d > most {
			f.leaveOut(id, fmt.Sprintf("%s: bare, but ΔE00 %.1f off %s", id, d, lightest))
			continue
		}
		out = append(out, id)
	}
	return out
}

func (f *fitted) leaveOut(id, why string) {
	f.beside[id] = true
	f.out = append(f.out, why)
}

// solve runs rounds of steps; after each it finds the spreads, and leaves out what does
// not belong to the rest.
func (f *fitted) solve(ctx context.Context, rounds int, done func(share float64)) error {
	for round := range rounds {
		if err := f.run(ctx, steps); err != nil {
			return err
		}
		f.spreads()
		f.begins()
		if round > 0 {
			f.smudges()
		}
		done(float64(round+1) / float64(rounds))
	}
	return f.run(ctx, steps)
}

// labOf is the colour under D50 of a reflectance at the fitted samples.
func (f *fitted) labOf(r []float64) spectrum.Lab {
	light, _ := spectrum.LightByID("D50")
	var x spectrum.XYZ
	for ch, w := range light.Weights() {
		for j, v := range folded(w, f.at) {
			x[ch] += v * r[j]
		}
	}
	return x.Lab(light.White)
}

// Of fits a job. It ends early, with ctx's error, where ctx does.
func Of(ctx context.Context, j Job) (*Result, error) {
	done := j.Progress
	if done == nil {
		done = func(float64) {}
	}
	f, err := j.prepare(1)
	if err != nil {
		return nil, err
	}
	share := func(from, to float64) func(float64) {
		return func(s float64) { done(from + (to-from)*s) }
	}
	best := choice{}
	if j.Readings.Way == Spectra {
		if best, err = j.choose(ctx, share(0, 0.6)); err != nil {
			return nil, err
		}
	}
	f.optics = best.optics
	if !best.close {
		if err := f.solve(ctx, rounds, share(0.6, 1)); err != nil {
			return nil, err
		}
		return f.result(best.said), nil
	}
	if err := f.solve(ctx, rounds, share(0.6, 0.8)); err != nil {
		return nil, err
	}
	other, err := j.prepare(1)
	if err != nil {
		return nil, err
	}
	other.optics = stack.Angular
	if err := other.solve(ctx, rounds, share(0.8, 1)); err != nil {
		return nil, err
	}
	if other.coat < clearlyBetter*f.coat { // an optics that is wrong passes for coats that differ
		f = other
	}
	return f.result(best.said), nil
}

// choice is which optics a job is fitted by.
type choice struct {
	optics stack.Optics
	close  bool   // two fluxes hardly predict better than slanting ways, or not at all
	said   string // in words, "" where nothing tells
}

// choose finds which optics predicts better what it was not fitted to: the overprints
// that are fitted otherwise, the held-out ones having no part in it.
func (j *Job) choose(ctx context.Context, done func(float64)) (choice, error) {
	var errs [2]float64
	for _, optics := range []stack.Optics{stack.TwoFlux, stack.Angular} {
		f, err := j.prepare(2) // 10 nm tell enough for a choice
		if err != nil {
			return choice{}, err
		}
		f.optics = optics
		var fold []testsheet.Patch
		blocks := j.Sheet.Blocks()
		inBlock := func(p testsheet.Patch) bool {
			return slices.ContainsFunc(blocks, func(b testsheet.Block) bool { return b.Has(p.ID) })
		}
		for i, o := range f.seen {
			if o.patch.Layers() > 1 && o.patch.Use == testsheet.Fit && !inBlock(o.patch) {
				f.weigh[i] = 0
				fold = append(fold, o.patch)
			}
		}
		if len(fold) < 4 {
			return choice{}, nil
		}
		if err := f.solve(ctx, angularRounds, func(s float64) { done((float64(optics) + s) / 2) }); err != nil {
			return choice{}, err
		}
		layers := f.layers()
		var off []float64
		for _, p := range fold {
			off = append(off, spectrum.DeltaE00(f.predicted(layers, p), f.Readings.by[p.ID].lab))
		}
		slices.Sort(off)
		for _, d := range off[:len(off)-len(off)/8] { // without what may be smudged
			errs[optics] += d
		}
		errs[optics] /= float64(len(off) - len(off)/8)
	}
	said := fmt.Sprintf("Overprints left out to choose by: ΔE00 %.2f by two fluxes, %.2f by slanting ways.", errs[0], errs[1])
	if errs[1] < clearlyBetter*errs[0] {
		return choice{optics: stack.Angular, said: said}, nil
	}
	return choice{close: errs[1] < errs[0]/clearlyBetter, said: said}, nil
}
