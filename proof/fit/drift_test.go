package fit

import (
	"math"
	"testing"

	"threeply/proof/pigment"
)

// A tissue a tenth stronger and half a stop slower is said to be so, by two sheets of one
// workshop before and after.
func TestDrift(t *testing.T) {
	p, s := sheetOf("chrome")
	tr := workshop(p, 2)
	before := fitTexts(t, "chrome", "", tr.sheet(s, 0.002, 0, 1, 20, false))
	for i := range tr.k[2] {
		tr.k[2][i] *= 1.1
		tr.s[2][i] *= 1.1
	}
	// Half a stop slower: the curve of half a stop less light. Its unit is what the base
	// exposure leaves, so that the load falls by what is missing there.
	faster := tr.curve[2]
	tr.curve[2] = func(e float64) float64 { return faster(e - 0.5*math.Log10(2)) }
	after := fitTexts(t, "chrome", "", tr.sheet(s, 0.002, 0, 2, 20, false))
	how := pigment.Measurement{Date: "2026-03-01"}
	drift := DriftOf(before.Palette("a", "A", p, how), after.Palette("b", "B", p, how))
	if len(drift) != 3 {
		t.Fatalf("%d layers", len(drift))
	}
	for _, d := range drift {
		t.Log(d.Words())
		wantLoad, wantStops := 1.0, 0.0
		if d.Printer == "cyan" {
			wantLoad = 1.1 * tr.curve[2](0) / faster(0)
			half := func(curve func(float64) float64) float64 { // log exposure of half of what the base leaves
				low, high := -2.0, 0.0
				for range 50 {
					if mid := (low + high) / 2; curve(mid) < curve(0)/2 {
						low = mid
					} else {
						high = mid
					}
				}
				return high
			}
			wantStops = (half(tr.curve[2]) - half(faster)) / math.Log10(2)
		}
		if math.Abs(d.Load/wantLoad-1) > 0.03 || math.Abs(d.Stops-wantStops) > 0.06 {
			t.Errorf("%s; want a load of %.3f, %.2f stops", d.Words(), wantLoad, wantStops)
		}
	}
	a, b := before.Palette("a", "A", p, how), after.Palette("b", "B", p, how)
	older := a
	older.Name, older.Measured = "Old", &pigment.Measurement{Date: "2025-11-01"}
	foreign := a
	foreign.Yellow.Pigments, foreign.Magenta.Pigments = []pigment.Share{{CI: "PY3", Share: 1}}, []pigment.Share{{CI: "PR122", Share: 1}}
	if got := Drifts([]pigment.Palette{a, p, older, foreign}, b); len(got) != 3 || got[0].Name != "Old" || len(got[1].Layers) != 3 || len(got[2].Layers) != 1 || got[2].Layers[0].Printer != "cyan" {
		t.Errorf("%+v", got)
	}

	// The exposures that leave half, against those of the workshop's own curves.
	base := [3]float64{100, 300, 200}
	ratio, known := after.Ratio(base)
	var want [3]float64
	for l, curve := range tr.curve {
		for e := -2.0; curve(e) < curve(0)/2; e += 0.001 {
			want[l] = base[l] * math.Pow(10, e)
		}
	}
	for l, name := range printerNames() {
		if !known || math.Abs(ratio[name]/(want[l]/want[2])-1) > 0.06 {
			t.Errorf("%s: exposed %.3f times as long as cyan, want %.3f", name, ratio[name], want[l]/want[2])
		}
	}
	if _, known := after.Ratio([3]float64{100, 0, 200}); known {
		t.Error("a base exposure that was not measured is taken as known")
	}
	if got := DriftOf(p, after.Palette("b", "B", p, how)); len(got) != 0 {
		t.Errorf("against a palette that was not measured: %v", got)
	}
}
