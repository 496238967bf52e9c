package fit

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// lookedAt is what an eye tells of the workshop's sheet through the filter that a layer is
// dark in: it tells patches apart that differ by a density of 0.05, matches a grey in steps of
// 0.1, and takes for neutral what is within a unit or two of it.
func (tr *truth) lookedAt(s testsheet.Sheet, seed uint64) (seen pigment.Seen) {
	random := rand.New(rand.NewPCG(seed, 5))
	light, _ := spectrum.LightByID("D50")
	look := func(p testsheet.Patch) spectrum.Curve { return tr.see(&tr.paper, tr.amounts(p, 0.03, random)) }
	layers := [3]*pigment.SeenLayer{&seen.Yellow, &seen.Magenta, &seen.Cyan}
	for _, p := range pigment.Printers() {
		dark := func(r spectrum.Curve) float64 { return spectrum.StatusA(r)[filter.Of(p)] }
		wedge, one, nearest := s.Wedge(p), layers[p], math.Inf(1)
		for i, step := range wedge {
			d := dark(look(step))
			if d > dark(tr.paper)+0.05 {
				one.Held = step.ID
			}
			if one.Last == "" && i+1 < len(wedge) && d > dark(look(wedge[i+1]))+0.05 {
				one.Last = step.ID
			}
			if off := math.Abs(step.LogE[p] - s.Threshold[p]/2); off < nearest { // about the middle
				nearest, one.Match, one.Density = off, step.ID, math.Round(10*(d+0.04*random.NormFloat64()))/10
			}
		}
	}
	best := math.Inf(1)
	for _, p := range s.Patches {
		if !p.InBlock() {
			continue
		}
		lab := light.Lab(look(p))
		if off := math.Hypot(lab[1]+random.NormFloat64(), lab[2]+random.NormFloat64()); off < best {
			best, seen.Neutral = off, p.ID
		}
	}
	return seen
}

// heldOutBy is the mean ΔE00 of the held-out patches of the workshop's sheet, as a palette
// predicts them by its curves.
func (tr *truth) heldOutBy(s testsheet.Sheet, p pigment.Palette) float64 {
	light, _ := spectrum.LightByID("D50")
	r := stack.DefaultRecipe(p)
	var off []float64
	for _, patch := range s.Patches {
		if patch.Use == testsheet.HeldOut {
			off = append(off, spectrum.DeltaE00(light.Lab(r.Reflectance(sharesOf(p, patch))), light.Lab(tr.see(&tr.paper, tr.amounts(patch, 0, nil)))))
		}
	}
	return errorsOf(off).Mean
}

func sharesOf(p pigment.Palette, patch testsheet.Patch) (t [3]float64) {
	for _, printer := range pigment.Printers() {
		if patch.Has[printer] {
			t[printer] = testsheet.ScaleOf(p.Layer(printer)).Share(patch.LogE[printer])
		}
	}
	return t
}

// greysBy is how far the greys that a palette asks for come out of neutral in the workshop,
// from L* 30 to 85: the largest ΔE00 from a grey of the same lightness.
func (tr *truth) greysBy(p pigment.Palette) (worst float64) {
	light, _ := spectrum.LightByID("D50")
	scale := balance.Neutral(stack.DefaultRecipe(p), light, balance.DefaultLimit)
	for u := 0.05; u < 1; u += 0.05 {
		var t [3]float64
		for i, share := range scale.Thickness(u) {
			t[i] = tr.curve[i](testsheet.ScaleOf(p.Layer(pigment.Printer(i))).LogE(share))
		}
		lab := light.Lab(tr.see(&tr.paper, t))
		paper := light.Lab(tr.paper)
		w := math.Pow(lab[0]/paper[0], 2)
		if lab[0] >= 30 && lab[0] <= 85 {
			worst = max(worst, spectrum.DeltaE00(lab, spectrum.Lab{lab[0], paper[1] * w, paper[2] * w}))
		}
	}
	return worst
}

// Tissues whose spectra differ in shape and whose scattering is wrong by a factor three, with
// curves that nobody knows: what the eye tells brings held-out overprints to well under the
// error of the palette as assumed, and greys from L* 30 to 85 nearer to neutral; what is said
// to be expected is of the size that it turns out to be. A second sheet, laid by the first,
// does no worse.
func TestByEye(t *testing.T) {
	var assumed, once, twice, said, greysAssumed, greys float64
	n := 0.0
	for _, id := range []string{"arylide", "chrome"} {
		p, s := sheetOf(id)
		for seed := range uint64(2) {
			tr := workshop(p, seed)
			first, err := BySight(s, tr.lookedAt(s, seed), stack.DefaultRecipe(p))
			if err != nil {
				t.Fatal(err)
			}
			own := first.Palette("own", "Own", p, pigment.Measurement{Date: "2026-03-01"})
			if err := own.Check(); err != nil {
				t.Fatal(err)
			}
			again := testsheet.Of(own)
			second, err := BySight(again, tr.lookedAt(again, seed+10), stack.DefaultRecipe(own))
			if err != nil {
				t.Fatal(err)
			}
			better := second.Palette("own", "Own", own, pigment.Measurement{Date: "2026-03-01"})
			a, b, c := tr.heldOutBy(s, p), tr.heldOutBy(s, own), tr.heldOutBy(s, better)
			t.Logf("%s %d: ΔE00 as assumed %.1f, by eye %.1f, by a second sheet %.1f, expected %.1f; greys %.1f, %.1f, %.1f", id, seed, a, b, c, first.Expected, tr.greysBy(p), tr.greysBy(own), tr.greysBy(better))
			if b > 0.7*a {
				t.Errorf("%s %d: by eye the overprints are ΔE00 %.1f off, as assumed %.1f", id, seed, b, a)
			}
			assumed, once, twice, said, n = assumed+a, once+b, twice+c, said+first.Expected, n+1
			greysAssumed, greys = greysAssumed+tr.greysBy(p), greys+tr.greysBy(better)
		}
	}
	if once > 0.6*assumed || twice > once || greys > 0.6*greysAssumed {
		t.Errorf("as assumed %.1f, by eye %.1f, by two sheets %.1f; greys %.1f and %.1f", assumed/n, once/n, twice/n, greysAssumed/n, greys/n)
	}
	if said < once/2 || said > 2*once {
		t.Errorf("ΔE00 %.1f is said to be expected, and it is %.1f", said/n, once/n)
	}
}

// What the eye cannot have seen is refused, with the layer and what to do.
func TestSeenFaults(t *testing.T) {
	p, s := sheetOf("arylide")
	good := workshop(p, 0).lookedAt(s, 0)
	for want, change := range map[string]func(seen *pigment.Seen){
		"yellow layer: say which is the lightest":            func(seen *pigment.Seen) { seen.Yellow.Held = "" },
		"cyan layer: “A99” is none of its steps":             func(seen *pigment.Seen) { seen.Cyan.Last = "A99" },
		"magenta layer: " + good.Magenta.Held + ", the last": func(seen *pigment.Seen) { seen.Magenta.Last = seen.Magenta.Held },
		"are they exchanged":                                 func(seen *pigment.Seen) { seen.Cyan.Held, seen.Cyan.Last = seen.Cyan.Last, seen.Cyan.Held },
		"a grey of density 0.01":                             func(seen *pigment.Seen) { seen.Yellow.Density = 0.01 },
		"a grey of density NaN":                              func(seen *pigment.Seen) { seen.Yellow.Density = math.NaN() },
		"which looks as dark as the grey":                    func(seen *pigment.Seen) { seen.Yellow.Match = "" },
		"none of the block of greys":                         func(seen *pigment.Seen) { seen.Neutral = "A1" },
	} {
		seen := good
		change(&seen)
		if _, err := BySight(s, seen, stack.DefaultRecipe(p)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	good.Yellow.Match, good.Yellow.Density, good.Neutral = "", 0, "" // may be left out
	if _, err := BySight(s, good, stack.DefaultRecipe(p)); err != nil {
		t.Error(err)
	}
}

// The table that is filled in is read back, however a spreadsheet parts its cells.
func TestSeenTable(t *testing.T) {
	if seen, err := SeenAmong([]File{{"seen.csv", SeenTable()}}); err != nil || seen == nil || *seen != (pigment.Seen{}) {
		t.Errorf("%+v, %v", seen, err)
	}
	want := pigment.Seen{Yellow: pigment.SeenLayer{Held: "A1", Last: "B2", Match: "C3", Density: 0.75}, Cyan: pigment.SeenLayer{Held: "D4"}, Neutral: "E9"}
	for _, text := range []string{
		"LAYER,HELD,LAST,MATCH,DENSITY\nyellow,a1,B2,C3,0.75\ncyan,D4\nneutral,E9,,,\n",
		"\ufeffLayer;Held;Last;Match;Density\r\nneutral;E9;;;\r\nyellow;A1;B2;C3;0.75\r\ncyan;D4;;;\r\n",
		"LAYER\tHELD\tLAST\tMATCH\tDENSITY\nyellow\tA1\tB2\tC3\t\"0.75\"\ncyan\tD4\nneutral\tE9",
	} {
		if seen, err := SeenAmong([]File{{"seen.csv", []byte(text)}}); err != nil || seen == nil || *seen != want {
			t.Errorf("%q: %+v, %v", text, seen, err)
		}
	}
	readings := File{"readings.csv", []byte("SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0,1,2\n")}
	if seen, err := SeenAmong([]File{readings}); seen != nil || err != nil {
		t.Errorf("readings are %+v, %v", seen, err)
	}
	head := "LAYER,HELD,LAST,MATCH,DENSITY\n"
	for says, files := range map[string][]File{
		"seen.csv, line 1: the columns must be": {{"seen.csv", []byte("LAYER,LAST\n")}},
		"seen.csv, line 3: yellow stands twice": {{"seen.csv", []byte(head + "yellow\nyellow\n")}},
		"line 2: “red” is no layer":             {{"seen.csv", []byte(head + "red,A1\n")}},
		"line 2: more than 5 cells":             {{"seen.csv", []byte(head + "cyan,A1,B2,C3,0,75\n")}},
		"“0.7.5” is no density":                 {{"seen.csv", []byte(head + "cyan,A1,B2,C3,0.7.5\n")}},
		"give it alone":                         {readings, {"seen.csv", []byte(head)}},
		"readings.csv is no table of what":      {{"seen.csv", []byte(head)}, readings},
	} {
		if _, err := SeenAmong(files); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
}
