package export

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"threeply/proof/film"
	"threeply/proof/label"
	"threeply/proof/mask"
	"threeply/proof/negative"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
)

// The table is read by a general-purpose reader: negatives run from what the wash leaves of
// white down to clear film at the black, their codes are those of a film that is linear in
// density, and the print ends at its depth. Dots run from none to whole.
func TestCurvesCSV(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	read := func() (at func(row int, column string) float64) {
		text := strings.TrimPrefix(CurvesCSV(&s, p, label.Made{Tool: "Threeply", At: time.Unix(0, 0)}), "\ufeff")
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) != 102 {
			t.Fatalf("%d rows, %v", len(rows), err)
		}
		return func(row int, column string) float64 {
			v, err := strconv.ParseFloat(rows[row+1][slices.Index(rows[0], column)], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
	}
	at := read()
	for _, layer := range []string{"yellow", "magenta", "cyan"} {
		last := math.Inf(1)
		for row := range 101 {
			density, code := at(row, "negative_density_"+layer), at(row, "negative_code_"+layer)
			if density > last+1e-9 {
				t.Errorf("%s: the negative gets denser at row %d", layer, row)
			}
			last = density
			if want := 65535 * (1 - min(max(density, 0), 2.2)/2.2); math.Abs(code-want) > 2.5 { // densities are written to five digits
				t.Errorf("%s: density %g has code %g, want %.1f", layer, density, code, want)
			}
		}
		if math.Abs(at(100, "negative_density_"+layer)) > 1e-6 || at(0, "negative_density_"+layer) < 0.3 {
			t.Errorf("%s runs from density %g to %g", layer, at(0, "negative_density_"+layer), at(100, "negative_density_"+layer))
		}
	}
	if got := at(100, "print_L"); math.Abs(got-p.Scale.Depth.Lab[0]) > 0.01 {
		t.Errorf("the black prints L* %g, and the depth is %g", got, p.Scale.Depth.Lab[0])
	}

	p.Masks = &mask.Matrix{1.25, -0.2, -0.05, 0, 1.125, -0.125, 0.5, 0.25, 0.25}
	at = read()
	for i, want := range p.Masks {
		printers := pigment.Printers()
		if got := at(i, fmt.Sprintf("mask_%s_from_%s", printers[i/3], printers[i%3])); got != want {
			t.Errorf("share %d of the masks is %g, want %g", i, got, want)
		}
	}
	p.Masks = nil

	setup := negative.Usual
	setup.Screen, setup.PPI, setup.Gain = 40, 635, 0.1
	s.Negatives = &setup
	at = read()
	if notes := strings.Join(NegativeNotes(&s, p), " "); strings.Contains(notes, "tint") {
		t.Errorf("nothing is known of tints, and it is said: %s", notes)
	}
	for _, layer := range []string{"yellow", "magenta", "cyan"} {
		if at(0, "dot_area_pct_"+layer) != 0 || at(100, "dot_area_pct_"+layer) != 100 || at(50, "file_area_pct_"+layer) >= at(50, "dot_area_pct_"+layer) {
			t.Errorf("%s: dots of %g to %g %%, in the file %g for %g", layer, at(0, "dot_area_pct_"+layer), at(100, "dot_area_pct_"+layer), at(50, "file_area_pct_"+layer), at(50, "dot_area_pct_"+layer))
		}
	}

	setup.Dots = film.Dots{Least: 0.08, Most: 0.92, Holds: 50} // no tint is asked for that does not hold
	at = read()
	for _, layer := range []string{"yellow", "magenta", "cyan"} {
		for k := range 101 {
			if a := at(k, "file_area_pct_"+layer); a > 0 && a < 8-1e-9 || a > 92+1e-9 && a < 100 {
				t.Errorf("%s: a tint of %g %% is asked for at %d", layer, a, k)
			}
		}
	}
	notes := strings.Join(NegativeNotes(&s, p), " ")
	for _, want := range []string{"Dots of 40 µm are smaller than the smallest that holds on the tissue, 50 µm", "no tints below 8 % that hold: tones above L*", "fills in above a tint of 92 %"} {
		if !strings.Contains(notes, want) {
			t.Errorf("“%s” is not said: %s", want, notes)
		}
	}
}
