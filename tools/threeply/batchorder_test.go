package main

import (
	"math"
	"slices"
	"testing"

	"threeply/proof/light"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/tools/batch"
)

// The report comes in the order of what a person must look at first: what failed, what is not
// surely registered, what is out of register, what is clipped, what was levelled apart or tells
// nothing of its light, what has a remark, what is fine. Of two for one reason the worse comes
// first; a set that has several reasons stands where the most urgent puts it, and says all.
func TestReportBeginsWithWhatMustBeLookedAt(t *testing.T) {
	levelled := func(s *session.State) {
		for i := range 2 {
			s.Sources[i].Scan.Codes.Levels, s.Sources[i].Scan.Codes.Lowest, s.Sources[i].Scan.Codes.Highest = 60_000, 0.001, 0.999
		}
	}
	out := func(by float64) func(*session.State) {
		return func(s *session.State) { s.Survey[0] = sessiontest.Surveyed(by) }
	}
	clipped := func(share float64) func(*session.State) {
		return func(s *session.State) { s.Sources[2].Scan.Clipped[1] = share }
	}
	cases := []struct { // in the order that they are to come in
		set    string
		change []func(*session.State)
		rests  *basis
		note   string
		looks  int
	}{
		{set: "not registered", change: []func(*session.State){func(s *session.State) { s.Registered = "none" }}, looks: 1},
		{set: "two thirds sure, and clipped", change: []func(*session.State){func(s *session.State) { s.Found[2].Confidence = 0.66 }, clipped(0.3)}, looks: 2},
		{set: "6 px out", change: []func(*session.State){out(6)}, looks: 1},
		{set: "3 px out, and levelled apart", change: []func(*session.State){out(3), levelled}, looks: 2},
		{set: "a tenth clipped", change: []func(*session.State){clipped(0.1)}, looks: 1},
		{set: "little clipped", change: []func(*session.State){clipped(0.02)}, looks: 1},
		{set: "levelled apart", change: []func(*session.State){levelled}, note: "a remark", looks: 2},
		{set: "light 2 stops apart", rests: &basis{light: &light.Comparison{Apart: 2}}, looks: 1},
		{set: "a remark", note: "a remark", looks: 1},
		{set: "fine", rests: &basis{light: &light.Comparison{Apart: 0.1}}},
	}
	all := []batch.Figures{batch.Set{Name: "no plate"}.Failed("no such file")}
	want := []string{"no plate"}
	for _, c := range cases {
		s := sessiontest.Opened()
		for _, change := range c.change {
			change(&s)
		}
		var notes []string
		if c.note != "" {
			notes = []string{c.note}
		}
		f := batchOptions{}.figures(&s, batch.Set{Name: c.set}, c.rests, notes)
		if len(f.Look) != c.looks || math.IsNaN(f.Degree) {
			t.Errorf("%s: to look at are %q, degree %g; want %d", c.set, f.Look, f.Degree, c.looks)
		}
		all, want = append(all, f), append(want, c.set)
	}
	slices.Reverse(all)
	slices.SortFunc(all, batch.Urgent)
	for i, f := range all {
		if f.Set != want[i] {
			t.Errorf("number %d is %q (why %d, degree %g), want %q", i+1, f.Set, f.Why, f.Degree, want[i])
		}
	}
}
