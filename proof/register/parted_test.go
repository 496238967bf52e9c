package register

import (
	"slices"
	"testing"

	"threeply/proof/survey"
)

// A lost part is of cells that lie side by side: the largest such part, and none of fewer
// than three cells, nor over the edge of a row.
func TestLost(t *testing.T) {
	m := survey.New([4]int{0, 0, 600, 400}, 24)
	for cells, want := range map[string][]int{
		"mmmmmmmmmmmmmmmmmmmmmmmm": nil,
		"uummmmmmmmmmmmuummmmmmmm": nil,
		"mmmmuuummmmmmmmmmmmmmmmm": nil, // from the end of a row to the beginning of the next
		"uuummmmmmmmmmmmmmmmuummm": {0, 1, 2},
		"uuummmmmmmmmmmumuummuuum": {14, 16, 17, 20, 21, 22},
		"muuummmuuummmmmmmmmmmmmm": {1, 2, 3, 7, 8, 9},
	} {
		m.Cells = cells
		got := Lost(&m)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", cells, got, want)
		}
	}
}
