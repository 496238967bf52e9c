package export

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/fade"
	"threeply/proof/filter"
	"threeply/proof/light"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/stack"
)

// RestsOn says what a proof of a palette rests on and what it does not show.
func RestsOn(p pigment.Palette) string {
	from := "Estimate from published or remembered pigment spectra, not from your tissues; scattering is the least certain number and decides the deep blacks."
	if p.Measured != nil {
		from = "Estimate from tissues of a test sheet. " + p.Measured.Words() + " Another batch, paper or surface may print otherwise."
	}
	return from + " It does not show gloss, relief, grain, slip or the screen's own error."
}

// About describes a picture that leaves the tool, in sentences: what it is, of
// which tissues, how printed, at what width, what it rests on, and, where its
// plates are not in register with some confidence, that too.
func About(s *session.State, p *picture.Printing, kind render.Kind) string {
	var parts []string
	if kind == render.Reference {
		parts = append(parts, "Reference: the three plates added as red, green and blue light.", NeutralWords(s))
	} else {
		parts = append(parts, "Likely print in three pigmented gelatine layers, computed.", recipeWords(s, p), WayWords(p.Way(s)), MaskWords(p), NeutralWords(s), RestsOn(p.Recipe.Palette))
		for _, printer := range pigment.Printers() {
			if s.Hidden[printer] {
				parts = append(parts, fmt.Sprintf("The %s layer is hidden and left out.", printer))
			}
		}
	}
	parts = append(parts, fmt.Sprintf("The key plate's width is %g mm.", s.PrintWidth))
	if note := NotInRegister(s); note != "" {
		parts = append(parts, note)
	}
	return strings.Join(parts, " ") + partedWords(s, s.Assign[:])
}

// cautions says of a picture drawn from the plates of some sources, in sentences that each
// begin with a space, how much of it is hatched since not all of them reach there, and
// whether a part of one lies elsewhere than the rest; "" where there is nothing to say.
func cautions(s *session.State, sources ...int) string {
	out := ""
	if share := place.Unreached(s, sources...); share >= 0.0005 {
		out = fmt.Sprintf(" Hatched: %.1f %% of the picture, where the plate does not reach.", 100*share)
		if len(sources) > 1 {
			out = fmt.Sprintf(" Hatched: %.1f %% of the picture, where not all plates reach.", 100*share)
		}
	}
	return out + partedWords(s, sources)
}

// partedWords names the plates of some sources of which a part lies elsewhere than the
// rest.
func partedWords(s *session.State, sources []int) string {
	out := ""
	for _, f := range filter.All {
		if i := s.Assign[f]; slices.Contains(sources, i) && register.Parted(&s.Survey[i]) {
			out += fmt.Sprintf(" A part of the %s plate lies elsewhere than the rest of it and is out of register.", f)
		}
	}
	return out
}

// FadedWords says what of a print is shown after an exhibition, and on what that rests.
func FadedWords(p pigment.Palette, e pigment.Exhibition, worst bool) string {
	end := "least"
	if worst {
		end = "most"
	}
	_, layers := fade.Palette(p, e, worst)
	var left []string
	for _, printer := range pigment.Printers() {
		left = append(left, fmt.Sprintf("%s %s", printer, layers[printer].Words()))
	}
	return fmt.Sprintf("As it may look %s, at the %s: %s. Assumed by the blue wool classes of the pigments where no strip was measured.", e.Words(), end, strings.Join(left, "; "))
}

func recipeWords(s *session.State, p *picture.Printing) string {
	var layers []string
	for _, printer := range p.Recipe.Order {
		layers = append(layers, fmt.Sprintf("%s (%s)", printer, tissueWords(p.Recipe.Palette.Layer(printer))))
	}
	finish, _ := stack.FinishByID(s.Finish)
	room := ""
	if p.Dim {
		room = fmt.Sprintf(", as seen in a gallery of %d lx", session.GalleryLux)
	}
	return fmt.Sprintf("Palette %s; from the paper up %s; no layer thicker than %.4g of its coat; paper: %s; surface: %s; light: %s%s.",
		p.Recipe.Palette.Name, strings.Join(layers, ", "), p.Limit, p.Recipe.Paper.Name, finish.Name, p.Light.Name, room)
}

// tissueWords says what a tissue is made of, so that it can be made again:
// pigments, their shares where there are several, where their spectra come
// from, and its amounts where they are not as tabulated.
func tissueWords(t pigment.Tissue) string {
	var parts []string
	for _, share := range t.Pigments {
		g, _ := pigment.PigmentByCI(share.CI) // sound tissues hold pigments of the table only
		if t.Measured != nil {
			g.Status = "measured as a tissue"
		}
		name := g.Name + ", " + share.CI
		if len(t.Pigments) > 1 {
			name += fmt.Sprintf(", %.4g %%", 100*share.Share)
		}
		parts = append(parts, name+": "+g.Status)
	}
	for _, amount := range []struct {
		name         string
		v, tabulated float64
		unit         string
	}{{"load", t.Load, 1, ""}, {"haze", t.Haze, 1, ""}, {"coat", t.CoatMicron, pigment.DefaultCoat, " µm"}} {
		if amount.v != amount.tabulated {
			parts = append(parts, fmt.Sprintf("%s %.4g%s", amount.name, amount.v, amount.unit))
		}
	}
	return strings.Join(parts, "; ")
}

// WayWords says how the layers are printed from their plates.
func WayWords(w relief.Way) string {
	out := "Printed tuned: negatives drawn so that neutrals print neutral"
	if w.Straight {
		out = "Printed straight: each plate as it is"
		if w.Range > 0 {
			out = fmt.Sprintf("Printed straight: each plate enlarged to a density range of %.4g", w.Range)
		}
		aim := "a mid grey"
		if w.AtDepth {
			aim = "the black"
		}
		out += ", one exposure a layer, right for " + aim
	}
	if !w.Straight {
		out += shapeWords(w.Shape)
	}
	var off []string
	for _, p := range pigment.Printers() {
		if s := w.Stops[p]; s != 0 {
			off = append(off, fmt.Sprintf("%s %+.2f", p, s))
		}
	}
	if len(off) > 0 {
		out += "; exposed off the normal by stops: " + strings.Join(off, ", ")
	}
	return out + "."
}

// shapeWords says how tones were shaped by hand, "" where they were not.
func shapeWords(s relief.Shape) string {
	var said []string
	for _, one := range []struct {
		name  string
		value float64
	}{
		{"contrast", s.Contrast}, {"highlights", s.Highlight}, {"shadows", s.Shadow},
		{"yellow", s.Balance[pigment.Yellow]}, {"magenta", s.Balance[pigment.Magenta]}, {"cyan", s.Balance[pigment.Cyan]},
	} {
		if one.value != 0 {
			said = append(said, fmt.Sprintf("%s %+.3g", one.name, one.value))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "; then shaped by hand, in units of L*: " + strings.Join(said, ", ")
}

// MaskWords says whether masks correct the plates of a print.
func MaskWords(p *picture.Printing) string {
	if p.Masks == nil {
		return "Unmasked: each plate prints its own layer alone."
	}
	return "Masked: masks take shares of the differences of the plates off each printer, found by least squares."
}

// NeutralWords says what the neutrals of a picture rest on.
func NeutralWords(s *session.State) string {
	n, unsure := s.Neutral, ""
	if n.Unsure >= 0.005 {
		unsure = fmt.Sprintf("; a plate may be %.2f stops off against the others", n.Unsure)
	}
	switch n.By {
	case session.ByGreys:
		return fmt.Sprintf("Its neutrals rest on %s%s.", plural(len(n.Greys), "grey that was pointed at", "greys that were pointed at"), unsure)
	case session.ByScale:
		known := ""
		if n.Absolute() {
			known = " of known density"
		}
		return fmt.Sprintf("Its neutrals rest on a grey scale in the scene, of %s%s%s.", plural(len(n.Greys), "step", "steps"), known, unsure)
	case session.ByHand:
		return "Its neutrals rest on whites, blacks and contrasts that were set by hand."
	case session.ByLight:
		name := n.Light
		if m, ok := light.AssumptionByID(n.Light); ok {
			name = m.Name
		}
		return fmt.Sprintf("Its neutrals are assumed, not measured: %s%s.", name, unsure)
	}
	return "Its neutrals are not known: white and black of each plate are the ends of its own picture."
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// NotInRegister says that a picture's plates are not in register, or not with
// any confidence; it is empty where they are.
func NotInRegister(s *session.State) string {
	if InRegister(s) == nil {
		return ""
	}
	return "NOT IN REGISTER: the plates are not registered, or not with any confidence; the colours at edges are not those of the print."
}
