package stack

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

func TestPapers(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	if len(Papers()) < 5 {
		t.Errorf("%d papers", len(Papers()))
	}
	for _, p := range Papers() {
		t.Logf("%-7s %.2f Y %.1f", p.ID, d50.Lab(p.R), d50.XYZ(p.R)[1])
		for i, v := range p.R {
			if !(v > 0.3 && v < 1) {
				t.Errorf("%s at %g nm: %v", p.ID, spectrum.Wavelength(i), v)
			}
		}
		if got, ok := PaperByID(p.ID); !ok || got != p || p.Source == "" {
			t.Errorf("%s is not found or has no source", p.ID)
		}
	}
	// The white that it is described after.
	if l := d50.Lab(Papers()[0].R); !(math.Abs(l[0]-95.4) < 0.5 && math.Abs(l[1]+0.2) < 0.1 && math.Abs(l[2]-2.0) < 0.2) {
		t.Errorf("the sized paper is %v, want 95.4 -0.2 2.0", l)
	}
}

func TestPaperFromLab(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	for _, want := range []spectrum.Lab{{95.4, -0.2, 2}, {98, 0, -3}, {88, 2, 14}, {70, 5, 25}, {99.4, 0, 0}, {25, 0, 0}} {
		p, err := PaperFromLab("own", "Own", want)
		if err != nil {
			t.Errorf("%v: %v", want, err)
			continue
		}
		if got := d50.Lab(p.R); !(got.Distance(want) < 1e-4) {
			t.Errorf("%v becomes %v", want, got)
		}
	}
	for _, bad := range []spectrum.Lab{{100, 0, 0}, {10, 0, 0}, {math.NaN(), 0, 0}, {95, 0, math.NaN()}, {99, 60, 0}, {90, 0, 99}, {90, -90, -90}} {
		if p, err := PaperFromLab("own", "Own", bad); err == nil && !(d50.Lab(p.R).Distance(bad) < 1e-4) {
			t.Errorf("%v becomes %v", bad, d50.Lab(p.R))
		} else if math.IsNaN(bad[0]+bad[2]) && err == nil {
			t.Errorf("%v passes", bad)
		}
	}
}

func TestPaperFromSpectrum(t *testing.T) {
	var b strings.Builder
	for i, v := range Papers()[2].R {
		fmt.Fprintf(&b, "%g\t%.6f\n", spectrum.Wavelength(i), v)
	}
	p, err := PaperFromSpectrum("own", "Own", []byte(b.String()))
	if err != nil || !(math.Abs(p.R[7]-Papers()[2].R[7]) < 1e-6) {
		t.Errorf("%v %v", p.R, err)
	}
	if _, err := PaperFromSpectrum("own", "Own", []byte("380 2\n")); err == nil {
		t.Error("a reflectance of 2 passes")
	}
}

func TestPaperReadsBackWhole(t *testing.T) {
	for _, p := range Papers() {
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var back Paper
		if err := json.Unmarshal(text, &back); err != nil || back != p || back.Check() != nil {
			t.Errorf("%s comes back as %+v: %v, %v", p.ID, back, err, back.Check())
		}
	}
	for _, text := range []string{`{"name":"x"}`, `{"name":"x","r":[0.5]}`, `{"name":"x","r":[` + strings.Repeat("0.5,", spectrum.N) + `0.5]}`, `{"name":"x","r":null}`} {
		var p Paper
		if err := json.Unmarshal([]byte(text), &p); err != nil || p.Check() == nil {
			t.Errorf("%.40s passes for a paper: %v", text, err)
		}
	}
}

func TestBlackIsNoPaper(t *testing.T) {
	if _, err := PaperFromSpectrum("x", "x", []byte("380 0\n"+func() (lines string) {
		for nm := 390; nm <= 730; nm += 10 {
			lines += fmt.Sprintf("%d 0.0001\n", nm)
		}
		return lines
	}())); err == nil || !strings.Contains(err.Error(), "next to no light") {
		t.Errorf("a black spectrum: %v", err)
	}
}
