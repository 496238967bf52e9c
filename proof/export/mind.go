package export

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/negative"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
)

// What a print is warned of (common practice, without a source).
const (
	leastPrintPPI   = 150 // of the plates at the print's size
	mostEnlargement = 8
)

// NegativeNotes says what to mind before the negatives are printed: the film sheet, what
// the film does not hold, the plates' resolution, and the coat.
func NegativeNotes(s *session.State, p *picture.Printing) []string {
	var out []string
	setup, layout := s.Setup(), NegativeLayout(s)
	w, h := layout.SizeMM()
	_, words, _ := setup.SheetFor(w, h)
	out = append(out, words)
	if setup.Marks && len(layout.Wedge) == 0 {
		out = append(out, "The print is too small for its wedges: they are left out. Print them on a film of their own.")
	}
	if len(setup.Film.Table) == 0 {
		out = append(out, fmt.Sprintf("The film was not measured. It is taken to be linear from clear to a UV density of %.4g; enter its table before you rely on the tones.", setup.Film.Max))
	}
	if setup.Screen > 0 {
		out = append(out, dotNotes(s, p)...)
	}
	out = append(out, filmNotes(s, p)...)
	if NotInRegister(s) != "" {
		out = append(out, "NOT IN REGISTER: the plates are not registered, or not with any confidence, and the label says so. Register them before you spend film.")
	}
	return append(out, PrintNotes(s)...)
}

// filmNotes says of each layer what of the picture its film cannot hold.
func filmNotes(s *session.State, p *picture.Printing) []string {
	var out []string
	way, most := p.Way(s), s.Setup().Film.Max
	for i, l := range p.Relief(s, way) {
		printer := pigment.Printer(i)
		film := s.Sources[s.SourceOf(printer)].Film
		needs := ThresholdDensity(l)
		height := l.Response.Hardened(l.Normal+l.Stops*math.Log10(2)-most) / l.Response.Coat
		// The tones of the scene, from white on, that the film cannot tell apart.
		veiled, clear := 0.0, 1.0
		for k := range 1001 {
			u := float64(k) / 1000
			x := u
			if way.Straight {
				x = relief.DensityOf(film, u)
			}
			switch d := l.Negative(x); {
			case d > most:
				veiled = max(veiled, u)
			case d < -0.005:
				clear = min(clear, u)
			}
		}
		if needs > most+0.005 && veiled > 0 {
			out = append(out, fmt.Sprintf("The %s layer needs a density of %.2f, and the film reaches %.2f: whites keep a veil of %.0f %% of the coat, and tones above L* %.0f print alike. Take a denser film, a tissue of a shorter range, or screened negatives.",
				printer, needs, most, 100*height, 100*(1-veiled)))
		}
		if clear < 1 {
			out = append(out, fmt.Sprintf("The %s layer would need film that is clearer than clear: tones below L* %.0f print lighter than they should. Give it more exposure.", printer, 100*(1-clear)))
		}
	}
	return out
}

// dotNotes says what of screened negatives does not hold on the tissue: dots that are too
// small, and tones of the scene whose tints are.
func dotNotes(s *session.State, p *picture.Printing) []string {
	var out []string
	setup := s.Setup()
	if _, micron := setup.Dot(); micron < setup.Dots.Holds-0.5 {
		out = append(out, fmt.Sprintf("Dots of %.0f µm are smaller than the smallest that holds on the tissue, %.0f µm: they wash off. Make them larger.", micron, setup.Dots.Holds))
	}
	if setup.Dots.Least == 0 && setup.Dots.Most == 0 {
		return out
	}
	growth, scale, shape := setup.Growth(), p.DotScale(), p.Way(s).Shape
	for _, printer := range pigment.Printers() {
		light, dark := 0.0, 1.0 // tones of the scene, from white on: up to light bare, from dark on whole
		for k := range 1001 {
			u := float64(k) / 1000
			area := scale.Area(printer, shape.Tone(u, int(printer)))
			switch tint := growth.Film(area); {
			case tint == 0 && area > 0:
				light = max(light, u)
			case tint == 1 && area < 1:
				dark = min(dark, u)
			}
		}
		if light > 0 {
			out = append(out, fmt.Sprintf("The %s layer has no tints below %.3g %% that hold: tones above L* %.0f stay bare.", printer, 100*setup.Dots.Least, 100*(1-light)))
		}
		if dark < 1 {
			out = append(out, fmt.Sprintf("The %s layer fills in above a tint of %.3g %%: tones below L* %.0f print whole.", printer, 100*setup.Dots.Most, 100*(1-dark)))
		}
	}
	return out
}

// PrintNotes says what to mind of the print itself: resolution, enlargement, what is
// toxic, and a relief that its coat does not hold.
func PrintNotes(s *session.State) []string {
	var out []string
	if w, _ := s.Frame(); w > 1 {
		if ppi := 25400 / s.PixelMicrons(); ppi < leastPrintPPI {
			out = append(out, fmt.Sprintf("At %.0f mm the plates have %.0f pixels an inch; below %d a print looks soft from near by. Scan them finer, or print smaller.", s.PrintWidth, ppi, leastPrintPPI))
		}
		if src := s.Sources[s.KeySource()]; src.PPI > 0 {
			if by := src.PPI / (25400 / s.PixelMicrons()); by > mostEnlargement {
				out = append(out, fmt.Sprintf("The print is %.1f times the size of the plate; beyond %d times grain, dust and softness show.", by, mostEnlargement))
			}
		}
	}
	palette, ok := s.PaletteByID(s.Palette)
	if !ok {
		return out
	}
	works := s.Works()
	for _, printer := range pigment.Printers() {
		tissue := palette.Layer(printer)
		if coat := works.Layers[printer].Coat; coat.Given() && coat.Relief() < 0.995*tissue.CoatMicron {
			out = append(out, fmt.Sprintf("The %s coat is poured for %.0f µm after the wash, and its tissue is computed with %.0f µm: the relief would be higher than the coat. Pour it thicker, or set the tissue's coat.", printer, coat.Relief(), tissue.CoatMicron))
		}
		if load, ok := works.Layers[printer].Load(); ok && math.Abs(load/tissue.Load-1) > 0.05 {
			out = append(out, fmt.Sprintf("The %s mix has load %.2f by its drawdown, and its tissue is computed with %.2f: the print would not look as the proof does. Set the tissue's load, or mix it anew.", printer, load, tissue.Load))
		}
	}
	return append(out, ToxicNotes(palette)...)
}

// ToxicNotes names the toxic pigments of a palette, each once.
func ToxicNotes(p pigment.Palette) []string {
	var out []string
	seen := map[string]bool{}
	for _, printer := range pigment.Printers() {
		for _, share := range p.Layer(printer).Pigments {
			g, ok := pigment.PigmentByCI(share.CI)
			if ok && strings.HasPrefix(strings.ToUpper(g.Hazard), "TOXIC") && !seen[g.CI] {
				seen[g.CI] = true
				out = append(out, fmt.Sprintf("%s (%s), in the %s tissue: %s", g.Name, g.CI, printer, g.Hazard))
			}
		}
	}
	return out
}

// PrintArea is the part of the key plate that is printed, x0, y0, x1, y1 in its pixels, and
// its size in mm.
func PrintArea(s *session.State) (area [4]int, w, h float64) {
	fw, fh := s.Frame()
	area = [4]int{0, 0, fw, fh}
	if in := s.Sources[s.KeySource()].Area; s.Setup().Trim == negative.TrimPicture && in[2] > in[0] && in[3] > in[1] {
		area = in
	}
	mm := s.PixelMicrons() / 1000
	return area, float64(area[2]-area[0]) * mm, float64(area[3]-area[1]) * mm
}

// NegativeLayout is that of a session's printing negatives.
func NegativeLayout(s *session.State) negative.Layout {
	_, w, h := PrintArea(s)
	setup := s.Setup()
	return negative.Of(setup, w, h, setup.Mirrored(s.Transfer()))
}

// ExposureWords is what a layer is exposed to, as far as it is known.
func ExposureWords(s *session.State, p pigment.Printer) string {
	stops := s.Way.Stops[p]
	if said := s.Works().Exposed(int(p), stops); said != "" {
		return said
	}
	if stops != 0 {
		return fmt.Sprintf("base %+.2f stops", stops)
	}
	return "base"
}

// ThresholdDensity is the density of the negative behind which a layer just survives the
// wash: what is denser prints as bare paper. It is the most that a film has to reach.
func ThresholdDensity(l relief.Layer) float64 {
	return l.Normal + l.Stops*math.Log10(2) - l.Response.Exposure(l.Response.HoldOn)
}
