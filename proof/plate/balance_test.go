package plate

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/filter"
)

func TestBalanceInWords(t *testing.T) {
	for _, c := range []struct {
		max   [3]float64
		ratio float64
		words string
	}{
		{[3]float64{1.5, 1.45, 1.4}, 1.3 / 1.2, "agree"},
		{[3]float64{1.7, 1.45, 1.4}, 1.5 / 1.2, "differ in contrast by 25 %: the red plate spans 1.50 in density, the blue plate 1.20"},
		{[3]float64{1.0, 1.45, 2.2}, 2.0 / 0.8, "2.5 to 1"},
		{[3]float64{1.0, 0.25, 2.2}, 0, "green plate is nearly even"},
	} {
		var plates [3]Source
		for i := range plates {
			plates[i] = Source{Base: 0.2, Max: c.max[i]}
		}
		got := Balance(plates)
		if math.Abs(got.Ratio-c.ratio) > 1e-9 || !strings.Contains(got.Words, c.words) {
			t.Errorf("%v: %+v", c.max, got)
		}
	}
	if filter.All != [3]filter.Filter{filter.Red, filter.Green, filter.Blue} {
		t.Error("the order of the filters was changed")
	}
}
