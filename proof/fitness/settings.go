package fitness

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Of resolutions: those that programs write where nobody knows better, and the
// sizes of a picture on a plate that are likely, in centimetres (from a
// quarter of a small plate to a large studio's).
const (
	smallestPlate = 1.5
	largestPlate  = 60
)

var unlikelyPPI = []float64{72, 96}

// Placeholder tells whether a resolution, across and down, is one that programs write
// where nobody has measured: it says nothing of the size of a plate. A PNG counts in whole
// pixels a metre: its 72 is 72.009.
func Placeholder(ppi, down float64) bool {
	const exact = 0.0005
	return near(ppi, down, exact) && slices.ContainsFunc(unlikelyPPI, func(unlikely float64) bool { return near(ppi, unlikely, exact) })
}

func (p Plate) resolution() Finding {
	f := Finding{About: "resolution", Figure: fmt.Sprintf("%.0f ppi", p.PPI), Weight: Fine}
	if p.PPI <= 0 {
		f.Figure, f.Weight, f.Says = "none in the file", Mind, "The file does not say at how many pixels an inch the plate was scanned, so the plate's own size is not known."
		f.Do = "Let the scanner write its resolution."
		return f
	}
	wide, high := float64(p.Width)/p.PPI*2.54, float64(p.Height)/p.PPI*2.54
	f.Says = fmt.Sprintf("The picture on the plate is %.1f × %.1f cm.", wide, high)
	if Placeholder(p.PPI, p.PPIDown) {
		f.Weight, f.Says, f.Do = Mind, fmt.Sprintf("That is what programs write where nobody has measured: the picture would be %.0f × %.0f cm.", wide, high), "Let the scanner write its resolution."
		return f
	}
	switch {
	case p.PPIDown > 0 && !near(p.PPI, p.PPIDown, 0.001):
		f.Figure = fmt.Sprintf("%.0f ppi across, %.0f down", p.PPI, p.PPIDown)
		f.Weight, f.Says, f.Do = Mend, "Unequal across and down: the picture is stretched, or the file is wrong.", "Scan with one resolution both ways."
	case max(wide, high) > largestPlate || min(wide, high) < smallestPlate:
		f.Weight, f.Do = Mind, "Check the resolution that the file was given."
		f.Says += " That is unlikely."
	}
	return f
}

func (p Plate) encoding() Finding {
	f := Finding{About: "encoding", Figure: p.Encoding, Weight: Fine, Says: "The file says how its codes stand for light."}
	switch p.Known {
	case "chosen":
		f.Says = "As you chose."
	case "assumed":
		other, thin, dense := p.otherwise()
		f.Weight = Mind
		f.Says = fmt.Sprintf("Nothing in the file says how its codes stand for light; this was assumed. Taken as %s, the same codes read density %.2f to %.2f in place of %.2f to %.2f.", other, thin, dense, p.Thin, p.Dense)
		f.Do = "Look up how the scanner was set, and choose the encoding."
	case "":
		return Finding{}
	}
	return f
}

// otherwise reads the densities of an assumed encoding by the other likely one.
func (p Plate) otherwise() (name string, thin, dense float64) {
	if strings.HasPrefix(p.Encoding, "sRGB") {
		code := func(d float64) float64 { return -math.Log10(encodeSRGB(math.Pow(10, -d))) }
		return "linear", code(p.Thin), code(p.Dense)
	}
	return "gamma 2.2", 2.2 * p.Thin, 2.2 * p.Dense
}

// encodeSRGB is the code of linear light, both 0 … 1 (IEC 61966-2-1:1999; the
// constants are from memory).
func encodeSRGB(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// Of scans that were levelled: how near to the ends of all codes the picture
// comes, and the density below which no film lies: clear base has 0.03 to 0.05,
// glass plates of the time more (common practice).
const (
	fullRange = 0.02
	clearFilm = 0.03
)

func (p Plate) fillsTheCodes() bool {
	return p.Codes.Levels > 0 && p.Codes.Lowest < fullRange && p.Codes.Highest > 1-fullRange
}

func (p Plate) levelled() Finding {
	f := Finding{
		About: "levelled", Weight: Fine, Says: "No sign that the scan was levelled.",
		Figure: fmt.Sprintf("codes from %.0f to %.0f %%, thinnest density %.2f", 100*p.Codes.Lowest, 100*p.Codes.Highest, p.Thin),
	}
	const off = "Scan with fixed settings, automatics off."
	switch {
	case p.Codes.Levels == 0:
		return Finding{}
	case p.fillsTheCodes():
		f.Weight, f.Says, f.Do = Mind, "The picture fills all codes from black to white, as if it had been levelled on its own: its exposure and contrast are no longer the plate's.", off
	case p.Negative && p.Thin < clearFilm:
		f.Weight, f.Says, f.Do = Mind, "The thinnest part is clearer than any film: the scan was levelled, or the scanner's clear value lies on the film.", off
	}
	return f
}

// settings compares how the three were scanned.
func settings(plates [3]Plate) Finding {
	f := Finding{About: "settings", Figure: "the same in all three", Weight: Fine, Says: "The three scans were made alike."}
	var differ []string
	var ppi []float64
	for _, p := range plates {
		ppi = append(ppi, p.PPI)
	}
	if s := spreadOf(ppi); s > 1.001 {
		differ = append(differ, fmt.Sprintf("resolution (%.0f, %.0f and %.0f ppi)", plates[0].PPI, plates[1].PPI, plates[2].PPI))
	}
	if plates[0].Bits != plates[1].Bits || plates[0].Bits != plates[2].Bits {
		differ = append(differ, fmt.Sprintf("bits (%d, %d and %d)", plates[0].Bits, plates[1].Bits, plates[2].Bits))
	}
	if plates[0].Encoding != plates[1].Encoding || plates[0].Encoding != plates[2].Encoding {
		differ = append(differ, fmt.Sprintf("encoding (%s; %s; %s)", plates[0].Encoding, plates[1].Encoding, plates[2].Encoding))
	}
	if plates[0].Kind != plates[1].Kind || plates[0].Kind != plates[2].Kind {
		differ = append(differ, fmt.Sprintf("kind of file (%s, %s and %s)", plates[0].Kind, plates[1].Kind, plates[2].Kind))
	}
	if len(differ) > 0 {
		f.Figure, f.Weight = "they differ in "+strings.Join(differ, ", "), Mind
		f.Says, f.Do = "The three scans were not made alike, so their densities need not agree.", "Scan all three with the same settings."
	}
	return f
}

// polarity says where negatives and positives are mixed.
func polarity(plates [3]Plate) Finding {
	kind := func(p Plate) string { return map[bool]string{true: "negative", false: "positive"}[p.Negative] }
	f := Finding{About: "polarity", Figure: "three " + kind(plates[0]) + "s", Weight: Fine, Says: "All three are of one kind."}
	if plates[0].Negative != plates[1].Negative || plates[0].Negative != plates[2].Negative {
		f.Figure = fmt.Sprintf("%s, %s and %s", kind(plates[0]), kind(plates[1]), kind(plates[2]))
		f.Weight, f.Says, f.Do = Mend, "Negatives and positives are mixed: taken so, one plate runs against the others.", "Say of each plate which it is, if this is wrong."
	}
	return f
}
