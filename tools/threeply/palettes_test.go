package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
)

func TestPalettesJSON(t *testing.T) {
	var out bytes.Buffer
	if err := palettes([]string{"-json"}, &out); err != nil {
		t.Fatal(err)
	}
	var all []paletteReport
	if err := json.Unmarshal(out.Bytes(), &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != len(pigment.Palettes()) {
		t.Fatalf("%d palettes", len(all))
	}
	for _, p := range all {
		if p.Era != "modern" && p.Era != "historic" {
			t.Errorf("%s: era %q", p.ID, p.Era)
		}
		if !(p.Depth.VisualDensity > 1.4 && math.Abs(p.Depth.Lab[1]) < 0.1 && p.Depth.Thickness.Cyan > 0) {
			t.Errorf("%s: depth %+v", p.ID, p.Depth)
		}
		for i, want := range []string{"yellow", "magenta", "cyan"} {
			l := p.Layers[i]
			if l.Printer != want || len(l.Pigments) == 0 || !(l.K[10] > 0 && l.S[10] > 0) {
				t.Errorf("%s %s: %+v", p.ID, want, l)
			}
			for _, g := range l.Pigments {
				if g.Hazard == "" || g.Source == "" {
					t.Errorf("%s: no hazard or source of %s", p.ID, g.CI)
				}
			}
		}
	}
}

func TestPalettesTable(t *testing.T) {
	var out bytes.Buffer
	if err := palettes(nil, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"earth", "NY24 70% + PY42 30%", "PB15:3", "historic", "safety data sheet"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, &out)
		}
	}
	var wrong usageError
	if err := palettes([]string{"a.tif"}, &out); !errors.As(err, &wrong) {
		t.Errorf("a file passes: %v", err)
	}
}
