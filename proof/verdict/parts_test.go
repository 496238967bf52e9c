package verdict

import "testing"

// TestMissingPartsAreASentence says where nothing was measured as one would say it: by whole
// thirds of the picture where they are, else by ninths, each with its own preposition.
func TestMissingPartsAreASentence(t *testing.T) {
	for cells, want := range map[string]string{ // row by row, - where nothing was measured
		"+++ +++ +++": "",
		"--- +++ +++": "Nothing was measured in the upper third.",
		"-++ +++ +++": "Nothing was measured in the upper left.",
		"+-+ ++- ++-": "Nothing was measured in the upper middle, on the right side and in the lower right.",
		"+++ +-+ -++": "Nothing was measured in the middle and in the lower left.",
		"-++ -++ ---": "Nothing was measured in the left third and in the lower third.",
		"--- --- ---": "Nothing was measured in the whole picture.",
	} {
		v := Scan{Across: 3, Down: 3}
		for _, c := range cells {
			if c != ' ' {
				v.Cells = append(v.Cells, Cell{Measured: c == '+'})
			}
		}
		v.Missing = v.missing()
		if got := v.notMeasured(); got != want {
			t.Errorf("%s: %q, want %q", cells, got, want)
		}
	}
}
