package command

import (
	"math"
	"testing"

	"threeply/proof/session"
)

// Both ends of a range can be set, and nothing beyond them.
func TestRangesAreWhatASessionTakes(t *testing.T) {
	r := session.LengthRanges()
	for name, c := range map[string]struct {
		session.Range
		command func(v float64) Command
	}{
		"print width":      {r.PrintWidth, func(v float64) Command { return PrintWidth{Width: v} }},
		"viewing distance": {r.ViewingDist, func(v float64) Command { return ViewingDistance{Distance: v} }},
		"tolerance":        {r.Tolerance, func(v float64) Command { return Tolerance{Micron: v} }},
	} {
		for v, want := range map[float64]bool{
			c.Range[0]: true, c.Range[1]: true, c.Range[0] * 0.99: false, c.Range[1] * 1.01: false, -1: false, math.Inf(1): false, math.NaN(): false,
		} {
			if err := NewHistory(session.New()).Do(c.command(v), ""); (err == nil) != want {
				t.Errorf("%s %g: %v", name, v, err)
			}
		}
	}
	if err := NewHistory(session.New()).Do(Tolerance{}, ""); err != nil {
		t.Errorf("no tolerance: %v", err)
	}
}
