package verdict

import (
	"encoding/csv"
	"strings"
	"testing"

	"threeply/proof/label"
	"threeply/proof/session/sessiontest"
)

// readCSV reads what a spreadsheet reads.
func readCSV(text string) ([][]string, error) {
	return csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
}

// The name of a scan is never a formula, µ is known by the byte-order mark, and a
// shift to the left stays a number.
func TestWhatSpreadsheetsMakeOfIt(t *testing.T) {
	s := sessiontest.Opened()
	for i, name := range []string{"=HYPERLINK(\"//x\").tif", "@SUM(1).tif", "-1+1.tif"} {
		s.Sources[i].File = name
	}
	s.Offsets[0].DX = -12
	names := map[string]int{"verdict": 6, "matrices": 3} // the verdict's label has them too
	for name, text := range map[string]string{"verdict": CSV(&s, label.Made{}), "matrices": MatricesCSV(&s, label.Made{})} {
		if !strings.HasPrefix(text, "\xef\xbb\xbf") {
			t.Errorf("%s: no byte-order mark", name)
		}
		if strings.Count(text, "\n") != strings.Count(text, "\r\n") {
			t.Errorf("%s: a row does not end as RFC 4180 has it", name)
		}
		rows, err := readCSV(text)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, row := range rows {
			for _, cell := range row {
				if strings.HasSuffix(cell, ".tif") {
					seen++
					if !strings.HasPrefix(cell, "'") {
						t.Errorf("%s: %s", name, cell)
					}
				}
			}
			if row[0] == "offset_right" && row[1] == "blue" && row[2] != "-12" {
				t.Errorf("an offset of -12 µm is %q", row[2])
			}
		}
		if seen != names[name] {
			t.Errorf("%s: %d names of scans", name, seen)
		}
	}
}
