package neutral

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"threeply/proof/tone"
)

// Known is what is known of the plates before their greys are compared.
type Known struct {
	Key int // index of the key plate
	// Films tell the polarity of each plate and the key's γ, White and Black.
	// Bends are not looked at.
	Films [3]tone.Film
	// Base is the density of base and fog where the rebate showed it, below 0
	// where it is not known: film that no light reached is a neutral too.
	Base [3]float64
	// Step is the density between neighbouring greys where they are a scale of
	// equal steps in one light, given from one end to the other; 0 for any
	// greys. It makes the slopes absolute.
	Step float64
	// Densities takes the place of Step where the steps are not equal: what each of the
	// greys has, rising, as the scale's maker states it.
	Densities []float64
}

// counted tells that the greys are a scale whose steps are known: none is left out.
func (k *Known) counted() bool { return k.Step > 0 || len(k.Densities) > 0 }

// Match is how three plates render the same greys.
type Match struct {
	Key    int          `json:"key"`
	Greys  []Grey       `json:"greys"`         // that were used, from the darkest of the scene on
	LogH   []float64    `json:"log_h"`         // log10 exposure of each of Greys, as Films[Key] has it
	Odd    []Grey       `json:"odd,omitempty"` // that were left out: they part from their neighbours
	Plates [3]Curve     `json:"plates"`
	Films  [3]tone.Film `json:"films"` // in agreement: a grey has the same LogExposure in all three
	Step   float64      `json:"step"`  // as given, as Densities

	Densities []float64 `json:"densities,omitempty"`
}

// Curve is what one plate makes of the greys, against the key. What is left of
// a difference is the root mean square over the greys, in density.
type Curve struct {
	Slope         float64 `json:"slope"`          // γ over the key's γ
	Shift         float64 `json:"shift"`          // mean density above the key's, base and fog off where they are known
	Stops         float64 `json:"stops"`          // exposure that Shift stands for, against the key's
	AfterExposure float64 `json:"after_exposure"` // left when only its exposure is made right
	AfterSlope    float64 `json:"after_slope"`    // left when its slope is made right too
	AfterCurve    float64 `json:"after_curve"`    // left behind the film as it was found
	Clipped       int     `json:"clipped"`        // greys that its scan clips
	Merged        int     `json:"merged"`         // neighbouring greys that the key tells apart and this plate does not
}

// The limits of what counts, in density.
const (
	// Visible is the difference of one plate that can just be seen in a grey:
	// at γ 0.8 it moves the chroma of a middle grey by about one unit of
	// CIELAB (TestVisible).
	Visible = 0.01

	LeastError  = 0.0015 // no patch of a scan is read better (a choice: 25 codes of 65535)
	straight    = 0.006  // from a line, and still on it
	oddFrom     = 0.08   // from the neighbours, to be left out
	toldApart   = 0.06   // between neighbours that the key clearly tells apart
	mergedBelow = 0.1    // share of the step to be expected: less is none
)

// ErrNoGreys is returned where nothing is left to compare.
var ErrNoGreys = errors.New("no grey can be compared: point at greys that lie within all three plates and are not clipped")

// Fit compares the greys. One grey gives exposures, two give slopes too, and
// three or more show toe and shoulder. A grey that a plate's scan clips says
// nothing of that plate; one that the key's clips is left out. The error is
// ErrNoGreys, or says that there are not as many greys as Densities.
func Fit(greys []Grey, known Known) (Match, error) {
	for i := range known.Films {
		known.Films[i].Bend = tone.Bend{}
	}
	f := &fitting{Known: known, key: known.Films[known.Key]}
	m := Match{Key: known.Key, Step: known.Step, Densities: known.Densities}
	if n := len(known.Densities); n > 0 && n != len(greys) {
		return m, fmt.Errorf("the scale shows %d steps, and %d densities were given: give one for each step that the line crosses, or draw it over all steps that are given", len(greys), n)
	}
	m.Greys, m.Odd = f.usable(greys)
	if len(m.Greys) == 0 {
		return m, ErrNoGreys
	}
	f.greys = m.Greys
	f.expose()
	for i := range f.lines {
		f.lines[i] = f.line(i)
	}
	for i := range m.Films {
		m.Films[i] = f.film(i)
	}
	f.align(&m.Films)
	for j := range f.greys {
		m.LogH = append(m.LogH, m.Films[m.Key].LogExposure(f.greys[j].Density[m.Key]))
	}
	for i := range m.Plates {
		m.Plates[i] = f.compare(i, m.Films[i], m.LogH)
	}
	return m, nil
}

// fitting works with signed densities, which rise with the exposure in
// negatives and positives alike.
type fitting struct {
	Known
	key   tone.Film
	greys []Grey
	logH  []float64 // of greys
	lines [3]line   // signed density over log exposure
}

func (f *fitting) sign(i int) float64 {
	if f.Films[i].Negative {
		return 1
	}
	return -1
}

func (f *fitting) signed(g Grey, i int) float64 { return f.sign(i) * g.Density[i] }

// usable leaves out what the key clips and what parts from its neighbours, and
// sorts the rest from the scene's darkest grey on. Of a scale nothing is left
// out, for its greys are counted.
func (f *fitting) usable(greys []Grey) (kept, odd []Grey) {
	kept = slices.Clone(greys)
	if f.counted() {
		if n := len(kept); n > 1 && f.signed(kept[0], f.Key) > f.signed(kept[n-1], f.Key) {
			slices.Reverse(kept)
		}
		return kept, nil
	}
	kept = slices.DeleteFunc(kept, func(g Grey) bool { return g.Clipped[f.Key] })
	slices.SortFunc(kept, func(a, b Grey) int { return cmp.Compare(f.signed(a, f.Key), f.signed(b, f.Key)) })
	for len(kept) >= 4 { // a grey at either end cannot be told from a toe or a shoulder
		worst, at := oddFrom, 0
		for j := 1; j < len(kept)-1; j++ {
			if off := f.parts(kept[j-1], kept[j], kept[j+1]); off > worst {
				worst, at = off, j
			}
		}
		if at == 0 {
			break
		}
		odd = append(odd, kept[at])
		kept = slices.Delete(kept, at, at+1)
	}
	return kept, odd
}

// parts is by how much b lies off the line from a to c, over the key's density
// and in the plate where that is most.
func (f *fitting) parts(a, b, c Grey) float64 {
	span := f.signed(c, f.Key) - f.signed(a, f.Key)
	if span < toldApart {
		return 0
	}
	share, most := (f.signed(b, f.Key)-f.signed(a, f.Key))/span, 0.0
	for i := range 3 {
		if !a.Clipped[i] && !b.Clipped[i] && !c.Clipped[i] {
			line := f.signed(a, i) + share*(f.signed(c, i)-f.signed(a, i))
			most = max(most, math.Abs(f.signed(b, i)-line))
		}
	}
	return most
}

// expose gives each grey its exposure: by the steps of the scale where they
// are known, else by the key's straight line.
func (f *fitting) expose() {
	for j, g := range f.greys {
		h := f.key.LogExposure(g.Density[f.Key])
		switch n := len(f.greys); {
		case len(f.Densities) > 0:
			h = f.Densities[0] - f.Densities[n-1-j]
		case f.Step > 0:
			h = f.Step * float64(j-n+1)
		}
		f.logH = append(f.logH, h)
	}
}

// points are the greys that plate i holds.
func (f *fitting) points(i int) []point {
	var out []point
	for j, g := range f.greys {
		if !g.Clipped[i] {
			err := math.Hypot(max(g.Error[i], LeastError), max(g.Error[f.Key], LeastError))
			out = append(out, point{f.logH[j], f.signed(g, i), err})
		}
	}
	return out
}

// line is the straight line of plate i. Where its greys do not give a slope it
// has the key's, and where it holds none of them it is as assumed.
func (f *fitting) line(i int) line {
	p := f.points(i)
	l, ok := straightest(p)
	switch {
	case ok && l.slope > 0.05:
		return l
	case len(p) > 0:
		return line{f.key.Gamma, p[len(p)-1].q - f.key.Gamma*p[len(p)-1].h}
	}
	film := f.Films[i]
	return line{film.Gamma, f.sign(i) * film.White}
}

// film is the film of plate i: its line, and a bend where its greys show one.
// White has the log exposure 0 of logH.
func (f *fitting) film(i int) tone.Film {
	l := f.lines[i]
	film := tone.Film{Negative: f.Films[i].Negative, Gamma: l.slope, White: f.sign(i) * l.at0}
	if b, ok := f.bend(i); ok {
		film.Bend = b
		film.White = b.Density(film.White)
	}
	return film
}

// align gives the films the white and the black of the key.
func (f *fitting) align(films *[3]tone.Film) {
	key := films[f.Key]
	white, black := key.LogExposure(f.key.White), key.LogExposure(f.key.Black)
	for i, film := range films {
		films[i].White, films[i].Black = film.Density(white), film.Density(black)
	}
}

// compare fills in how plate i stands to the key.
func (f *fitting) compare(i int, film tone.Film, logH []float64) Curve {
	key := f.lines[f.Key]
	c := Curve{Slope: f.lines[i].slope / key.slope}
	var shift, exposure, slope, curve []float64
	for j, g := range f.greys {
		if g.Clipped[i] {
			c.Clipped++
			continue
		}
		q := f.signed(g, i)
		shift = append(shift, q-f.signed(g, f.Key))
		exposure = append(exposure, q-key.at(f.logH[j]))
		slope = append(slope, q-f.lines[i].at(f.logH[j]))
		curve = append(curve, q-f.sign(i)*film.Density(logH[j]))
	}
	if f.sign(i) == f.sign(f.Key) { // a negative and a positive have no density in common
		c.Shift = mean(shift)
		if f.Base[i] >= 0 && f.Base[f.Key] >= 0 {
			c.Shift -= f.sign(i) * (f.Base[i] - f.Base[f.Key])
		}
		c.Stops = c.Shift / key.slope / math.Log10(2)
	}
	c.AfterExposure = spread(exposure)
	c.AfterSlope = rms(slope)
	c.AfterCurve = rms(curve)
	for j := 1; j < len(f.greys); j++ {
		step := f.signed(f.greys[j], f.Key) - f.signed(f.greys[j-1], f.Key)
		if i != f.Key && step > toldApart && f.signed(f.greys[j], i)-f.signed(f.greys[j-1], i) < mergedBelow*step*c.Slope {
			c.Merged++
		}
	}
	return c
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(max(len(v), 1))
}

func rms(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(max(len(v), 1)))
}

// spread is the root mean square about the mean.
func spread(v []float64) float64 {
	m := mean(v)
	return math.Sqrt(max(rms(v)*rms(v)-m*m, 0))
}
