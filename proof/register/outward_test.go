package register

import (
	"math"
	"testing"

	"threeply/proof/linear"
	"threeply/proof/survey"
)

// TestRangesGoOnOutward has a plate bend by a surface of the second degree, and places in its
// left part alone: in the cells next to them the range holds how far the plate lies off, where
// nothing was measured too, and further on nothing is said.
func TestRangesGoOnOutward(t *testing.T) {
	bend := func(x, y float64) (dx, dy float64) { return 1e-5 * x * x, -4e-6 * x * (y - 300) }
	for name, off := range map[string]func(x, y float64) (dx, dy float64){
		"bent": bend, "flat": func(float64, float64) (float64, float64) { return 0, 0 },
	} {
		grid := survey.New([4]int{0, 0, 800, 600}, 48)
		var places []measured
		for x := 30.0; x < 500; x += 40 {
			for y := 30.0; y < 600; y += 60 {
				dx, dy := off(x, y)
				places = append(places, measured{x: x, y: y, dx: dx, dy: dy, settled: true, score: 0.9, unique: 1, precision: linear.Symmetric{XX: 400, YY: 400}})
			}
		}
		outward(&grid, places)
		for i, within := range grid.Within {
			x, y := grid.Centre(i)
			is := math.Hypot(off(x, y))
			switch {
			case x < 600 && math.Abs(within-is) > 0.03*is+0.01:
				t.Errorf("%s: at %.0f, %.0f the range is %.3f px, and the plate lies off by %.3f", name, x, y, within, is)
			case x > 700 && within != 0:
				t.Errorf("%s: at %.0f, %.0f, far from any place, the range is %.3f px", name, x, y, within)
			}
		}
	}
}

// TestRangesGoOnFromWhatAgrees holds that a part which lies elsewhere, and a place that is not
// certain, widen no range around them, and that no range becomes narrower.
func TestRangesGoOnFromWhatAgrees(t *testing.T) {
	grid := survey.New([4]int{0, 0, 800, 600}, 48)
	cells := []byte(grid.Cells)
	var places []measured
	for i := range cells {
		f := measured{settled: true, score: 0.9, unique: 1, precision: linear.Symmetric{XX: 400, YY: 400}}
		f.x, f.y = grid.Centre(i)
		cells[i] = survey.Measured
		switch {
		case i == 9:
			f.dx, f.score = 20, 0.1
		case i%grid.Across > 5:
			f.dx, cells[i] = 8, survey.Elsewhere
		}
		grid.Within[i] = 0.5
		places = append(places, f)
	}
	grid.Cells = string(cells)
	outward(&grid, places)
	for i, within := range grid.Within {
		if within != 0.5 {
			t.Errorf("cell %d: the range is %.3f px", i, within)
		}
	}
}
