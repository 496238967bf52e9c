package verdict

import (
	"math"
	"strconv"
	"testing"

	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/warp"
)

func TestMatricesCSVReadsBack(t *testing.T) {
	s := sessiontest.Opened()
	s.Sources[0].File = "winter, “red”\u00a0\"1\".tif"
	s.Offsets[pigment.Cyan] = session.Offset{DX: 3000, Turn: 1}
	rows, err := readCSV(MatricesCSV(&s, label.Made{}))
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4 || rows[1][0] != "red" || rows[1][1] != s.Sources[0].File || rows[1][2] != "green" {
		t.Fatalf("%q", rows)
	}
	for _, f := range filter.All {
		i := s.Assign[f]
		register, layer := place.Register(&s, i), place.LayerMatrix(&s, f.Printer())
		for k := range 6 {
			for column, want := range map[int]float64{3 + k: register[k], 10 + k: layer[k]} {
				got, err := strconv.ParseFloat(rows[f+1][column], 64)
				if err != nil || math.Abs(got-want) > 1e-6 {
					t.Errorf("%s, %s: %s, want %g (%v)", rows[f+1][0], rows[0][column], rows[f+1][column], want, err)
				}
			}
		}
	}
	seen := map[string]bool{}
	for _, name := range rows[0] {
		if seen[name] {
			t.Errorf("two columns are named %s", name)
		}
		seen[name] = true
	}
}

func TestMatricesCSVHoldsTheLocalRegister(t *testing.T) {
	s := sessiontest.Opened()
	s.Local[0] = warp.Local{W: 1001, H: 700, CX: [7]float64{1, 2, 3, 4, 5, 6, 7}, CY: [7]float64{0, -1}}
	for _, on := range []bool{false, true} {
		s.LocalOn = on
		rows, err := readCSV(MatricesCSV(&s, label.Made{}))
		if err != nil {
			t.Fatal(err)
		}
		for k, name := range rows[0] {
			want := ""
			switch name {
			case "local_w":
				want = "1001"
			case "local_x3":
				want = "3"
			case "local_y2":
				want = "-1"
			default:
				continue
			}
			if !on {
				want = ""
			}
			if rows[1][k] != want || rows[2][k] != "" {
				t.Errorf("local register %v: %s is %q, of the key %q", on, name, rows[1][k], rows[2][k])
			}
		}
	}
}
