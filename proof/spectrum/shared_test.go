package spectrum

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

// The tables in the code are the CIE's to the last digit: compared with a copy
// of CIE 018:2019 table 6 and ISO/CIE 11664-2:2022 where one lies beside the
// project.
func TestTablesAreTheCIEs(t *testing.T) {
	const name = "../../../shared/tables/cie_1931_2deg_D50_D65_A_5nm.csv"
	f, err := os.Open(name)
	if err != nil {
		t.Skip("SKIPPED: no copy of the CIE tables beside the project; the tables go uncompared")
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != FullN+1 {
		t.Fatalf("%d rows: %v", len(rows), err)
	}
	for i, row := range rows[1:] {
		for j, column := range []*Full{&xBar, &yBar, &zBar, &powerD50, &powerD65, &powerA} {
			if v, err := strconv.ParseFloat(row[j+1], 64); err != nil || v != column[i] {
				t.Errorf("%s nm, %s: %v, table %s", row[0], rows[0][j+1], column[i], row[j+1])
			}
		}
	}
}
