package pigment

import (
	"math"
	"strings"
	"testing"
)

func TestHardeningIsChecked(t *testing.T) {
	five, deep := 5.0, 99.0
	for _, c := range []struct {
		h    Hardening
		says string // "" where it is sound
	}{
		{Hardening{}, ""},
		{Hardening{DepthMicron: 8, Threshold: 40, HoldOnMicron: &five, Wedge: []Printed{{-1, 0}, {0, 3}, {1, 3}, {1.5, 20}}}, ""},
		{Hardening{HoldOnMicron: new(float64)}, ""},
		{Hardening{DepthMicron: 1e4}, "depthMicron: 10000 is out of bounds"},
		{Hardening{DepthMicron: math.NaN()}, "depthMicron"},
		{Hardening{Threshold: -1}, "threshold: -1 is out of bounds"},
		{Hardening{HoldOnMicron: &deep}, "holdOnMicron: 99 is out of bounds"},
		{Hardening{Wedge: []Printed{{0, 1}}}, "a wedge of 1 steps"},
		{Hardening{Wedge: []Printed{{0, 5}, {1, 4}}}, "rising order"},
		{Hardening{Wedge: []Printed{{0, 1}, {0, 2}}}, "rising order"},
		{Hardening{Wedge: []Printed{{0, math.NaN()}, {1, 2}}}, "out of bounds"},
		{Hardening{Wedge: []Printed{{0, 1}, {math.Inf(1), 2}}}, "out of bounds"},
		{Hardening{Wedge: make([]Printed, 100)}, "a wedge of 100 steps"},
	} {
		tissue := NewTissue(Share{"PB27", 1})
		tissue.Hardening = c.h
		err := tissue.Check()
		if c.says == "" && err != nil || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%+v: %v, want %q", c.h, err, c.says)
		}
	}
}
