package audit

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/neutral"
	"threeply/proof/picture"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// Greys is how the greys of the scene lie on the three plates, and how they print.
type Greys struct {
	Places  []Place  `json:"places"`  // that were used, from the darkest of the scene on
	Odd     []Place  `json:"odd"`     // that were left out: they part from their neighbours
	Curves  [3]Curve `json:"curves"`  //
	Neutral Printed  `json:"neutral"` // by the films as the session has them
	Contrast
}

// Place is one grey.
type Place struct {
	X       float64    `json:"x"`
	Y       float64    `json:"y"`
	LogH    float64    `json:"logH"` // log10 exposure against the scene's white
	Density [3]float64 `json:"density"`
	Clipped [3]bool    `json:"clipped"` // that plate's scan is at its limit here
	Uneven  bool       `json:"uneven"`  // it lies on an edge or on texture
}

// Curve is what one plate makes of the greys.
type Curve struct {
	Filter string         `json:"filter"`
	Key    bool           `json:"key"`
	Slope  float64        `json:"slope"` // density over log10 exposure, as the key's γ has it
	Stops  float64        `json:"stops"` // exposure against the key's
	Remedy neutral.Remedy `json:"remedy"`
	Words  string         `json:"words"` // what evens it out; "" of the key
	Line   [][2]float64   `json:"line"`  // log10 exposure and density along the film that the greys give
}

// Contrast answers whether unequal contrast can be corrected.
type Contrast struct {
	Remedy neutral.Remedy `json:"remedy"` // the greatest that a plate needs
	Answer string         `json:"answer"`
}

// Printed is how far from neutral the greys print the way that the session prints, what
// the wash takes and where the coat is through included. The difference is ΔE00 to the
// print's own neutral scale at the same lightness.
type Printed struct {
	Mean  float64 `json:"mean"`
	Worst float64 `json:"worst"`
	At    float64 `json:"at"` // L* of the worst
	Words string  `json:"words"`
}

// linePoints are the points of a Curve's Line.
const linePoints = 25

func greysOf(s *session.State, m neutral.Match) (*Greys, error) {
	out := &Greys{Places: []Place{}, Odd: []Place{}}
	for i, g := range m.Greys {
		out.Places = append(out.Places, placeOf(g, m.LogH[i]))
	}
	for _, g := range m.Odd {
		out.Odd = append(out.Odd, placeOf(g, m.Films[m.Key].LogExposure(g.Density[m.Key])))
	}
	low, high := m.LogH[0], m.LogH[0]
	for _, h := range m.LogH {
		low, high = min(low, h), max(high, h)
	}
	for i, p := range m.Plates {
		c := Curve{
			Filter: filter.Filter(i).String(), Key: i == m.Key, Slope: p.Slope * m.Films[m.Key].Gamma, Stops: p.Stops,
			Remedy: p.Remedy(), Words: m.Words(i),
		}
		if c.Key {
			c.Remedy = neutral.Nothing
		}
		for k := range linePoints {
			h := low - 0.1 + (high-low+0.2)*float64(k)/(linePoints-1)
			c.Line = append(c.Line, [2]float64{h, m.Films[i].Density(h)})
		}
		out.Curves[i] = c
	}
	out.Contrast = contrastOf(out.Curves, len(m.Greys))
	var err error
	out.Neutral, err = printed(s, m.Greys)
	return out, err
}

func placeOf(g neutral.Grey, logH float64) Place {
	return Place{g.X, g.Y, logH, g.Density, g.Clipped, g.Uneven}
}

var remedies = []neutral.Remedy{neutral.Nothing, neutral.Exposure, neutral.Slope, neutral.Bent, neutral.Beyond}

func contrastOf(curves [3]Curve, greys int) Contrast {
	worst, need := 0, map[neutral.Remedy][]string{}
	for _, c := range curves {
		if c.Key {
			continue
		}
		need[c.Remedy] = append(need[c.Remedy], c.Filter)
		for rank, r := range remedies {
			if r == c.Remedy {
				worst = max(worst, rank)
			}
		}
	}
	c := Contrast{Remedy: remedies[worst]}
	plates := plateNames(need[c.Remedy])
	switch c.Remedy {
	case neutral.Nothing:
		c.Answer = "There is nothing to correct: the greys of the three plates agree."
	case neutral.Exposure:
		c.Answer = fmt.Sprintf("Yes: exposure alone, of %s.", plates)
	case neutral.Slope:
		c.Answer = fmt.Sprintf("Yes: by a curve of another slope for %s. Exposure alone would not do.", plates)
	case neutral.Bent:
		c.Answer = fmt.Sprintf("Yes: by a curve that bends for %s. Neither exposure nor another slope would do.", plates)
	case neutral.Beyond:
		c.Answer = fmt.Sprintf("Not all of it: %s is beyond it, at some of the greys.", plates)
		if len(need[c.Remedy]) > 1 {
			c.Answer = fmt.Sprintf("Not all of it: %s are beyond it, at some of the greys.", plates)
		}
	}
	if greys == 1 {
		c.Answer = "One grey tells exposures, not contrast: point at a lighter and a darker one too."
	}
	return c
}

func plateNames(names []string) string {
	if len(names) == 1 {
		return "the " + names[0] + " plate"
	}
	return "the " + strings.Join(names, " and the ") + " plate"
}

// cast is the ΔE00 from which a grey is said to have one; beside a neutral it is
// seen from about there (common practice, no source).
const cast = 2

func printed(s *session.State, greys []neutral.Grey) (Printed, error) {
	p, err := picture.Prepare(s)
	if err != nil {
		return Printed{}, err
	}
	way := p.Way(s)
	out, off := judged(s, p, way, greys)
	out.Words = castWords(off, out)
	if way.Straight && out.Worst >= cast {
		way.Straight = false
		tuned, _ := judged(s, p, way, greys)
		out.Words += fmt.Sprintf(" That is how they print straight; from tuned negatives none would be more than ΔE00 %.1f off.", math.Ceil(10*tuned.Worst)/10)
	}
	return out, nil
}

// judged prints the greys one way and holds each to the print's own neutral of the
// same lightness.
func judged(s *session.State, p *picture.Printing, way relief.Way, greys []neutral.Grey) (out Printed, off []offGrey) {
	layers := p.Relief(s, way)
	lab := func(amount [3]float64) spectrum.Lab { return p.Light.Lab(p.Recipe.Reflectance(amount)) }
	for _, g := range greys {
		var amount [3]float64
		for _, f := range filter.All {
			at := g.Density[f]
			if !way.Straight {
				at = tone.Depth01(s.Sources[s.Assign[f]].Film.Exposure(at))
			}
			amount[f.Printer()] = layers[f.Printer()].Amount(at)
		}
		print := lab(amount)
		light, deep := 0.0, 1.0 // places on the neutral scale, on either side of this lightness
		for range halvings {
			if mid := (light + deep) / 2; lab(p.Scale.Thickness(mid))[0] > print[0] {
				light = mid
			} else {
				deep = mid
			}
		}
		aim := lab(p.Scale.Thickness((light + deep) / 2))
		one := offGrey{print[0], print[1] - aim[1], print[2] - aim[2], spectrum.DeltaE00(print, spectrum.Lab{print[0], aim[1], aim[2]})}
		off = append(off, one)
		out.Mean += one.dE / float64(len(greys))
		if one.dE >= out.Worst {
			out.Worst, out.At = one.dE, one.lightness
		}
	}
	return out, off
}

// halvings find a lightness on the neutral scale to within a ten-thousandth of it.
const halvings = 14

// offGrey is how a grey prints: its L*, a* and b* less those of a neutral, and the
// difference.
type offGrey struct{ lightness, a, b, dE float64 }

// The tones by L* of the print.
var tones = []struct {
	below float64
	name  string
}{{35, "shadows"}, {65, "middle tones"}, {math.Inf(1), "lights"}}

// castWords says at which tones greys print with a cast, and of which colour.
func castWords(off []offGrey, all Printed) string {
	if all.Worst < cast {
		return fmt.Sprintf("Yes, where greys were read: none prints more than ΔE00 %.1f off.", math.Ceil(10*all.Worst)/10)
	}
	var where []string
	seen := 0
	from := math.Inf(-1)
	for _, t := range tones {
		var worst offGrey
		here := false
		for _, g := range off {
			if g.lightness >= from && g.lightness < t.below {
				here = true
				if g.dE > worst.dE {
					worst = g
				}
			}
		}
		from = t.below
		if here {
			seen++
		}
		if worst.dE >= cast {
			where = append(where, fmt.Sprintf("%s turn %s (ΔE00 %.1f)", t.name, hueName(worst.a, worst.b), worst.dE))
		}
	}
	rest := ""
	if len(where) < seen {
		rest = " The other tones print neutral."
	}
	return "Not everywhere: " + strings.Join(where, ", ") + "." + rest
}

// hueName names a direction of a* and b*.
func hueName(a, b float64) string {
	names := []string{"red", "orange", "yellow", "green", "green", "blue-green", "blue", "blue", "violet", "purple"}
	angle := math.Mod(math.Atan2(b, a)*180/math.Pi+360, 360)
	return names[int(math.Mod(angle-9+360, 360)/36)]
}
