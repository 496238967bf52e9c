package spectrum

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// The products against the published table, where it is at hand: ISO 5-3:2009 as
// tabulated in a BSD-3-licensed colour library.
func TestStatusAgainstTheTable(t *testing.T) {
	f, err := os.Open("../../../shared/tables/density_weightings.csv")
	if err != nil {
		t.Skip("SKIPPED: the table of ISO 5-3 products is not here:", err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, id := range []string{"A", "T", "E"} {
		s, _ := StatusByID(id)
		for ch, name := range []string{"RED", "GREEN", "BLUE"} {
			var want Curve
			for _, row := range rows[1:] {
				nm, _ := strconv.Atoi(row[0])
				v, _ := strconv.ParseFloat(row[column["ANSI_STATUS_"+id+"_"+name]], 64)
				want[min(max((nm-First)/Step, 0), N-1)] += v
			}
			got := s.Weights()[ch]
			for i := range want {
				if math.Abs(got[i]-want[i]) > 0.011 {
					t.Errorf("status %s %s at %g nm: %g instead of %g", id, name, Wavelength(i), got[i], want[i])
				}
			}
		}
	}
}
