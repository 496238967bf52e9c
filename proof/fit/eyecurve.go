package fit

import (
	"math"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// How a curve is looked for by eye: between where its layer begins and where it is through, it
// rises in eyeKnots parts, closer where it begins, for there a little more is most of what a light
// grey has. How steep each is against the likely one follows smooth waves, so that any curve
// rises: cos(jπv), j from 1, v the way from where the layer begins, as the parts count it.
const (
	eyeKnots  = 10
	closer    = 1.5 // power by which the parts lie closer
	waves     = 4
	unknowns  = 3 * (3 + waves)
	mostWave  = 3    // standard deviations of a wave
	eyeWave   = 0.5  // standard deviation of the logarithm of the steepness in the first wave; the jth has 1/j of it
	againWave = 0.25 // the same where an earlier sheet told the curve by eye
)

// From the exposure on at which a layer is through it has nextToAll of its coat, and the rest
// at the base exposure, so that this stays the base; leastRise is the log exposure from which
// on the two are told apart.
const (
	nextToAll = 0.99
	leastRise = 0.02
	leastSpan = 0.1 // log exposure from where a layer begins to where it is through
)

// course is the curve that is likely of a layer: how much of its coat each part adds.
type course struct {
	adds [eyeKnots]float64
	wave float64 // standard deviation of the first wave
}

// knot is where a part begins, 0 where the layer begins to 1 where it is through.
func knot(k int) float64 { return math.Pow(float64(k)/eyeKnots, closer) }

// firstCourse is that of a tissue that nobody has printed: a straight line with a toe and a
// shoulder, of ends half as steep as its middle (assumed).
func firstCourse() (c course) {
	for k := range c.adds {
		v := (float64(k) + 0.5) / eyeKnots
		c.adds[k] = (knot(k+1) - knot(k)) * math.Exp(-math.Ln2/2*math.Cos(2*math.Pi*v))
	}
	return c
}

// courseOf is that of a tissue whose curve an earlier sheet told, and from where on it is through.
func courseOf(t pigment.Tissue) (c course, through float64) {
	w := t.Hardening.Wedge
	begins, last := w[0].LogExposure, len(w)-1
	through = w[last].LogExposure
	if w[last-1].Micron >= (nextToAll-1e-6)*t.CoatMicron {
		through = w[last-1].LogExposure
	}
	for k := range c.adds {
		at := func(k int) float64 { return relief.Along(w, begins+(through-begins)*knot(k)) / t.CoatMicron }
		c.adds[k] = max(at(k+1)-at(k), 0.1*(knot(k+1)-knot(k)))
	}
	return c, through
}

// likeness is the print that unknowns make.
type likeness struct {
	layers *stack.Layers
	curves [3][]pigment.Printed // heights as shares of the coat
}

// print makes it.
func (g *glance) print(x []float64) *likeness {
	layers := *g.layers
	out := &likeness{layers: &layers}
	for i := range out.curves {
		load := math.Exp(x[6+i])
		layers.K[i], layers.S[i] = layers.K[i].Scale(load), layers.S[i].Scale(load)
		out.curves[i] = g.curve(i, x)
	}
	return out
}

// curve is that of a layer, up to the base exposure.
func (g *glance) curve(layer int, x []float64) []pigment.Printed {
	begins, c := x[layer], &g.likely[layer]
	ends := max(x[3+layer], begins+leastSpan)
	out := make([]pigment.Printed, 1, eyeKnots+2)
	out[0].LogExposure = begins
	sum := 0.0
	for k, adds := range c.adds {
		v, steeper := (float64(k)+0.5)/eyeKnots, 0.0
		for j := range waves {
			steeper += x[9+3*j+layer] * c.wave / float64(j+1) * math.Cos(float64(j+1)*math.Pi*v)
		}
		sum += adds * math.Exp(steeper)
		out = append(out, pigment.Printed{LogExposure: begins + (ends-begins)*knot(k+1), Micron: sum})
	}
	all := nextToAll
	if ends >= -leastRise { // what the light above adds is not seen, and is next to nothing
		all, out[eyeKnots].LogExposure = 1, 0
	}
	for k := range out {
		out[k].Micron *= all / sum
	}
	if all < 1 {
		out = append(out, pigment.Printed{LogExposure: 0, Micron: 1})
	}
	return out
}

// see is the reflectance of a patch on the paper.
func (l *likeness) see(p testsheet.Patch) spectrum.Curve {
	var t [3]float64
	for i, has := range p.Has {
		if has {
			t[i] = relief.Along(l.curves[i], p.LogE[i])
		}
	}
	return l.layers.Reflectance(t)
}

// where is the log exposure from which on a curve has an amount.
func where(curve []pigment.Printed, amount float64) float64 {
	low, high := curve[0].LogExposure, curve[len(curve)-1].LogExposure
	for range 20 {
		if mid := (low + high) / 2; relief.Along(curve, mid) < amount {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
