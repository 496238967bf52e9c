package main

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/audit"
	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/intake"
	"threeply/proof/levels"
	"threeply/proof/picture"
	proofplate "threeply/proof/plate"
	"threeply/proof/registration"
	proofscan "threeply/proof/scan"
	"threeply/proof/session"
	colour "threeply/proof/spectrum"
	"threeply/proof/tone"
)

// opened is the set as the tool opens it, in the register of the truth.
func opened(t *testing.T, s *demoSet) (session.State, *proofplate.Set) {
	t.Helper()
	dir := t.TempDir()
	if err := s.write(dir, ""); err != nil {
		t.Fatal(err)
	}
	set := s.open(t, dir)
	return registered(s, set), set
}

// registered is the session of the set in the register of the truth.
func registered(s *demoSet, set *proofplate.Set) session.State {
	state := intake.Begin(set)
	state.Registered = "auto"
	for _, f := range filter.All {
		state.Found[state.Assign[f]] = session.Found{Matrix: s.truth.Plates[f.String()].Matrix, Confidence: 1}
	}
	return state
}

// open opens the set's plates in a folder as the tool does.
func (s *demoSet) open(t testing.TB, dir string) *proofplate.Set {
	t.Helper()
	var files []proofplate.File
	for _, name := range plateNames {
		file := s.truth.Plates[name].File
		data, err := os.ReadFile(filepath.Join(dir, file))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, proofplate.File{Name: file, Data: proofscan.Bytes(data)})
	}
	set, err := proofplate.Open(files, proofplate.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// printed is how the steps of the grey scale print, negatives drawn so that
// neutrals print neutral: the mean CIEDE2000 from the grey of the same lightness.
func printed(t *testing.T, s *demoSet, state session.State, films [3]tone.Film) (mean float64) {
	t.Helper()
	p, err := picture.Prepare(&state)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range s.truth.GreyScale {
		var amount [3]float64
		for _, f := range filter.All {
			h := films[state.Assign[f]].Exposure(g.OnPlate[f.String()])
			printer := f.Printer()
			amount[printer] = p.Scale.Thickness(tone.Depth01(h))[printer]
		}
		lab := p.Light.Lab(p.Recipe.Reflectance(amount))
		mean += colour.DeltaE00(lab, colour.Lab{lab[0], 0, 0}) / float64(len(s.truth.GreyScale))
	}
	return mean
}

// built is the set as the page has it, in the folder that `make build` makes.
func built(t testing.TB) (*demoSet, *proofplate.Set) {
	t.Helper()
	const dir = "../../.build/site/demo"
	text, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Skipf("SKIPPED: the demonstration set is not built (%v); make build makes it", err)
	}
	s := &demoSet{}
	if err := json.Unmarshal(text, &s.truth); err != nil {
		t.Fatal(err)
	}
	return s, s.open(t, dir)
}

// The set opens with the films of the grey scale that lies in its picture: registered
// and looked at as the page does it, it prints that scale grey.
func TestTheSetOpensOnItsGreyScale(t *testing.T) {
	s, set := built(t)
	state := intake.Begin(set)
	found, err := registration.Register(context.Background(), &state, set.Density, nil)
	if err != nil {
		t.Fatal(err)
	}
	lies := found.On(&state)
	found.Seen = registration.Look(&lies, set.Density)
	h := command.NewHistory(state)
	if err := h.Begin(found.ByScale()); err != nil {
		t.Fatal(err)
	}
	if n := h.Neutral; n.By != session.ByScale || len(n.Greys) < 8 {
		t.Fatalf("the films rest on %+v", n)
	}
	var films [3]tone.Film
	for i, src := range h.Sources {
		films[i] = src.Film
	}
	got := printed(t, s, h.State, films)
	t.Logf("ΔE00 %.2f from neutral in the mean, by %d steps", got, len(h.Neutral.Greys))
	a, err := audit.Of(&h.State, levels.Planes{By: set.Density}, found.Blur)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(a.Greys.Neutral.Words, a.Greys.Answer, a.Scans.Answer, a.Light.Words)
	if !strings.HasPrefix(a.Greys.Neutral.Words, "Yes") || !strings.HasPrefix(a.Greys.Answer, "Yes") {
		t.Errorf("the page will say: %s %s", a.Greys.Neutral.Words, a.Greys.Answer)
	}
	if got > 1 {
		t.Errorf("the grey scale prints ΔE00 %.2f from neutral, want 1 at most", got)
	}
}

// The plates are honestly unequal: each by itself, their grey scale prints with a
// cast. By the scale itself it prints grey.
func TestGreyScalePrintsNeutral(t *testing.T) {
	s := smallSet()
	state, set := opened(t, s)
	middle := func(i int) session.Spot {
		b := s.truth.GreyScale[i].Box
		return session.Spot{X: float64(b[0]) + float64(b[2]-1)/2, Y: float64(b[1]) + float64(b[3]-1)/2}
	}
	l, m, err := levels.ByScale(&state, levels.Planes{By: set.Density}, middle(0), middle(steps-1), session.Neutral{})
	if err != nil {
		t.Fatal(err)
	}
	own, got := printed(t, s, state, levels.Own(&state).Films), printed(t, s, state, l.Films)
	t.Logf("each plate by itself: ΔE00 %.1f from neutral in the mean; by the scale's %d steps: %.2f", own, len(m.Greys), got)
	if got > 1 {
		t.Errorf("the grey scale prints ΔE00 %.2f from neutral, want 1 at most", got)
	}
	if own < 4 {
		t.Errorf("each plate by itself it prints ΔE00 %.2f from neutral: these plates are no test", own)
	}
	for _, f := range filter.All {
		truth, source := s.truth.Plates[f.String()], state.Sources[state.Assign[f]]
		if want := truth.Film.Gamma / s.truth.Plates["green"].Film.Gamma; math.Abs(m.Plates[f].Slope/want-1) > 0.06 {
			t.Errorf("%s: γ %.3f of the key's, made with %.3f", f, m.Plates[f].Slope, want)
		}
		if source.Rebate == 0 || math.Abs(source.Rebate-truth.Film.Fog) > 0.02 {
			t.Errorf("%s: base and fog %.3f, made with %.2f", f, source.Rebate, truth.Film.Fog)
		}
	}
}

// BenchmarkLook is what is done of the built set beside register: the search for a
// grey scale, and the audit that the Plates station shows.
func BenchmarkLook(b *testing.B) {
	s, set := built(b)
	state := registered(s, set)
	planes := levels.Planes{By: set.Density}
	b.Run("scale", func(b *testing.B) {
		for b.Loop() {
			if l := levels.Proposed(&state, planes); l == nil {
				b.Fatal("no scale is found")
			} else {
				state.Neutral = l.Neutral
			}
		}
	})
	b.Run("audit", func(b *testing.B) {
		for b.Loop() {
			if _, err := audit.Of(&state, planes, [3]float64{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
