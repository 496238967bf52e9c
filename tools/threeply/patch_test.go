package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
)

func TestPatchJSON(t *testing.T) {
	var out bytes.Buffer
	if err := patch([]string{"-palette", "earth", "-y", "0.5", "-m", "0.4", "-c", "0.6", "-order", "cmy", "-light", "A", "-json"}, &out); err != nil {
		t.Fatal(err)
	}
	var p patchReport
	if err := json.Unmarshal(out.Bytes(), &p); err != nil {
		t.Fatal(err)
	}
	if p.Wavelengths[0] != 380 || p.Wavelengths[70] != 730 || p.Surface.K2 != 0.6 {
		t.Errorf("wavelengths %v, surface %v", p.Wavelengths, p.Surface)
	}
	if l := 116*math.Cbrt(p.XYZ[1]/100) - 16; !(math.Abs(l-p.Lab[0]) < 1e-9 && l > 10 && l < 60) {
		t.Errorf("L* %v, from Y %v", p.Lab[0], l)
	}
	for i, r := range p.Reflectance {
		if !(r > 0 && r < p.Paper[i]) {
			t.Errorf("%g nm: reflectance %v on paper %v", p.Wavelengths[i], r, p.Paper[i])
		}
	}
}

// Thicker layers are darker to the density that tells of them.
func TestPatchTable(t *testing.T) {
	var out bytes.Buffer
	if err := patch([]string{"-palette", "lemon", "-m", "1"}, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"CIELAB", "XYZ", "sRGB", "visual density", "status A", "Estimate from published or remembered pigment spectra"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %s in\n%s", want, &out)
		}
	}
}

func TestPatchWrongUse(t *testing.T) {
	for _, args := range []string{
		"", "-palette none", "-palette lemon -order yy", "-palette lemon -light moon", "-palette lemon -paper none",
		"-palette lemon -finish wet", "-palette lemon -y -1", "-palette lemon -y NaN", "-palette lemon -y much", "-palette lemon a.tif", "-nosuch",
	} {
		var wrong usageError
		if err := patch(strings.Fields(args), &bytes.Buffer{}); !errors.As(err, &wrong) || wrong == "" {
			t.Errorf("%q: %v", args, err)
		}
	}
}
