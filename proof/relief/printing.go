package relief

import (
	"math"

	"threeply/proof/tone"
)

// Fate is what becomes of a place of a layer. Where the scene is white, to one unit of
// L*, nothing can be lost.
type Fate int

const (
	Held    Fate = iota // it is on the print, or nothing was meant to be
	Lost                // the plate has a tone here, and no gelatine stays
	Blocked             // the coat is through: more exposure changes nothing
)

func (f Fate) String() string { return [...]string{"held", "lost", "blocked"}[f] }

// Layer is what one plate prints, along densities of the plate where it is printed
// straight and along tones where it is tuned.
type Layer struct {
	Response Response
	Normal   float64 // log10 of the normal exposure, in the unit of the threshold
	Stops    float64 // exposure against the normal one

	// behind gives log10 of the light behind a density or a tone, against the normal
	// exposure, and whether the scene is white there.
	behind func(x float64) (light float64, blank bool)

	// moved is where x goes when the plate had been exposed by so many stops more.
	moved func(x, stops float64) float64
}

// Amount is the relative thickness, 0 to 1, that stays on the print at a density of
// the plate (Straight) or a tone (Tuned): nothing where the wash takes the layer.
func (l Layer) Amount(x float64) float64 {
	a, _ := l.at(x)
	return a
}

// Hardened is the relative thickness, 0 to 1, before the wash.
func (l Layer) Hardened(x float64) float64 {
	light, _ := l.behind(x)
	return l.Response.Hardened(l.Normal+l.Stops*math.Log10(2)+light) / l.Response.Coat
}

// PerScene is by how much of the coat the layer changes there, before the wash, for
// one stop more of the scene on its plate, 0 or less.
func (l Layer) PerScene(x float64) float64 {
	const by = 0.1
	return (l.Hardened(l.moved(x, by)) - l.Hardened(l.moved(x, -by))) / (2 * by)
}

// Fate is what becomes of the layer there.
func (l Layer) Fate(x float64) Fate {
	_, f := l.at(x)
	return f
}

func (l Layer) at(x float64) (amount float64, fate Fate) {
	light, blank := l.behind(x)
	open := l.Response.open(l.Normal + l.Stops*math.Log10(2) + light)
	switch {
	case open >= l.Response.Coat*(1-rounding):
		return 1, Blocked
	case open > 0 && open >= l.Response.HoldOn*(1-rounding):
		return open / l.Response.Coat, Held
	case blank:
		return 0, Held
	}
	return 0, Lost
}

// white is the tone up to which the scene counts as white, of which nothing can be
// lost: one unit of L*.
const white = 0.01

// rounding keeps a height that is drawn to be just held or just the coat on that
// side of it.
const rounding = 1e-9

// Exposure is the exposure that the layer gets, in the unit of its threshold. Where
// E_c was measured of all tissues in one unit, their ratio is that of the times
// under the lamp.
func (l Layer) Exposure() float64 {
	return math.Pow(10, l.Normal+l.Stops*math.Log10(2))
}

// Negative is the density that the printing negative has where x is printed, above the
// density, 0, that lets the normal exposure through: for a tuned layer 0 at the depth and
// more elsewhere, below 0 where more is wanted than there.
func (l Layer) Negative(x float64) float64 {
	light, _ := l.behind(x)
	return -light
}

// Ends returns where along what Amount takes, from low to high, the layer is lost
// and blocked: everything from one end on, since no curve turns back. A layer that
// loses or blocks nothing there gets an empty stretch, from = to.
func (l Layer) Ends(low, high float64) (lost, blocked [2]float64) {
	const steps = 4096
	var seen [Blocked + 1]struct {
		ends [2]float64
		any  bool
	}
	for i := range steps + 1 {
		x := low + (high-low)*float64(i)/steps
		one := &seen[l.Fate(x)]
		if !one.any {
			one.ends[0], one.any = x, true
		}
		one.ends[1] = x
	}
	return seen[Lost].ends, seen[Blocked].ends
}

// MidGrey is the tone of the scale from paper, 0, to the depth, 1, at which a
// straight print is usually set to be right, L* half-way: one exposure a layer can
// set one tone, and the middle is where a cast shows most. Set at the depth, 1, the
// black is right and the highlights fall where they will.
const MidGrey = 0.5

// Straight prints a plate through a negative that is what the plate is, or what it
// becomes enlarged to a density range between the film's black and white, densityRange
// above 0. A positive is first turned into a negative. The normal exposure lays the
// tone anchor of the scale, such as MidGrey, as wanted, a relative thickness; stops
// more or less shift all.
//
// Amount then takes densities of the plate. The densities that the lamp meets are
// taken to be those that the scanner met.
func Straight(film tone.Film, r Response, densityRange, anchor float64, wanted func(tone01 float64) float64, stops float64) Layer {
	sign := 1.0
	if !film.Negative {
		sign = -1
	}
	stretch := sign
	if span := math.Abs(film.White - film.Black); densityRange > 0 && span > 0 {
		stretch *= densityRange / span
	}
	grey := DensityOf(film, anchor)
	light := func(d float64) float64 { return -stretch * (d - film.Black) }
	return Layer{
		Response: r, Stops: stops,
		Normal: r.Exposure(wanted(anchor)*r.Coat) - light(grey),
		behind: func(d float64) (float64, bool) { return light(d), tone.Depth01(film.Exposure(d)) <= white },
		moved:  func(d, stops float64) float64 { return film.Density(film.LogExposure(d) + stops*math.Log10(2)) },
	}
}

// Tuned prints a tone of the scale, 0 paper to 1 depth, by a negative that is drawn
// so that the normal exposure gives the wanted relative thickness: neutrals then
// print neutral. The negative is clear, density 0, where the depth is wanted: so no
// more of the film's range is used than the print needs, and the coat beyond the depth,
// where a layer hardens to its backing, is never printed. White is laid at the threshold
// itself. Where the printing negative is drawn for one response and the tissue has
// another, to is the tissue's.
func Tuned(drawn, to Response, wanted func(tone01 float64) float64, stops float64) Layer {
	normal := drawn.Exposure(wanted(1) * drawn.Coat)
	return Layer{
		Response: to, Stops: stops, Normal: normal,
		behind: func(u float64) (float64, bool) {
			return drawn.Exposure(wanted(u)*drawn.Coat) - normal, u <= white
		},
		moved: tone.Moved,
	}
}

// DensityOf is the density at which a film has a tone of the scale, 0 white to 1
// black.
func DensityOf(film tone.Film, tone01 float64) float64 {
	light, dark := film.White, film.Black
	for range 60 {
		if mid := (light + dark) / 2; tone.Depth01(film.Exposure(mid)) < tone01 {
			light = mid
		} else {
			dark = mid
		}
	}
	return dark
}
