package scan

import (
	"math"
	"strings"
	"testing"
)

// Curves by the formulae of ICC.1:2010, 10.5 and 10.15.
func TestICCCurves(t *testing.T) {
	table := make([]int, 1024)
	for i := range table {
		table[i] = int(65535*math.Pow(float64(i)/1023, 2) + 0.5)
	}
	a, b := 1/1.055, 0.055/1.055
	for _, c := range []struct {
		name string
		tag  []byte
		want func(x float64) float64
	}{
		{"identity", curvTag(), func(x float64) float64 { return x }},
		{"gamma 2.2", curvTag(0x0233), func(x float64) float64 { return math.Pow(x, 2+51./256) }},
		{"table", curvTag(table...), func(x float64) float64 { return x * x }},
		{"kind 0", paraTag(0, 1.8), func(x float64) float64 { return math.Pow(x, 1.8) }},
		{"kind 1", paraTag(1, 2, 1.25, -0.25), func(x float64) float64 { return math.Pow(max(1.25*x-0.25, 0), 2) }},
		{"kind 2", paraTag(2, 2, 1, -0.5, 0.125), func(x float64) float64 { return math.Pow(max(x-0.5, 0), 2) + 0.125 }},
		{"kind 3", paraTag(3, 2.4, a, b, 1/12.92, 0.04045), srgb},
		{"kind 4", paraTag(4, 2, 0.5, 0.25, 0.5, 0.25, 0.125, 0.0625), func(x float64) float64 {
			if x < 0.25 {
				return 0.5*x + 0.0625
			}
			return math.Pow(0.5*x+0.25, 2) + 0.125
		}},
	} {
		e, err := parseICC(profile("GRAY", "XYZ ", map[string][]byte{"kTRC": c.tag}), 1)
		if err != nil {
			t.Fatal(c.name, err)
		}
		worst := 0.0
		for i := range 1001 {
			x := float64(i) / 1000
			worst = max(worst, math.Abs(e.linear[0](x)-c.want(x)))
		}
		t.Logf("%s: largest error %.1g", c.name, worst)
		if worst > 5e-5 { // s15Fixed16 and 16-bit tables step by 1.5e-5, times the slope
			t.Errorf("%s: off by %g", c.name, worst)
		}
	}
}

// A grey profile over Lab gives L*; L* 49.4961 is luminance 0.18 (CIE 15).
func TestICCGreyOverLab(t *testing.T) {
	e, err := parseICC(profile("GRAY", "Lab ", map[string][]byte{"kTRC": curvTag()}), 1)
	if err != nil {
		t.Fatal(err)
	}
	for l, y := range map[float64]float64{49.4961: 0.18, 76.0693: 0.5, 8.9914: 0.01, 0: 0, 100: 1} {
		if got := e.linear[0](l / 100); math.Abs(got-y) > 1e-5 {
			t.Errorf("L* %g: %g, want %g", l, got, y)
		}
	}
}

func TestICCMatrixWeights(t *testing.T) {
	tags := map[string][]byte{
		"rTRC": curvTag(0x180), "gTRC": curvTag(0x180), "bTRC": curvTag(0x200),
		"rXYZ": xyzTag(0.5, 0.25, 0), "gXYZ": xyzTag(0.25, 0.625, 0.125), "bXYZ": xyzTag(0.125, 0.125, 0.5),
	}
	e, err := parseICC(profile("RGB ", "XYZ ", tags), 3)
	if err != nil {
		t.Fatal(err)
	}
	if e.weights != [3]float64{0.25, 0.625, 0.125} || len(e.linear) != 3 {
		t.Errorf("weights %v, %d curves", e.weights, len(e.linear))
	}
	if r, b := e.linear[0](0.25), e.linear[2](0.25); math.Abs(r-0.125) > 1e-12 || math.Abs(b-0.0625) > 1e-12 {
		t.Errorf("red %g, blue %g", r, b)
	}
	delete(tags, "gXYZ")
	if _, err := parseICC(profile("RGB ", "XYZ ", tags), 3); err == nil || !strings.Contains(err.Error(), "matrix") {
		t.Errorf("profile without gXYZ: %v", err)
	}
}

func TestICCDescriptions(t *testing.T) {
	mluc := []byte("mluc\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00\x0cenGB\x00\x00\x00\x08\x00\x00\x00\x1c\x00G\x00r\x00\xe4\x00u")
	p := profile("GRAY", "XYZ ", map[string][]byte{"kTRC": curvTag()})
	for i := range len(p) - 4 {
		if string(p[i:i+4]) == "desc" && string(p[i+4:i+8]) == "\x00\x00\x00\x00" {
			copy(p[i:], "none")
		}
	}
	if e, err := parseICC(p, 1); err != nil || e.words != "ICC profile" {
		t.Errorf("%v, %v", e, err)
	}
	o := iccProfile{tags: map[string][]byte{"desc": mluc}}
	if got := o.words(); got != "ICC profile “Gräu”" {
		t.Errorf("%q", got)
	}
}

func TestICCDamageIsNamedAndSurvived(t *testing.T) {
	good := profile("GRAY", "XYZ ", map[string][]byte{"kTRC": curvTag(1, 2, 3, 4)})
	for n := range len(good) {
		s, err := Decode("a.tif", tiffFile{w: 1, h: 1, bits: 16, samples: 1, pixels: []uint16{7}, tags: map[int]any{tagICC: good[:n]}}.bytes(), Options{})
		if err != nil {
			t.Fatalf("cut to %d bytes: %v", n, err)
		}
		if n > 0 && !strings.HasPrefix(s.Encoding, "linear (16 bits, no profile); its ICC profile is not used") && !strings.HasPrefix(s.Encoding, "ICC profile") {
			t.Errorf("cut to %d bytes: %q", n, s.Encoding)
		}
	}
}
