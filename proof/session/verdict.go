package session

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"threeply/proof/pigment"
)

// Guideline names the source of Stars.
const Guideline = "FADGI still-image guidelines"

// Stars is what the federal still-image guideline (FADGI, Technical Guidelines
// for Digitizing Cultural Heritage Materials, as quoted second-hand) gives the
// misregister of a colour scan's channels, in pixels: four below 0.33, three
// below 0.50, two below 0.80, else one. A set of plates is a colour scan once
// it is in register, so it is said of what register leaves.
func Stars(px float64) int {
	switch {
	case px < 0.33:
		return 4
	case px < 0.50:
		return 3
	case px < 0.80:
		return 2
	}
	return 1
}

// scanLimit is the residual, in pixels, below which a scan no longer tells
// misregister from its own grain and resampling: half a pixel, between the
// two and three stars of Stars.
const scanLimit = 0.5

func (s *State) say(m Misregister) (sign, sentence string) {
	limit, wanted := fmt.Sprintf("the %s that the eye sees at %s", Microns(m.Threshold), Millimetres(s.ViewingDist)), "the eye sees "+Microns(m.Threshold)
	if m.FromTolerance {
		limit, wanted = "your tolerance of "+Microns(m.Threshold), "your tolerance is "+Microns(m.Threshold)
	}
	switch {
	case m.Unsure != "" && m.Moved > m.Threshold:
		return "out", fmt.Sprintf("%s The offsets on the print alone part two layers by up to %s, beyond %s.", m.Unsure, Microns(m.Moved), limit)
	case m.Unsure != "":
		return "unsure", m.Unsure
	case m.Parted != "" && m.Moved > m.Threshold:
		return "out", fmt.Sprintf("%sThe offsets on the print alone part two layers by up to %s, beyond %s.", m.Parted, Microns(m.Moved), limit)
	case m.Parted != "":
		return "unsure", fmt.Sprintf("%sThe rest lies typically within %s between two layers; the limit is %s.", m.Parted, Microns(m.Largest), limit)
	case m.Largest <= m.Threshold && m.PlacesP95 <= m.Threshold:
		return "in", fmt.Sprintf("In register: typically %s between two layers, 95 %% of places within %s; the limit is %s.", Microns(m.Largest), Microns(m.PlacesP95), limit)
	case m.Largest <= m.Threshold:
		return "near", fmt.Sprintf("Nearly in register: typically %s between two layers, within %s, but 95 %% of the single places only within %s: grain, damage or what moved. Look at the worst.", Microns(m.Largest), limit, Microns(m.PlacesP95))
	case m.Moved <= m.Threshold && m.Left <= scanLimit:
		return "near", fmt.Sprintf("In register as near as these scans can tell: what is left, %.1f px, is %s on a print %s wide, and %s. A larger scan or a smaller print would settle it.",
			m.Left, Microns(m.Largest), Millimetres(s.PrintWidth), wanted)
	case m.P95 <= m.Threshold:
		return "near", fmt.Sprintf("Nearly in register: up to %s between %s and %s at the worst place, beyond %s.",
			Microns(m.Largest), m.First, m.Second, limit)
	}
	return "out", fmt.Sprintf("Out of register: %s and %s lie up to %s apart, %.1f times %s.",
		m.First, m.Second, Microns(m.Largest), m.Largest/m.Threshold, limit)
}

var signs = map[string]string{"in": "in register", "near": "nearly in register", "out": "out of register", "unsure": "cannot be judged"}

// SignWords is a verdict's sign in words.
func SignWords(sign string) string { return signs[sign] }

// VerdictCSV lists all figures that the verdict rests on: a row for each, of
// the set or of one plate, with its unit and what it means. Lengths in µm are
// on the print. A figure that nobody measured is left empty.
func (s *State) VerdictCSV() string {
	t := table{}
	m := s.Misregister()
	um := s.PixelMicrons()
	t.add("quantity", "plate", "value", "unit", "meaning")
	t.add("verdict", "", SignWords(m.Sign), "", m.Sentence)
	t.add("key", "", s.Key, "", "plate that the others are registered to")
	t.add("bench", "", s.Bench, "", "layer that the printer lays the others against")
	t.number("print_width", "", s.PrintWidth, "mm", "")
	t.number("pixel", "", um, "µm", "one pixel of the key plate's scan on the print")
	t.number("typical", "", m.Largest, "µm", fmt.Sprintf("by the offsets and the medians of what register leaves, between %s and %s at the key's pixel %.0f, %.0f, over a grid of the picture", m.First, m.Second, m.X, m.Y))
	if m.Unsure == "" {
		t.number("places_p95", "", m.PlacesP95, "µm", "the same by 95 % of the single places that register measured, their noise included")
		t.number("places_largest", "", m.PlacesLargest, "µm", "the same by the largest of them")
	} else {
		t.add("places_p95", "", "", "µm", "nothing was measured that could tell")
		t.add("places_largest", "", "", "µm", "nothing was measured that could tell")
	}
	t.number("offsets", "", m.Moved, "µm", "largest by the offsets on the print alone")
	t.number("eye", "", s.EyeMicrons(), "µm", fmt.Sprintf("one arc minute, the acuity of a 20/20 eye, at %s", Millimetres(s.ViewingDist)))
	t.number("press", "", PressMicrons, "µm", "an offset press lays its colours as closely (ISO 12647-2, from memory); to compare with")
	if s.Tolerance > 0 {
		t.number("own_limit", "", s.Tolerance, "µm", "set by the user")
	} else {
		t.add("own_limit", "", "", "µm", "none is set")
	}
	if m.Stars > 0 {
		t.number("channels", "", m.Apart, "px", "between the two plates that lie worst, of the median that register leaves")
		t.number("stars", "", float64(m.Stars), "", Guideline+", misregister of colour channels: four below 0.33 px, three below 0.50, two below 0.80")
	} else {
		t.add("stars", "", "", "", "cannot be judged")
	}
	for f := range Filters {
		s.plateRows(&t, f, um)
	}
	return t.String()
}

func (s *State) plateRows(t *table, f int, um float64) {
	i, p := s.Assign[f], pigment.Printer(2-f)
	name, found, rest := Filters[f], s.Found[i], s.Rest(i)
	way := s.Way(i)
	w, h := s.Frame()
	parts := s.Register(i).Decompose(float64(w-1)/2, float64(h-1)/2)
	t.add("file", name, s.Sources[i].File, "", found.Words)
	t.add("lies_by", name, string(way), "", "key, found, hand, marks, both or none")
	if way == WayFound || way == WayBoth {
		t.number("confidence", name, found.Confidence, "", "0 … 1, from the agreement of independent places")
		t.number("elsewhere", name, s.Outvoted[i], "", "share of the places measured with certainty that lie elsewhere: the subject moved, or the film is torn")
	}
	switch {
	case way == WayFound && found.Confidence < FoundFrom:
		t.add("shift_right", name, "", "px", "not found: it lies as it was scanned, centre on centre")
	case way != WayKey:
		t.number("shift_right", name, parts.DX, "px", "of the picture's centre in the scan, against the key")
		t.number("shift_down", name, parts.DY, "px", "")
		t.number("turn", name, PoseIn(parts).Turn, "°", "clockwise; of a mirrored plate after it is mirrored left to right")
		t.number("stretch_across", name, 100*(parts.StretchX-1), "%", "")
		t.number("stretch_down", name, 100*(math.Abs(parts.StretchY)-1), "%", "")
		t.number("shear", name, parts.Shear, "", "tangent of what is missing to a right angle")
		t.add("mirrored", name, strconv.FormatBool(parts.StretchY < 0), "", "the other side of the plate was up")
	}
	middle, local := "median of what register leaves", ""
	if rest.Local {
		local = ", with the local register"
	}
	if way == WayMarks || way == WayBoth {
		t.number("marks", name, float64(rest.Marks), "", "")
		middle = "root mean square of what the marks leave"
	}
	for _, r := range []struct {
		name, words string
		v           float64
	}{{"left_middle", middle, rest.Median}, {"left_p95", "95 % within", rest.P95}, {"left_largest", "largest", rest.Max}} {
		if rest.Known {
			t.number(r.name, name, r.v, "px", r.words+local)
			t.number(r.name, name, r.v*um, "µm", r.words+local)
		} else {
			t.add(r.name, name, "", "px", "nothing was measured")
		}
	}
	if l := s.Local[i]; l.W != 0 {
		t.number("local_before", name, l.Before.Median, "px", "median of places that the local register had not seen, without it")
		t.number("local_after", name, l.After.Median, "px", "and with it")
	}
	o := s.Offsets[p]
	t.number("offset_right", name, o.DX, "µm", fmt.Sprintf("of the %s layer on the print", p))
	t.number("offset_down", name, o.DY, "µm", "")
	t.number("offset_turn", name, o.Turn, "°", "clockwise")
	t.number("offset_stretch", name, o.Stretch, "%", "")
	t.number("offset_across_grain", name, o.Across, "%", "the paper's grain runs "+s.Grain)
}

// table is rows of text, to be written as CSV.
type table [][]string

func (t *table) add(cells ...string) { *t = append(*t, cells) }

func (t *table) number(quantity, plate string, v float64, unit, meaning string) {
	t.add(quantity, plate, strconv.FormatFloat(v, 'g', 6, 64), unit, meaning)
}

func (t table) String() string {
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(t); err != nil {
		panic(err) // a Builder takes everything
	}
	return b.String()
}
