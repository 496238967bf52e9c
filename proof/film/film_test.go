package film

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/interp"
)

// table is a made-up film as it is pasted: ink in %, density in the UV.
const table = "ink\tD\n0\t0.05\n10\t0.12\n25\t0.30\n50\t0.75\n75\t1.45\n90\t1.95\n100\t2.25\n"

func TestReadKeepsWhatWasMeasured(t *testing.T) {
	f, err := Read(table, Inkjet, UV)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Max-2.2) > 1e-12 {
		t.Errorf("the largest density is %g, want 2.2 above the clear film", f.Max)
	}
	c := f.Coder()
	for _, at := range []struct{ ink, density float64 }{{0, 0}, {10, 0.07}, {25, 0.25}, {50, 0.7}, {75, 1.4}, {90, 1.9}, {100, 2.2}} {
		code := uint16(math.Round(65535 * (1 - at.ink/100)))
		if got := c.Density(code); math.Abs(got-at.density) > 1e-4 {
			t.Errorf("%g %% ink: density %.4f, want %.4f", at.ink, got, at.density)
		}
		if got := c.Code(at.density); math.Abs(float64(got)-float64(code)) > 1 {
			t.Errorf("density %g: code %d, want %d", at.density, got, code)
		}
	}
}

// Between its steps the table goes as a general-purpose library's curve of the same
// source does, but for its ends, which that library makes straight; and it never turns.
func TestBetweenTheSteps(t *testing.T) {
	f, err := Read("0 0\n10 0.07\n25 0.25\n45 0.6\n50 0.7\n75 1.4\n90 1.9\n95 1.9\n100 2.2\n", Inkjet, UV)
	if err != nil {
		t.Fatal(err)
	}
	var xs, ys []float64
	for i := range f.Table {
		s := f.Table[len(f.Table)-1-i]
		xs, ys = append(xs, s.Code), append(ys, s.Density)
	}
	var other interp.FritschButland
	if err := other.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	worst, last := 0.0, 3.0
	for code := 0.0; code <= 1; code += 0.0005 {
		d := f.curve()(code)
		if d > last+1e-12 {
			t.Fatalf("it turns back at code %.4f", code)
		}
		last = d
		if code > 0.05 && code < 0.9 {
			worst = max(worst, math.Abs(d-other.Predict(code)))
		}
	}
	t.Logf("largest difference %.2g", worst)
	if worst > 1e-9 {
		t.Errorf("it differs by %g", worst)
	}
}

// The same film in every form that it may be pasted in: codes that count ink or
// whiteness, of 8 bits or %, decimal commas, in any order.
func TestReadTakesEveryForm(t *testing.T) {
	want, err := Read("0 0\n51 .4\n255 2\n102 .9\n", Silver, Visual)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		"0,0\n20,0.4\n40,0.9\n100,2", "0;0,1\n20;0,5\n40;1,0\n100;2,1", "0 % 0\n20 % 0.4\n40 % 0.9\n100 % 2\n",
		"255 0\n204 0.4\n153 0.9\n0 2", "65535\t0\r\n52428\t0.4\r\n39321\t0.9\r\n0\t2\r\n", "\ufeffcode, density\n0, 0\n20, 0.4\n40, 0.9\n100, 2",
	} {
		f, err := Read(text, Silver, Visual)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for i, s := range f.Table {
			if w := want.Table[i]; math.Abs(s.Code-w.Code) > 1e-12 || math.Abs(s.Density-w.Density) > 1e-12 {
				t.Errorf("%q: step %d is %v, want %v", text, i, s, w)
			}
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ text, kind, measured, says string }{
		{"0 0\n100 2", Inkjet, UV, "2 steps"},
		{"", Inkjet, UV, "0 steps"},
		{"0 0\n20 .5\n40 .4\n100 2", Inkjet, UV, "line 3: the density falls back"},
		{"0 0\n20 % .5\n100 2", Inkjet, UV, "line 2: some codes are in %"},
		{"0 0\n20 .5 1\n100 2", Inkjet, UV, "line 2: “20 .5 1” holds 3 figures"},
		{"0 0\n20 .5\n20 .6\n100 2", Inkjet, UV, "line 3: the same code as line 2"},
		{"0 0\n20 .5\n90 2", Inkjet, UV, "line 3: the largest code is 90"},
		{"5 0\n20 .5\n100 2", Inkjet, UV, "line 1: the smallest code is 5"},
		{"0 0\n20 99\n100 2", Inkjet, UV, "line 2: “99” is no density"},
		{"0 0\n20 .5\n100 2", Inkjet, Visual, "in the UV alone"},
		{"0 0\n20 .05\n100 .2", Silver, Visual, "too little"},
	} {
		if _, err := Read(c.text, c.kind, c.measured); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q of %s by %s: %v", c.text, c.kind, c.measured, err)
		}
	}
}

// A film without a table is linear in density; its code and its density go both ways.
func TestUnmeasuredIsLinear(t *testing.T) {
	c := Usual.Coder()
	for d := 0.0; d <= Usual.Max; d += 0.01 {
		if got := c.Density(c.Code(d)); math.Abs(got-d) > Usual.Max/Codes {
			t.Errorf("density %.2f comes back as %.5f", d, got)
		}
	}
	if c.Code(9) != 0 || c.Code(-1) != 65535 {
		t.Errorf("beyond the ends: %d and %d", c.Code(9), c.Code(-1))
	}
}

// A film whose UV density is known is found again by way of a tablet and a tissue that
// nobody knows: the tone is any falling curve of the light. Wedges that count ink and
// readings of density do as well.
func TestTabletFindsTheFilm(t *testing.T) {
	tone := func(density float64) float64 { return 20 + 70/(1+math.Exp(-3*(density-1))) }
	truth := func(code float64) float64 { return 2.1 * math.Pow(1-code, 1.4) }
	for _, print := range []struct {
		name string
		tone func(density float64) float64
		code func(share float64) float64
	}{
		{"L*, codes that count whiteness", tone, func(share float64) float64 { return math.Round(255 * share) }},
		{"density, codes that count ink in %", func(d float64) float64 { return 2 - tone(d)/50 }, func(share float64) float64 { return math.Round(100 * (1 - share)) }},
	} {
		var tablet, wedge strings.Builder
		for i := range 31 {
			fmt.Fprintf(&tablet, "%.2f %.4f\n", 0.1*float64(i), print.tone(0.1*float64(i)))
		}
		for i := range 16 {
			code := 1 - float64(i)/15
			fmt.Fprintf(&wedge, "%g %.4f\n", print.code(code), print.tone(0.2+truth(code)))
		}
		f, err := ReadByTablet(tablet.String(), wedge.String(), Inkjet)
		if err != nil {
			t.Fatalf("%s: %v", print.name, err)
		}
		worst := 0.0
		for _, s := range f.Table {
			worst = max(worst, math.Abs(s.Density-truth(s.Code)))
		}
		t.Logf("%s: largest error %.4f", print.name, worst)
		if worst > 0.02 || f.AtLeast() || len(f.Table) != 16 {
			t.Errorf("%s: the film is %.3f off; at least %v; %d steps", print.name, worst, f.AtLeast(), len(f.Table))
		}
	}
}

// A tablet as it prints on a tissue that is through up to density 0.3 and bare from 1.5 on.
const printedTablet = "0.05 12\n0.20 12.1\n0.35 14\n0.65 33\n0.95 52\n1.25 74\n1.55 93\n1.85 93.1\n2.15 93\n"

// Patches that print bare paper have the tablet's last density at least.
func TestTabletBeyondTheTissue(t *testing.T) {
	f, err := ReadByTablet(printedTablet, "0 14\n25 52\n50 83.5\n75 93\n100 92.9\n", Inkjet)
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{0, 0.6, 1.05, 1.2, 1.2}
	for i, s := range f.Table {
		if math.Abs(s.Density-want[i]) > 1e-9 {
			t.Errorf("step %d: density %g, want %g", i, s.Density, want[i])
		}
	}
	if !f.AtLeast() || f.Max != f.Table[4].Density {
		t.Errorf("the film ends at %g; at least %v", f.Max, f.AtLeast())
	}
}

func TestTabletRefuses(t *testing.T) {
	const wedge = "0 20\n25 52\n50 83\n100 93\n"
	for _, c := range []struct{ tablet, wedge, says string }{
		{printedTablet, "0 12\n25 52\n100 93\n", "line 1: the patch prints 12, as several steps"},
		{printedTablet, "0 9\n25 52\n100 93\n", "line 1: the patch prints 9 and lets more light through"},
		{printedTablet, "0 20\n25 52\n50 40\n100 93\n", "line 3 prints 40 after 52 of line 2"},
		{printedTablet, "0 20\n25 52\n", "the film's wedge: the table has 2 steps"},
		{printedTablet, "0 20\n25 52\n90 93\n", "the film's wedge: line 3: the largest code is 90"},
		{printedTablet, "0 20\n25 ink\n100 93\n", "“ink” is no tone"},
		{"0 20\n1 90\n", wedge, "the tablet: it has 2 steps"},
		{"0 20\n0.5 60\n1 40\n1.5 93\n", wedge, "the tablet: line 3: the tone turns back to 40"},
		{"0 20\n1 20\n2 93\n", wedge, "it shows 2 tones"},
		{"0 20\n0.5 60\n0.5 61\n1.5 93\n", wedge, "line 3: the same density as line 2"},
		{"0 20\n50 60\n100 93\n", wedge, "“50” is no density"},
		{"0 % 20\n1 % 60\n2 % 93\n", wedge, "a density is not in %"},
	} {
		if _, err := ReadByTablet(c.tablet, c.wedge, Inkjet); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q, %q: %v, want %q", c.tablet, c.wedge, err, c.says)
		}
	}
}
