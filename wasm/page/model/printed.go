package model

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/fade"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
	"threeply/proof/words"
)

// Printed is how the layers are printed from their plates, and what that does.
type Printed struct {
	Way    relief.Way  `json:"way"`    // as the session has it
	Tuned  string      `json:"tuned"`  // why the print is tuned though the session says straight, "" otherwise
	Prints [3]OwnPrint `json:"prints"` // by printer
	Ratio  string      `json:"ratio"`  // of the exposures of the three layers, in words
	Curve  []Drawn     `json:"curve"`  // of tuned negatives, from the lightest tone on
	Plot   Plotted     `json:"plot"`   // of the negatives as they are made
	Greys  string      `json:"greys"`  // how a middle grey and black of the scene print, in words

	Exhibition pigment.Exhibition `json:"exhibition"`
	Fading     []Fading           `json:"fading"` // what it leaves of each layer, by printer
}

// OwnPrint is what one plate prints.
type OwnPrint struct {
	Printer string  `json:"printer"`
	Stops   float64 `json:"stops"`
	Light   string  `json:"light"`   // the same in words, such as "15 % more light"
	Lost    string  `json:"lost"`    // what the wash takes, in words; "" where no plates are open
	Blocked string  `json:"blocked"` // where the coat is through
	Range   float64 `json:"range"`   // density range of the plate as it is, 0 where none is open
}

// Drawn is what tuned negatives have where a neutral of the scene is printed.
type Drawn struct {
	Lightness float64    `json:"lightness"` // L* of the neutral as it prints
	Density   [3]float64 `json:"density"`   // by printer, above the density that lets the normal exposure through
}

// Plotted is what the negatives hold of evenly spaced greys of the scene, from white, L* 100,
// to black; empty where no plates are open.
type Plotted struct {
	Density [3][]float64 `json:"density"` // by printer, UV density above the clear film
	Film    float64      `json:"film"`    // the largest density of the film
}

// plotted is how many greys a plot has.
const plotted = 41

// drawnAt are the tones of the print's scale, 0 paper to 1 depth, for which Curve gives
// densities.
var drawnAt = [...]float64{0.02, 0.1, 0.25, 0.5, 0.75, 1}

// Fading is what an exhibition leaves of a layer, in words.
type Fading struct {
	Printer  string `json:"printer"`
	Words    string `json:"words"`
	Measured bool   `json:"measured"` // of a strip
}

type printedOn struct {
	shown     pigment.Exhibition
	fading    [3]fade.Layer
	way, made relief.Way // as the session has it, and as it is printed
	masked    bool
	films     [3]tone.Film
	losses    [3]picture.Loss
	open      bool
	greys     [2]spectrum.Lab
	measured  bool       // the thresholds of all three tissues
	exposures [3]float64 // by printer
	curve     [len(drawnAt)]Drawn
	plot      [3][plotted]float64
	film      float64
}

func onPrinted(in Input) printedOn {
	s, likely := in.Session, in.Prints.Likely()
	on := printedOn{shown: s.OnShow(), way: s.Way, made: likely.Way(s), masked: s.Masked, films: filmsOf(s)}
	if in.View.Station == "proof" { // where they are shown
		on.losses, on.open = in.Prints.Losses(s)
		on.exposed(s, likely.Printing)
		_, on.fading = fade.Palette(likely.Recipe.Palette, on.shown, true)
		on.greys = [2]spectrum.Lab{likely.Grey(s, on.made, relief.MidGrey), likely.Grey(s, on.made, 1)}
	}
	return on
}

// exposed works out what the layers are exposed to, and what curve their tuned negatives
// have.
func (on *printedOn) exposed(s *session.State, p *picture.Printing) {
	tuned := on.made
	tuned.Straight, tuned.Stops = false, [3]float64{}
	on.measured = true
	made, drawn := p.Relief(s, on.made), p.Relief(s, tuned)
	for i := range made {
		h := p.Recipe.Palette.Layer(pigment.Printer(i)).Hardening
		on.measured = on.measured && (h.Threshold > 0 || len(h.Wedge) > 0)
		on.exposures[i] = made[i].Exposure()
	}
	on.film = s.Setup().Film.Max
	for i, l := range made {
		for k := range on.plot[i] {
			x := float64(k) / (plotted - 1)
			if on.made.Straight {
				x = relief.DensityOf(on.films[i], x)
			}
			on.plot[i][k] = l.Negative(x)
		}
	}
	for k, tone01 := range drawnAt {
		on.curve[k].Lightness = p.Grey(s, tuned, tone01)[0]
		for i, l := range drawn {
			on.curve[k].Density[i] = l.Negative(tone01)
		}
	}
}

// ratioWords says how the exposures of the layers compare.
func (on *printedOn) ratioWords() string {
	if !on.measured {
		return "Not known of these tissues: not all of their thresholds were measured. Print one wedge of each. Workshops of about 1910 gave cyan 1, yellow 2, magenta 3 (common practice): begin there."
	}
	least := min(on.exposures[0], on.exposures[1], on.exposures[2])
	said := make([]string, 0, 3)
	for _, i := range []pigment.Printer{pigment.Cyan, pigment.Yellow, pigment.Magenta} {
		said = append(said, fmt.Sprintf("%s %.2g", i, on.exposures[i]/least))
	}
	return "By the measured thresholds: " + strings.Join(said, ", ") + "."
}

func makePrinted(on printedOn) Printed {
	out := Printed{Way: on.way, Curve: []Drawn{}, Plot: Plotted{Density: [3][]float64{{}, {}, {}}}, Greys: greyWords("Middle grey", on.greys[0]) + " " + greyWords("Black", on.greys[1])}
	if on.masked && on.way.Straight {
		out.Tuned = "Masks work on tones: a masked print is a tuned one."
	}
	if on.open {
		out.Ratio, out.Curve = on.ratioWords(), on.curve[:]
		out.Plot.Film = on.film
		for i := range on.plot {
			out.Plot.Density[i] = on.plot[i][:]
		}
	}
	out.Exhibition = on.shown
	for i, l := range on.fading {
		out.Fading = append(out.Fading, Fading{pigment.Printer(i).String(), l.Words(), l.Measured})
	}
	for i := range out.Prints {
		p := OwnPrint{Printer: pigment.Printer(i).String(), Stops: on.way.Stops[i], Light: lightWords(on.way.Stops[i])}
		if on.open {
			l, f := on.losses[i], on.films[i]
			p.Range = math.Abs(f.White - f.Black)
			ends := func(stretch [2]float64) [2]float64 { return lightest(f, stretch) }
			if l.ByTone {
				ends = lightestTones
			}
			p.Lost = lossWords(l.Lost, "above", ends(l.LostFrom), false, l.ByTone)
			p.Blocked = lossWords(l.Blocked, "below", ends(l.BlockedFrom), true, l.ByTone)
		}
		out.Prints[i] = p
	}
	return out
}

// greyWords says how a neutral of the scene prints.
func greyWords(name string, lab spectrum.Lab) string {
	return fmt.Sprintf("%s: L* %s, a* %s, b* %s, %s.", name, words.Figure(lab[0], 0), words.Signed(lab[1], 1), words.Signed(lab[2], 1), words.Leaning(lab))
}

// lightWords says what stops are of light: "as meant", "15 % more light".
func lightWords(stops float64) string {
	by := math.Round(100 * (math.Exp2(stops) - 1))
	switch {
	case by > 0:
		return fmt.Sprintf("%.0f %% more light", by)
	case by < 0:
		return fmt.Sprintf("%.0f %% less light", -by)
	}
	return "as meant"
}

// lightest are the ends, as L* of the scene, of what a film holds between two densities,
// dark to light.
func lightest(f tone.Film, stretch [2]float64) [2]float64 {
	a, b := 100*(1-tone.Depth01(f.Exposure(stretch[0]))), 100*(1-tone.Depth01(f.Exposure(stretch[1])))
	return [2]float64{min(a, b), max(a, b)}
}

// lightestTones is lightest for a stretch of tones of a layer.
func lightestTones(stretch [2]float64) [2]float64 {
	return [2]float64{100 * (1 - stretch[1]), 100 * (1 - stretch[0])}
}

// lossWords says how much of the picture is lost, and from which tone on: of the scene or,
// of a masked print, as its masks make it.
func lossWords(share float64, side string, ends [2]float64, dark, masked bool) string {
	if share <= 0 {
		return words.Share(0)
	}
	from := ends[0]
	if dark {
		from = ends[1]
	}
	said := fmt.Sprintf("%s, %s L* %.0f", words.Share(share), side, from)
	if masked {
		said += " once masked"
	}
	return said
}
