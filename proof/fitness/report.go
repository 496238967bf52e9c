package fitness

import (
	"fmt"
	"math"
	"slices"
)

// Report judges three plates. width is that of the print in millimetres, 0
// where it is not known. Findings come plate by plate, and of the set at the end;
// what is fine is among them.
func Report(plates [3]Plate, width float64) []Finding {
	var out []Finding
	sharpest := 0.0
	for _, p := range plates {
		if p.Blur > 0 && (sharpest == 0 || p.Blur < sharpest) {
			sharpest = p.Blur
		}
	}
	for i, p := range plates {
		for _, f := range []Finding{
			p.clipping(), p.levels(), p.combs(), p.compression(), p.sharpness(sharpest), p.streaks(),
			p.resolution(), p.encoding(), p.levelled(), p.base(), p.stops(), p.onPrint(width),
		} {
			if f.About != "" {
				f.Plate = i
				out = append(out, f)
			}
		}
	}
	for _, f := range []Finding{settings(plates), polarity(plates), together(plates)} {
		if f.About != "" {
			f.Plate = All
			out = append(out, f)
		}
	}
	return out
}

// Worst is the greatest weight of the findings.
func Worst(findings []Finding) Weight {
	worst := Fine
	for _, f := range findings {
		if f.Weight == Mend || f.Weight == Mind && worst == Fine {
			worst = f.Weight
		}
	}
	return worst
}

// Shares of the picture at a limit of the scanner: from the first on an end is
// cut off, from the second on it shows.
const (
	someClipped = 0.001
	muchClipped = 0.01
)

func (p Plate) clipping() Finding {
	f := Finding{About: "clipped ends", Figure: fmt.Sprintf("%.1f %% at clear, %.1f %% at black", 100*p.Clipped[0], 100*p.Clipped[1])}
	worst := max(p.Clipped[0], p.Clipped[1])
	ends := [2]string{"shadows", "highlights"}
	if !p.Negative {
		ends = [2]string{"highlights", "shadows"}
	}
	lost := ends[0]
	if p.Clipped[1] > p.Clipped[0] {
		lost = ends[1]
	}
	switch {
	case worst <= someClipped:
		f.Weight, f.Says = Fine, "Both ends of the picture lie within what the scanner saw."
	case worst <= muchClipped:
		f.Weight, f.Says, f.Do = Mind, fmt.Sprintf("A little of the picture's %s is cut off.", lost), "If they matter, scan again with more room."
	default:
		f.Weight, f.Says, f.Do = Mend, fmt.Sprintf("The scanner cut the picture's %s off: there the plate says nothing.", lost), "Scan again with more room at that end."
	}
	return f
}

func (p Plate) levels() Finding {
	f := Finding{About: "levels used", Figure: fmt.Sprintf("%d levels in %d bits", p.Codes.Levels, p.Bits)}
	n := p.Codes.Levels
	switch {
	case n == 0:
		return Finding{}
	case n <= 64:
		f.Weight, f.Says, f.Do = Mend, fmt.Sprintf("The picture has only %d greys: smooth tones break into steps.", n), "Scan again in 16 bits."
	case p.Bits > 8 && p.Codes.Unit >= 255:
		f.Weight, f.Says, f.Do = Mind, "These are 8 bits that were saved as 16: the finer steps are not there.", "Scan in 16 bits from the start."
	case p.Bits == 8:
		f.Weight, f.Says, f.Do = Mind, "8 bits are coarse in the dense parts of a plate.", "Scan in 16 bits if you can."
	default:
		f.Weight, f.Says = Fine, "Fine enough."
	}
	return f
}

func (p Plate) combs() Finding {
	f := Finding{About: "combs", Figure: fmt.Sprintf("%.0f %% gaps, %.0f %% spikes", 100*p.Codes.Gaps, 100*p.Codes.Spikes), Weight: Fine, Says: "The tones lie evenly."}
	if p.Codes.Levels <= 64 {
		return Finding{} // said by the levels
	}
	if p.Codes.Gaps > 0.03 || p.Codes.Spikes > 0.06 {
		f.Weight, f.Says, f.Do = Mind, "The tones have gaps or heaps at even distances: the scan was changed after it had been rounded.", "Use the scan as it came from the scanner."
	}
	return f
}

func (p Plate) compression() Finding {
	f := Finding{About: "compression", Figure: p.Kind, Weight: Fine, Says: "Nothing was lost."}
	switch {
	case p.Kind == "":
		return Finding{}
	case p.Step > 8:
		f.Weight, f.Says, f.Do = Mend, "Strong compression: blocks and rings show in even tones, and register and greys suffer.", "Save scans as TIFF."
	case p.Step > 0:
		f.Weight, f.Says, f.Do = Mind, "Compressed with some loss.", "Save scans as TIFF."
	}
	if p.Step > 0 {
		f.Figure = fmt.Sprintf("%s, rounds to %.1f steps of 255 on the average", p.Kind, p.Step)
	}
	return f
}

// Of unsharpness against the sharpest plate. A blue plate is often a little
// softer: lenses of the time were made sharp for yellow light (common practice).
const (
	softer     = 1.4
	muchSofter = 2.5
)

func (p Plate) sharpness(sharpest float64) Finding {
	if p.Blur <= 0 || sharpest <= 0 {
		return Finding{}
	}
	ratio := p.Blur / sharpest
	f := Finding{About: "sharpness", Figure: fmt.Sprintf("edges spread by %.1f px, %.1f times the sharpest plate's", p.Blur, ratio), Weight: Fine, Says: "As sharp as the others."}
	switch {
	case ratio > muchSofter:
		f.Weight, f.Says, f.Do = Mend, "Much softer than the sharpest plate: edges will have coloured seams.", "Look at the plate itself; if it is sharp, focus and scan again."
	case ratio > softer:
		f.Weight, f.Says, f.Do = Mind, "Softer than the sharpest plate: fine edges will have faint coloured seams.", "Look at the plate itself; if it is sharp, scan again."
	}
	return f
}

func (p Plate) streaks() Finding {
	n := p.Streaks.Down + p.Streaks.Across
	f := Finding{About: "streaks", Figure: fmt.Sprintf("%d down, %d across", p.Streaks.Down, p.Streaks.Across), Weight: Fine, Says: "No line runs through the whole scan."}
	if n > 0 {
		f.Figure += fmt.Sprintf(", up to %.3f in density", p.Streaks.Density)
		f.Weight, f.Says, f.Do = Mind, "Straight lines run through the whole scan: dirt on the scanner, or scratches.", "Clean the glass and scan again; a line that stays belongs to the plate."
	}
	return f
}

func (p Plate) base() Finding {
	if !p.Negative {
		return Finding{}
	}
	f := Finding{About: "base and fog", Figure: fmt.Sprintf("%.2f, from the rebate", p.Rebate), Weight: Fine, Says: "Film that no light reached was found beside the picture."}
	if p.Rebate <= 0 {
		f.Figure, f.Weight = fmt.Sprintf("%.2f, the picture's thinnest", p.Thin), Mind
		f.Says, f.Do = "No rebate was found, so base and fog are taken from the picture's darkest shadows.", "Scan a strip of the clear edge with the picture."
	}
	return f
}

func (p Plate) stops() Finding {
	stops, atLeast := p.Stops()
	if stops == 0 {
		return Finding{}
	}
	f := Finding{About: "range", Weight: Fine, Says: "What the plate holds of the scene's light, by its γ."}
	f.Figure = fmt.Sprintf("density %.2f to %.2f, %.1f stops", p.Thin, p.Dense, stops)
	if atLeast {
		f.Figure = fmt.Sprintf("density %.2f to %.2f, at least %.1f stops", p.Thin, p.Dense, stops)
		f.Says = "What the plate holds of the scene's light, by its γ; more, where the scan clips."
	}
	return f
}

// Pixels an inch of a print that the eye no longer parts at reading distance,
// and that it sees as steps (common practice).
const (
	enoughPPI = 300
	leastPPI  = 150
)

func (p Plate) onPrint(width float64) Finding {
	if width <= 0 || p.Width <= 0 {
		return Finding{}
	}
	ppi := float64(p.Width) / width * 25.4
	f := Finding{About: "pixels on the print", Figure: fmt.Sprintf("%.0f to the inch at %.0f mm", ppi, width), Weight: Fine, Says: "Enough for a print held in the hand."}
	room := fmt.Sprintf("For 300 to the inch print it up to %.0f mm wide, or scan finer.", float64(p.Width)/enoughPPI*25.4)
	switch {
	case ppi < leastPPI:
		f.Weight, f.Says, f.Do = Mend, "Pixels will show.", room
	case ppi < enoughPPI:
		f.Weight, f.Says, f.Do = Mind, "A little soft in the hand, enough on the wall.", room
	}
	return f
}

// LevelledApart is what a finding of the set is about where its scans seem to have been levelled
// one by one.
const LevelledApart = "levelled each on its own"

// together looks at what the three have in common.
func together(plates [3]Plate) Finding {
	n := 0
	for _, p := range plates {
		if p.fillsTheCodes() {
			n++
		}
	}
	if n < 2 {
		return Finding{}
	}
	return Finding{
		About: LevelledApart, Weight: Mind, Figure: fmt.Sprintf("%d of 3 scans fill all codes from black to white", n),
		Says: "The scans seem to have been levelled one by one: what they tell of the light of the scene is gone, and only a grey can bring it back.",
		Do:   "Scan all three with the same fixed settings, automatics off; until then point at greys.",
	}
}

// spreadOf is the largest over the smallest of what is above 0, 1 of nothing.
func spreadOf(v []float64) float64 {
	v = slices.DeleteFunc(v, func(x float64) bool { return !(x > 0) })
	if len(v) == 0 {
		return 1
	}
	return slices.Max(v) / slices.Min(v)
}

func near(a, b, share float64) bool { return math.Abs(a-b) <= share*max(math.Abs(a), math.Abs(b)) }
