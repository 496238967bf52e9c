package verdict

import (
	"fmt"
	"math"
	"strconv"

	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/table"
	"threeply/proof/words"
)

// CSV lists all figures that the verdict rests on: a row for each, of
// the set or of one plate, with its unit and what it means. Lengths in µm are
// on the print. A figure that nobody measured is left empty. The label of the set comes
// last.
func CSV(s *session.State, made label.Made) string {
	t := figures{}
	scan, print := OfScan(s), OfPrint(s)
	um := s.PixelMicrons()
	t.Head("quantity", "plate", "value", "unit", "meaning")
	t.text("verdict", "", SignWords(scan.Sign), "", scan.Sentence)
	scanRows(&t, &scan)
	t.text("key", "", s.Key, "", "plate that the others are registered to")
	t.text("bench", "", s.Bench, "", "layer that the printmaker lays the others against")
	t.text("bench_verdict", "", benchWords[print.Sign], "", print.Sentence)
	t.number("offsets", "", print.Largest, "µm", "largest between two layers by the offsets on the print")
	t.number("print_width", "", s.PrintWidth, "mm", "")
	t.number("pixel", "", um, "µm", "one pixel of the key plate's scan on the print")
	t.number("eye", "", s.EyeMicrons(), "µm", fmt.Sprintf("one arc minute, the acuity of a 20/20 eye, at %s", words.Millimetres(s.ViewingDist)))
	t.number("press", "", PressMicrons, "µm", "an offset press lays its colours as closely (ISO 12647-2, from memory); to compare with")
	if s.Tolerance > 0 {
		t.number("own_limit", "", s.Tolerance, "µm", "set by the user")
	} else {
		t.text("own_limit", "", "", "µm", "none is set")
	}
	for _, f := range filter.All {
		plateRows(s, &t, f, um)
	}
	for _, p := range label.Of(s, made, "").Pairs() {
		t.text(p.Name, "", p.Says, "", "")
	}
	return t.CSV()
}

// benchWords are the signs of Print in words.
var benchWords = map[string]string{"in": "within the limit", "out": "beyond the limit"}

// scanRows are the figures of the scan's verdict, in pixels of the key and, where its
// resolution is known, on the plate.
func scanRows(t *figures, v *Scan) {
	for _, r := range []struct {
		name, words string
		px          float64
	}{
		{"typical", "half of the picture lies within this: how far two plates are apart, those that lie worst in each part", v.Typical},
		{"p95", "95 % of the picture lies within this; where nothing was measured, the most that is possible there counts", v.P95},
		{"largest", fmt.Sprintf("at the worst measured place, between %s and %s at the key's pixel %.0f, %.0f", v.First, v.Second, v.X, v.Y), v.Largest},
	} {
		if !v.Measured {
			t.text(r.name, "", "", "px", "nothing was measured that could tell")
			continue
		}
		t.number(r.name, "", r.px, "px", r.words)
		if v.Pixel > 0 {
			t.number(r.name, "", r.px*v.Pixel, "µm", "on the plate")
		}
	}
	if v.Measured {
		t.number("coverage", "", v.Coverage, "", "share of the picture within reach of a measured place")
		t.text("not_measured", "", v.notMeasured(), "", "parts of the picture where hardly anything was measured")
		t.text("parted", "", strconv.FormatBool(v.Parted), "", "a part of a plate lies elsewhere than the rest")
	}
	if v.Stars > 0 {
		t.number("stars", "", float64(v.Stars), "", Guideline+", misregister of colour channels: four below 0.33 px, three below 0.50, two below 0.80")
	} else {
		t.text("stars", "", "", "", "cannot be judged")
	}
}

func plateRows(s *session.State, t *figures, f filter.Filter, um float64) {
	i, p := s.Assign[f], f.Printer()
	name, found, rest := f.String(), s.Found[i], RestOf(s, i)
	way := place.WayOf(s, i)
	w, h := s.Frame()
	parts := place.Register(s, i).Decompose(float64(w-1)/2, float64(h-1)/2)
	t.text("file", name, s.Sources[i].File, "", found.Words)
	t.text("lies_by", name, string(way), "", "key: the others lie against it; found, or placed by hand or by marks; both: found and marks; none: as scanned")
	if way == place.WayFound || way == place.WayBoth {
		t.number("confidence", name, found.Confidence, "", "0 … 1: how well independent places agree on where the plate lies")
		t.number("elsewhere", name, s.Outvoted[i], "", "share of the measured parts that lie elsewhere")
	}
	switch {
	case way == place.WayFound && found.Confidence < register.FoundFrom:
		t.text("shift_right", name, "", "px", "not found: it lies as it was scanned, centre on centre")
	case way != place.WayKey:
		dx, dy := Shift(s, i, place.Register(s, i))
		t.number("shift_right", name, dx, "px", "of the picture's middle in the scan, from the scan's own middle")
		t.number("shift_down", name, dy, "px", "")
		t.number("turn", name, place.PoseIn(parts).Turn, "°", "clockwise; of a mirrored plate after it is mirrored left to right")
		t.number("stretch_across", name, 100*(parts.StretchX-1), "%", "")
		t.number("stretch_down", name, 100*(math.Abs(parts.StretchY)-1), "%", "")
		t.number("shear", name, parts.Shear, "", "across for each pixel down; 0 where the plate keeps its right angles")
		t.text("mirrored", name, strconv.FormatBool(parts.StretchY < 0), "", "scanned from the back")
	}
	middle, local := "half of the measured places lie within this", ""
	if rest.Local {
		local = ", with the local register"
	}
	if way == place.WayMarks || way == place.WayBoth {
		t.number("marks", name, float64(rest.Marks), "", "")
		middle = "root mean square of what the marks leave"
	}
	for _, r := range []struct {
		name, words string
		v           float64
	}{{"left_middle", middle, rest.Median}, {"left_p95", "95 % of them lie within this", rest.P95}, {"left_largest", "the worst of them", rest.Max}} {
		if rest.Known {
			t.number(r.name, name, r.v, "px", r.words+local)
			t.number(r.name, name, r.v*um, "µm", r.words+local)
		} else {
			t.text(r.name, name, "", "px", "nothing was measured")
		}
	}
	if l := s.Local[i]; l.W != 0 {
		t.number("local_before", name, l.Before.Median, "px", "without the local register half of the places lie within this, judged at places that it was not fitted to")
		t.number("local_after", name, l.After.Median, "px", "and with it")
	}
	o := s.Offsets[p]
	t.number("offset_right", name, o.DX, "µm", fmt.Sprintf("of the %s layer on the print", p))
	t.number("offset_down", name, o.DY, "µm", "")
	t.number("offset_turn", name, o.Turn, "°", "clockwise")
	t.number("offset_stretch", name, o.Stretch, "%", "")
	t.number("offset_across_grain", name, o.Across, "%", "the paper's grain runs "+s.Grain)
}

// figures is a table of a row for each figure: what it is, of which plate, its
// value, unit and meaning.
type figures struct{ table.Table }

func (t *figures) text(quantity, plate, value, unit, meaning string) {
	t.Add(table.Text(quantity), table.Text(plate), table.Text(value), table.Text(unit), table.Text(meaning))
}

func (t *figures) number(quantity, plate string, v float64, unit, meaning string) {
	t.Add(table.Text(quantity), table.Text(plate), table.Number(v, 6), table.Text(unit), table.Text(meaning))
}
