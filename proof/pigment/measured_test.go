package pigment

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

// measured is a palette whose tissues were measured.
func measured() Palette {
	p := own()
	p.Measured = &Measurement{Date: "2026-03-01", Paper: "Warm rag", Way: "spectra", Mean: 0.4, P95: 0.9, Max: 1.2, Patches: 14, Sheets: 2, Coat: 0.02, Seen: &Seen{Neutral: "E9", Light: "H4 H5", Deep: "C3"}, Doubt: [3]float64{0.1, 0.2, 0.1}, Told: [3]float64{1, 2, 0.5}}
	p.Yellow.Measured = &Spectra{
		K: spectrum.Sample(func(nm float64) float64 { return 2 - nm/400 + 0.01 }),
		S: spectrum.Sample(func(nm float64) float64 { return 0.1 }), KSigma: 0.02, SSigma: 0.3,
	}
	p.Magenta.Measured, p.Cyan.Measured = p.Yellow.Measured, p.Yellow.Measured
	p.Cyan.Faded = &Faded{12, 0.6}
	return p
}

// What was measured is used in place of the pigments' spectra, with the tissue's load and
// haze, and comes back from a file as it was.
func TestMeasuredSpectraAreUsed(t *testing.T) {
	p := measured()
	p.Yellow.Load, p.Yellow.Haze = 2, 3
	k, s := p.Yellow.KS()
	for i := range k {
		if k[i] != 2*p.Yellow.Measured.K[i] || !(math.Abs(s[i]-0.6) < 1e-12) {
			t.Fatalf("K %g, S %g at %g nm", k[i], s[i], spectrum.Wavelength(i))
		}
	}
	text, err := p.Write()
	if err != nil {
		t.Fatal(err)
	}
	back, err := Read(text)
	if err != nil || !back.Same(p) {
		t.Fatalf("%v: %+v", err, back)
	}
	if !strings.Contains(p.Measured.Words(), "2026-03-01") || !strings.Contains(p.Measured.Words(), "1.2") {
		t.Error(p.Measured.Words())
	}
	p.Measured.Expected = 1.5
	if !strings.Contains(p.Measured.Words(), "expect errors of about ΔE00 1.5") {
		t.Error(p.Measured.Words())
	}
}

// Files of version 1, which know of nothing measured, are read as ever.
func TestVersionOneIsRead(t *testing.T) {
	text, err := own().Write()
	if err != nil {
		t.Fatal(err)
	}
	old := strings.Replace(string(text), `"version": 5`, `"version": 1`, 1)
	if back, err := Read([]byte(old)); err != nil || !back.Same(own()) || back.Measured != nil {
		t.Errorf("%v: %+v", err, back)
	}
}

func TestMeasuredFaults(t *testing.T) {
	for want, change := range map[string]func(p *Palette){
		"no date":              func(p *Palette) { p.Measured.Date = "March" },
		"no way of measuring":  func(p *Palette) { p.Measured.Way = "guess" },
		"a ΔE00 of -1":         func(p *Palette) { p.Measured.Mean = -1 },
		"0 to 3":               func(p *Palette) { p.Measured.Seen = &Seen{Cyan: SeenLayer{Density: 4}} },
		"the place of a patch": func(p *Palette) { p.Measured.Seen = &Seen{Cyan: SeenLayer{Held: "E999"}} },
		"of 3 patches at most": func(p *Palette) { p.Measured.Seen = &Seen{Deep: "E9 E10 E11 E12"} },
		"-1 sheets":            func(p *Palette) { p.Measured.Told[2] = -1 },
		"9 is out of bounds":   func(p *Palette) { p.Measured.Doubt[1] = 9 },
		"counts":               func(p *Palette) { p.Measured.Sheets = -1 },
		"at 385 nm":            func(p *Palette) { p.Yellow.Measured.K[1] = 0 },
		"at 380 nm":            func(p *Palette) { p.Yellow.Measured.S[0] = -1 },
		"0 to 5":               func(p *Palette) { p.Yellow.Measured.SSigma = 9 },
	} {
		p := measured()
		change(&p)
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}
