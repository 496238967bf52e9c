package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// What the page says of the way of printing is what the domain counts, and what light a
// stop is: 0.2 stop are 2^0.2 - 1 = 15 % more.
func TestWhatIsSaidOfThePrint(t *testing.T) {
	d := patches(t)
	picturetest.Hold(d.Session, 3)
	d.Session.Way.Straight, d.Session.Way.Range, d.Session.Way.Stops = true, 1.3, [3]float64{0, 0.2, -0.2345}
	d.look(view.GoToStation{ID: "proof"})
	m := d.maker.Make(d.Input)
	for i, want := range []string{"as meant", "15 % more light", "15 % less light"} {
		if p := m.Prints[i]; p.Light != want || p.Printer != pigment.Printer(i).String() || math.Abs(p.Range-1.3) > 1e-9 {
			t.Errorf("%+v, want %s", p, want)
		}
	}
	p := d.Prints.Likely()
	var levels [3][]float64
	losses := p.Losses(d.Session, p.Way(d.Session), p.SampleDensities(d.Session, d.Plates.Level(0), 0), nil)
	for i, l := range losses {
		levels[i] = []float64{l.Lost, l.Blocked}
		if lost := m.Prints[i].Lost; (lost == "none") != (l.Lost == 0) || l.Lost > 0 && !strings.Contains(lost, "above L* ") {
			t.Errorf("%s: %s, counted %.3f", m.Prints[i].Printer, lost, l.Lost)
		}
	}
	if !slices.ContainsFunc(levels[:], func(l []float64) bool { return l[0] > 0.01 }) {
		t.Errorf("nothing is lost: %v", levels)
	}
	black := p.Grey(d.Session, d.Session.Way, 1)
	if said := fmt.Sprintf("Black: L* %.0f, a* ", black[0]); m.Tuned != "" || !strings.HasPrefix(m.Greys, "Middle grey: L* ") || !strings.Contains(m.Greys, said) {
		t.Errorf("%q, %+v", m.Tuned, m.Greys)
	}
	d.Session.Masked = true
	d.Session.Way.Straight = false
	if err := d.Prints.Update(d.Session, d.Plates, prints.Looked{}); err != nil {
		t.Fatal(err)
	}
	losses, _ = d.Prints.Losses(d.Session)
	for i, p := range d.maker.Make(d.Input).Prints {
		if l := losses[i]; !l.ByTone || l.Lost > 0 && !strings.HasSuffix(p.Lost, "once masked") {
			t.Errorf("masked, of %s %.3f is lost: %s", p.Printer, l.Lost, p.Lost)
		}
	}
	d.Session.Way.Straight = true
	if _ = d.Prints.Update(d.Session, d.Plates, prints.Looked{}); d.maker.Make(d.Input).Tuned == "" {
		t.Error("nothing says that a masked print is tuned")
	}
}

// The look that marks losses says which colour is which and how much of it there is, by
// layer.
func TestLegendOfLosses(t *testing.T) {
	d := patches(t)
	picturetest.Hold(d.Session, 3)
	d.Session.Way.Stops = [3]float64{3, 0, 0}
	d.look(view.TakeLook{ID: "losses"})
	frames := d.maker.Make(d.Input).Frames
	if len(frames) != 3 || frames[0].ID != "losses-cyan" || frames[2].ID != "losses-yellow" {
		t.Fatalf("%+v", frames)
	}
	for _, f := range frames {
		if len(f.Legend) != 2 || f.Legend[0].Hex == f.Legend[1].Hex || !strings.HasPrefix(f.Legend[0].Words, "off ") || !strings.HasPrefix(f.Legend[1].Words, "blocked ") {
			t.Errorf("%+v", f.Legend)
		}
	}
	if a, b := frames[0].Legend[1].Words, frames[2].Legend[1].Words; a != "blocked 0" || b == a {
		t.Errorf("three stops more on yellow alone: cyan %s, yellow %s", a, b)
	}
	d.look(view.TakeLook{ID: "outside"})
	if f := d.maker.Make(d.Input).Frames; len(f) != 1 || len(f[0].Legend) != 1 || !strings.Contains(f[0].Legend[0].Words, "sRGB") {
		t.Errorf("%+v", f)
	}
	d.Prints.SetSpace(spectrum.DisplayP3)
	if f := d.maker.Make(d.Input).Frames; !strings.Contains(f[0].Legend[0].Words, "Display P3") {
		t.Errorf("on a wide canvas: %+v", f)
	}
}

// What is said of all prints that stand side by side stands once; in the captions is what they
// differ by. The reference shares nothing with a print.
func TestWhatPrintsShare(t *testing.T) {
	d := patches(t)
	d.View.Resize(view.Stage{W: 1400, H: 600, Ratio: 1})
	for look, want := range map[string][]string{
		"sure":   {"−15 % pigment, −0.1 stop", "", "+15 % pigment, +0.1 stop"},
		"rooms":  {"500 lx", "50 lx"},
		"losses": {"", "", ""},
	} {
		d.look(view.TakeLook{ID: look})
		m := d.maker.Make(d.Input)
		if !strings.Contains(m.Shared, "\u00a0· Y\u00a0M\u00a0C\u00a0· ") || strings.Contains(m.Shared, "bench") == (look == "rooms") {
			t.Errorf("%s: shared is %q", look, m.Shared)
		}
		if palette, _ := d.Session.PaletteByID(d.Session.Palette); m.Brief != palette.Name+"\u00a0· Y\u00a0M\u00a0C" {
			t.Errorf("%s: in brief %q is shared", look, m.Brief)
		}
		for i, f := range m.Frames {
			least := want[i]
			if look == "sure" { // how much lighter is said where there is more room
				least = ""
			}
			if f.Note != want[i] || f.Brief != want[i] || f.Least != least {
				t.Errorf("%s: the note of %s is %q, in brief %q, at the least %q, want %q", look, f.ID, f.Note, f.Brief, f.Least, want[i])
			}
		}
	}
	d.look(view.TakeLook{ID: "ways"}) // what the names of both mean is left away where there is little room
	for _, f := range d.maker.Make(d.Input).Frames {
		if f.Note == "" || f.Brief != "" {
			t.Errorf("ways: the note of %s is %q, in brief %q", f.ID, f.Note, f.Brief)
		}
	}
	d.look(view.TakeLook{ID: "beside"})
	palette, _ := d.Session.PaletteByID(d.Session.Palette)
	d.Session.Held = append(d.Session.Held, d.Session.Hold(palette.Name))
	d.look(view.PutSide{Which: "right", ID: view.HeldSide(1)})
	if f := d.maker.Make(d.Input).Frames[1]; f.Label != palette.Name || !strings.HasPrefix(f.Note, "Y\u00a0M\u00a0C") {
		t.Errorf("a held print with the name of its palette is called %q, its note is %q", f.Label, f.Note)
	}
	d.look(view.PutSide{Which: "right", ID: view.SidePrint})
	if m := d.maker.Make(d.Input); m.Shared != "" || !strings.Contains(m.Frames[1].Note, "\u00a0· Y\u00a0M\u00a0C\u00a0· ") {
		t.Errorf("beside the reference: shared is %q, the print's note %q", m.Shared, m.Frames[1].Note)
	}
}

// A point tells the true colour, by how much the screen shows another, and the densities
// that it is printed from: how sure it is there is said of the same colour.
func TestPointOutsideTheScreen(t *testing.T) {
	d := patches(t)
	w, h := d.Session.Frame()
	print := d.Prints.Likely()
	points := 0
	for y := 10; y < h; y += 20 {
		for x := 10; x < w; x += 20 {
			d.View.Reading = &[2]float64{float64(x), float64(y)}
			s := d.maker.Make(d.Input).Sample
			place := print.Place(d.Session, print.Way(d.Session), s.Densities)
			if slices.ContainsFunc([]int{0, 1, 2}, func(i int) bool { return math.Abs(place.Amount[i]-place.HoldOn[i]) < 1e-3 }) {
				continue // in the step to the bare paper
			}
			points++
			if sure := spread.Usual.Of(place); spectrum.DeltaE00(sure.Likely, s.Print) > 0.3 || s.Outside != 0 {
				t.Errorf("%d, %d: the print is %.1f, %.2f outside the screen; what is said of its sureness is of %.1f", x, y, s.Print, s.Outside, sure.Likely)
			}
		}
	}
	if points < 40 {
		t.Errorf("%d points", points)
	}

	d.look(view.TakeLook{ID: "outside"})
	if words := d.maker.Make(d.Input).Frames[0].Legend[0].Words; !strings.HasSuffix(words, ": < 0.1 %") {
		t.Errorf("no point lies outside, and it is said of the picture: %s", words)
	}

	s, planes := picturetest.Scene(40, func(plate, _, _ int) float64 { return []float64{0, 1, 1}[plate] }) // no red light: the whole cyan
	d.Session = &s
	for i, p := range planes {
		d.Plates[i] = p.Pyramid(40)
	}
	d.follow()
	if words := d.maker.Make(d.Input).Frames[0].Legend[0].Words; !strings.HasSuffix(words, ": all") {
		t.Errorf("the whole picture is the cyan, which lies outside, and it is said: %s", words)
	}
	d.View.Reading = &[2]float64{20, 20}
	sample := d.maker.Make(d.Input).Sample
	if want := d.Prints.Likely().OutsideDisplay(spectrum.SRGB, sample.Print); !(sample.Outside > 1) || math.Abs(sample.Outside-want) > 1e-9 {
		t.Errorf("the cyan %.1f is %.2f outside the screen, want %.2f", sample.Print, sample.Outside, want)
	}
	d.Prints.SetSpace(spectrum.DisplayP3)
	if wide := d.maker.Make(d.Input).Sample; !(wide.Outside < sample.Outside) || wide.Print != sample.Print {
		t.Errorf("on a wide screen %.2f outside, on another %.2f", wide.Outside, sample.Outside)
	}
}

// On a wide canvas the tables are coded for it, and the exact one stays as it is; what
// changes is drawn anew.
func TestTablesOfAWideCanvas(t *testing.T) {
	d := patches(t)
	narrow := d.Prints.Of(d.Session, picture.VariantLikely)
	d.Prints.SetSpace(spectrum.DisplayP3)
	wide := d.Prints.Of(d.Session, picture.VariantLikely)
	if want := narrow.In(spectrum.DisplayP3).Table; !slices.Equal(wide.Table, want) || slices.Equal(wide.Table, narrow.Table) {
		t.Error("the table is not coded for the canvas")
	}
	if again := d.Prints.Of(d.Session, picture.VariantLikely); &again.Table[0] != &wide.Table[0] {
		t.Error("the table is worked out twice")
	}
	if exact := d.Prints.Of(d.Session, picture.VariantTrue); !slices.Equal(exact.Table, narrow.TrueTable()) {
		t.Error("the exact table is not that of sRGB")
	}
	if likely := d.Prints.Likely(); &likely.Table[0] != &narrow.Table[0] {
		t.Error("figures are read from the canvas's table")
	}
	d.Session.Way.Stops[0] = 0.3
	d.follow()
	if after := d.Prints.Of(d.Session, picture.VariantLikely); after.Serial == wide.Serial || *after.Curves[0].Print == *wide.Curves[0].Print || &after.Table[0] != &wide.Table[0] {
		t.Error("an exposure draws no other curve, or works out the optics anew")
	}
}

// The surfaces offered are those that the route gives; one that it does not give stays
// chosen, and that is said. Palettes say what is known of them.
func TestWhatTheRouteGives(t *testing.T) {
	d := patches(t)
	ids := func() (ids []string, note string) {
		m := d.maker.Make(d.Input)
		for _, f := range m.Finishes {
			ids = append(ids, f.ID)
		}
		return ids, m.FinishNote
	}
	if got, note := ids(); strings.Join(got, " ") != "gloss satin matt" || !strings.Contains(note, "polished") {
		t.Errorf("%v, %q", got, note)
	}
	d.Session.Route = "direct"
	if got, note := ids(); strings.Join(got, " ") != "satin matt gloss" || !strings.Contains(note, "does not come of this route") {
		t.Errorf("straight onto the paper: %v, %q", got, note)
	}
	d.Session.Finish = "matt"
	if got, note := ids(); strings.Join(got, " ") != "satin matt" || !strings.Contains(note, "absorbent") {
		t.Errorf("matt onto the paper: %v, %q", got, note)
	}
	noted := 0
	for _, p := range d.maker.Make(d.Input).Palettes {
		if p.Note != "" {
			noted++
		}
	}
	if noted == 0 {
		t.Error("no palette says what is known of it")
	}
}

// A tissue whose hardening was measured keeps it through the page.
func TestHardeningGoesThroughThePage(t *testing.T) {
	d := patches(t)
	h := command.NewHistory(*d.Session)
	height := 1.25
	tissue := pigment.Palettes()[0].Cyan
	tissue.Hardening = pigment.Hardening{DepthMicron: 9, HoldOnMicron: &height}
	if err := h.Do(command.Tissue{Printer: "cyan", Tissue: tissue}, ""); err != nil {
		t.Fatal(err)
	}
	d.take(&h.State)
	for _, p := range d.maker.Make(d.Input).Palettes {
		if !p.Chosen {
			continue
		}
		l := p.Layers[pigment.Cyan]
		if l.HoldOn != 1.25 || l.Depth != 9 || *l.Hardening.HoldOnMicron != 1.25 || l.Strength != tissue.Strength() || l.Range <= 0 {
			t.Errorf("%+v", l)
		}
	}
}

// The ratio of the exposures is known once all three thresholds are: tissues that are
// alike but for them get exposures in their ratio. A tuned negative is densest where the
// print is lightest.
func TestRatioAndCurve(t *testing.T) {
	d := patches(t)
	d.look(view.GoToStation{ID: "proof"})
	m := d.maker.Make(d.Input)
	if !strings.Contains(m.Ratio, "Not known") || !strings.Contains(m.Ratio, "one wedge of each") {
		t.Errorf("tissues without a threshold: %s", m.Ratio)
	}
	if len(m.Curve) < 5 {
		t.Fatalf("the curve has %d tones", len(m.Curve))
	}
	for k, one := range m.Curve[1:] {
		for i, density := range one.Density {
			if density >= m.Curve[k].Density[i] || density < 0 || one.Lightness >= m.Curve[k].Lightness {
				t.Errorf("%+v follows %+v", one, m.Curve[k])
			}
		}
	}
	own, _ := pigment.PaletteByID("arylide")
	own.ID = "own-1"
	for i, tissue := range []*pigment.Tissue{&own.Cyan, &own.Yellow, &own.Magenta} {
		tissue.CoatMicron, tissue.Hardening = 20, pigment.Hardening{DepthMicron: 7, Threshold: 4 * float64(i+1)}
	}
	d.Session.OwnPalettes, d.Session.Palette = []pigment.Palette{own}, own.ID
	d.follow()
	if got := d.maker.Make(d.Input).Ratio; got != "By the measured thresholds: cyan 1, yellow 2, magenta 3." {
		t.Error(got)
	}
}

// What is left after years on show is said to be measured where a strip was, and assumed to
// stand over the picture until all three tissues have one.
func TestMeasuredStripThroughThePage(t *testing.T) {
	d := patches(t)
	d.look(view.GoToStation{ID: "proof"}, view.TakeLook{ID: "faded"})
	h := command.NewHistory(*d.Session)
	for i, want := range []string{"assumed after 50 years", "assumed after 50 years", "by measured strips after 50 years"} {
		strip := command.Fading{Printer: pigment.Printer(i).String(), Dose: 7.3, Before: 1, After: 1} // 50 years at 50 lx, 8 hours a day
		if err := h.Do(strip, ""); err != nil {
			t.Fatal(err)
		}
		d.take(&h.State)
		m := d.maker.Make(d.Input)
		for k, f := range m.Fading {
			if f.Measured != (k <= i) || k <= i && f.Words != "100 % left, as a strip was measured" {
				t.Errorf("after %d strips: %+v", i+1, f)
			}
		}
		if note := m.Frames[1].Note; !strings.Contains(note, want) {
			t.Errorf("after %d strips: “%s”", i+1, note)
		}
	}
}
