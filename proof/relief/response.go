package relief

import (
	"math"
	"sort"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// Response is how a tissue hardens under light that it absorbs,
//
//	h = Depth · ln(E/Threshold)
//
// between nothing and the coat: light falls as exp(-z/Depth) into the layer, and
// what gets less than Threshold stays soft (P. F. Jacobs, Rapid Prototyping &
// Manufacturing, SME 1992, as quoted second-hand, for layers hardened by light).
// Behind a negative the height is so linear in its density, the straight line of
// carbon. A measured wedge is used in place of the law; beyond its ends the law goes on.
type Response struct {
	Depth     float64 // D_p in µm, above 0
	Threshold float64 // E_c, above 0: in the unit that exposures are given in
	Coat      float64 // µm
	HoldOn    float64 // µm; a thinner layer does not survive the wash

	wedge []pigment.Printed
}

// What stands for what has not been measured.
const (
	// gelatineDepth is D_p of sensitised gelatine without pigment, in µm: at the
	// default coat an exposure range of log 1.3, as 1 to 2 % of dichromate give
	// (from memory).
	gelatineDepth = 8.0

	// DefaultHoldOn is the hold-on height in µm. Practitioners disagree: some
	// report print densities below about 0.2 lost in continuous tone, which is up to
	// MostHoldOn, others full highlights, which is none. A wedge settles it. Common
	// practice, without a published figure.
	DefaultHoldOn = 0.5
	MostHoldOn    = 2.4
)

// Of returns how a tissue responds: as measured where its Hardening says so, else
// by a prior.
//
// The prior of D_p adds the pigment's own absorption, its K over 380 to 400 nm
// where the spectra begin, for that of 365 to 400 nm that the lamps send, to that
// of sensitised gelatine. More pigment, a shorter depth. The prior of E_c is 1 for
// all tissues: the sensitiser's, in units of itself.
func Of(t pigment.Tissue) Response {
	k, _ := t.KS()
	uv, n := 0.0, 0
	for i := 0; spectrum.Wavelength(i) <= 400; i++ {
		uv += k[i]
		n++
	}
	r := Response{
		Depth:     1 / (1/gelatineDepth + uv/float64(n)/t.CoatMicron),
		Threshold: 1, Coat: t.CoatMicron, HoldOn: DefaultHoldOn,
	}
	h := t.Hardening
	if h.DepthMicron > 0 {
		r.Depth = h.DepthMicron
	}
	if h.Threshold > 0 {
		r.Threshold = h.Threshold
	}
	if h.HoldOnMicron != nil {
		r.HoldOn = *h.HoldOnMicron
	}
	r.wedge = h.Wedge
	return r
}

// Range is the difference of density that prints from nothing to the whole coat by
// the law.
func (r Response) Range() float64 { return r.Coat / (r.Depth * math.Ln10) }

// Hardened is the height that an exposure hardens, 0 to the coat, before the wash.
// logExposure is log10(E), E in the unit of Threshold.
func (r Response) Hardened(logExposure float64) float64 {
	return min(max(r.open(logExposure), 0), r.Coat)
}

// open is Hardened in a coat without a bottom, less than 0 where nothing hardens.
func (r Response) open(logExposure float64) float64 {
	perUnit := r.Depth * math.Ln10
	last := len(r.wedge) - 1
	switch {
	case last < 1:
		return perUnit * (logExposure - math.Log10(r.Threshold))
	case logExposure < r.wedge[0].LogExposure:
		return r.wedge[0].Micron + perUnit*(logExposure-r.wedge[0].LogExposure)
	case logExposure >= r.wedge[last].LogExposure:
		return r.wedge[last].Micron + perUnit*(logExposure-r.wedge[last].LogExposure)
	}
	i := sort.Search(last, func(i int) bool { return r.wedge[i+1].LogExposure > logExposure })
	return r.between(i, logExposure)
}

// between is the wedge between steps i and i+1, a cubic that neither overshoots nor
// falls (F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5, 1984, 300,
// with the three-point slopes of unequal steps).
func (r Response) between(i int, x float64) float64 {
	w := r.wedge
	width := func(k int) float64 { return w[k+1].LogExposure - w[k].LogExposure }
	secant := func(k int) float64 { return (w[k+1].Micron - w[k].Micron) / width(k) }
	slope := func(k int) float64 { // at step k, between secants k-1 and k
		a, b := secant(k-1), secant(k)
		if a*b <= 0 {
			return 0
		}
		p := (width(k-1) + 2*width(k)) / (3 * (width(k-1) + width(k)))
		return a * b / (p*b + (1-p)*a)
	}
	d := secant(i)
	m0, m1 := d, d
	if i > 0 {
		m0 = slope(i)
	}
	if i < len(w)-2 {
		m1 = slope(i + 1)
	}
	h := width(i)
	u := (x - w[i].LogExposure) / h
	return w[i].Micron + h*u*(m0+u*((3*d-2*m0-m1)+u*(m0+m1-2*d)))
}

// Along is the height at a log exposure along a measured wedge of two steps or more, as a Response
// of it has it; beyond its ends it is that of the end.
func Along(wedge []pigment.Printed, logExposure float64) float64 {
	last := len(wedge) - 1
	switch {
	case logExposure <= wedge[0].LogExposure:
		return wedge[0].Micron
	case logExposure >= wedge[last].LogExposure:
		return wedge[last].Micron
	}
	i := sort.Search(last, func(i int) bool { return wedge[i+1].LogExposure > logExposure })
	return Response{wedge: wedge}.between(i, logExposure)
}

// Exposure is log10 of the least exposure that hardens a height, 0 to the coat: the
// inverse of Hardened. For no height it is the threshold.
func (r Response) Exposure(height float64) float64 {
	height = min(max(height, 0), r.Coat)
	if len(r.wedge) < 2 {
		return math.Log10(r.Threshold) + height/(r.Depth*math.Ln10)
	}
	low, high := r.wedge[0].LogExposure-(r.Coat+r.wedge[0].Micron+1)/r.Depth, r.wedge[len(r.wedge)-1].LogExposure+(r.Coat+1)/r.Depth
	for range 60 {
		if mid := (low + high) / 2; r.open(mid) < height {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// PerStop is by how much of the coat a height changes for one stop, by the law.
func (r Response) PerStop() float64 { return r.Depth * math.Ln2 / r.Coat }
