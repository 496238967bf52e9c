package wedge

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/stack"
)

func recipeOf(t *testing.T, id string) stack.Recipe {
	t.Helper()
	p, ok := pigment.PaletteByID(id)
	if !ok {
		t.Fatal(id)
	}
	return stack.DefaultRecipe(p)
}

// printed prints a tablet of equal steps on a tissue that hardens by the working curve of
// P. F. Jacobs (Rapid Prototyping & Manufacturing, SME 1992), Cd = Dp·ln(E/Ec), and reads it
// to two decimals.
func printed(t *testing.T, recipe stack.Recipe, printer pigment.Printer, by Reading, dp, ec, exposure, step, load float64) string {
	t.Helper()
	density, err := densityOf(recipe, printer, by)
	if err != nil {
		t.Fatal(err)
	}
	coat := recipe.Palette.Layer(printer).CoatMicron
	var text strings.Builder
	for i := range 31 {
		tablet := 0.05 + step*float64(i)
		h := min(max(dp*math.Log(exposure*math.Pow(10, -tablet)/ec), 0), coat)
		if h < 0.5 { // washed off
			h = 0
		}
		fmt.Fprintf(&text, "%.2f\t%.2f\n", tablet, density(load*h/coat))
	}
	return text.String()
}

// A wedge brings the depth of light and the threshold that it was printed by: heights meet
// those of the working curve, and one stop more adds Dp·ln 2, whatever the tissue's load is
// taken for.
func TestWedgeFindsTheWorkingCurve(t *testing.T) {
	const dp, ec, exposure = 6.0, 3.0, 400.0
	for _, c := range []struct {
		palette string
		printer pigment.Printer
		by      Reading
		load    float64
		most    float64 // µm that a height may be off: the eye's densities tell little of one colour
	}{{"arylide", pigment.Cyan, "A", 1, 0.4}, {"arylide", pigment.Yellow, "A", 0.85, 0.4}, {"arylide", pigment.Magenta, Visual, 1.2, 0.8}, {"gamboge", pigment.Cyan, "T", 1, 0.4}} {
		recipe := recipeOf(t, c.palette)
		steps, err := Read("tablet, print\n" + printed(t, recipe, c.printer, c.by, dp, ec, exposure, 0.1, c.load))
		if err != nil {
			t.Fatal(err)
		}
		curve, err := Of(recipe, c.printer, steps, c.by, exposure)
		if err != nil {
			t.Fatal(err)
		}
		if !curve.Through || math.Abs(curve.Load-c.load) > 0.03 {
			t.Errorf("%s %s: through %t, load × %.3f, the wedge was printed with %.3f", c.palette, c.printer, curve.Through, curve.Load, c.load)
		}
		tissue := recipe.Palette.Layer(c.printer)
		tissue.Hardening = pigment.Hardening{Wedge: curve.Steps}
		r, worst := relief.Of(tissue), 0.0
		for h := 2.0; h < 0.9*tissue.CoatMicron; h++ {
			logE := math.Log10(ec) + h/(dp*math.Ln10)
			worst = max(worst, math.Abs(r.Hardened(logE)-h))
			if more := r.Hardened(logE + math.Log10(2)/4); h < 0.7*tissue.CoatMicron && c.by != Visual && math.Abs(more-r.Hardened(logE)-dp*math.Ln2/4) > 0.35 {
				t.Errorf("%s %s: a quarter of a stop at %.0f µm adds %.2f µm, the law %.2f", c.palette, c.printer, h, more-r.Hardened(logE), dp*math.Ln2/4)
			}
		}
		t.Logf("%s %s: largest error of a height %.2f µm", c.palette, c.printer, worst)
		if worst > c.most {
			t.Errorf("%s %s: a height is %.2f µm off the working curve", c.palette, c.printer, worst)
		}
	}
}

// Readings that turn back by as much as they repeat are evened; by more, the line is named.
func TestReadEvens(t *testing.T) {
	steps, err := Read("0,05; 1,40\n0,20; 1,41\n0,35; 1,10\n0,50; 0,60\n0,65; 0,61\n0,80; 0,02\n0,95; 0,00\n")
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{1.405, 1.405, 1.10, 0.605, 0.605, 0.02, 0} {
		if math.Abs(steps[i].Print-want) > 1e-9 {
			t.Errorf("step %d is %.4f, want %.4f", i, steps[i].Print, want)
		}
	}
}

func TestRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"0.05 1.4\n0.2 1.0\n":                        "has 2 steps",
		"0.05 1.4\n0.2 1.0\n0.35 1.2\n0.5 0.1\n":     "line 2",
		"0.05 1.4\n0.2 1.0\n0.2 0.9\n0.5 0.1\n":      "same density as line 2",
		"0.05 1.4 3\n0.2 1.0\n0.35 0.9\n0.5 0.1\n":   "line 1: “0.05 1.4 3” holds 3 figures",
		"0.05 88\n0.2 70\n0.35 50\n0.5 30\n":         "zero on the bare paper",
		"5 % 1.4\n6 % 1.0\n7 % 0.9\n8 % 0.1\n":       "not in %",
		"0.05 3.9\n0.2 3.0\n0.35 2.9\n0.5 0.1\n":     "four coats",
		"0.05 2.2\n0.2 1.5\n0.35 0.9\n0.5 0.1\n":     "set the load",
		"0.05 1.4\n0.2 1.4\n0.35 0.6\n0.5 0\n0.65 0": "only",
	} {
		steps, err := Read(text)
		if err == nil {
			_, err = Of(recipeOf(t, "arylide"), pigment.Cyan, steps, "A", 1)
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want “%s”", text, err, want)
		}
	}
	if _, err := Of(recipeOf(t, "arylide"), pigment.Cyan, nil, "Z", 1); err == nil {
		t.Error("densities of a status that there is not were taken")
	}
}
