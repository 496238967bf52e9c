package icc

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

// littleCMS puts colours through Little CMS, the general-purpose library for
// ICC profiles (Debian's liblcms2-utils).
func littleCMS(t *testing.T, from, to, intent string, colours [][3]float64) [][3]float64 {
	t.Helper()
	var in strings.Builder
	for _, c := range colours {
		fmt.Fprintf(&in, "%.6f\n%.6f\n%.6f\n", c[0], c[1], c[2])
	}
	cmd := exec.Command("transicc", "-n", "-t"+intent, "-i"+from, "-o"+to)
	cmd.Stdin = strings.NewReader(in.String())
	var says bytes.Buffer
	cmd.Stderr = &says
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, &says)
	}
	var out [][3]float64
	for line := range strings.Lines(string(text)) {
		var c [3]float64
		if n, _ := fmt.Sscan(line, &c[0], &c[1], &c[2]); n == 3 {
			out = append(out, c)
		}
	}
	if len(out) != len(colours) {
		t.Fatalf("%d colours in, %d out: %s", len(colours), len(out), &says)
	}
	return out
}

func profileFile(t *testing.T, profile []byte) string {
	t.Helper()
	if _, err := exec.LookPath("transicc"); err != nil {
		t.Skip("SKIPPED: transicc is missing, so the profile goes unchecked by Little CMS; install liblcms2-utils")
	}
	name := filepath.Join(t.TempDir(), "print.icc")
	if err := os.WriteFile(name, profile, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// Little CMS must see the colours of our exact stack, at 500 random amounts.
func TestForwardAgainstLittleCMS(t *testing.T) {
	for _, c := range []struct {
		id, light string
		limit     float64
	}{{"arylide", "D50", 1}, {"earth", "D50", 0.6}, {"chrome", "LED-B1", 1}} {
		r, light, profile := made(t, c.id, c.light, c.limit)
		file := profileFile(t, profile)
		rnd := rand.New(rand.NewPCG(23, 24))
		var device [][3]float64
		for range 500 {
			device = append(device, [3]float64{100 * rnd.Float64(), 100 * rnd.Float64(), 100 * rnd.Float64()})
		}
		worst, sum := 0.0, 0.0
		for i, got := range littleCMS(t, file, "*Lab4", "3", device) {
			d := device[i]
			l := light.Lab(r.Reflectance([3]float64{c.limit * d[2] / 100, c.limit * d[1] / 100, c.limit * d[0] / 100}))
			// Absolute CIELAB is that of the light, adapted to D50.
			want := spectrum.XYZ(spectrum.Transform(spectrum.Adapt(light.White, d50), l.XYZ(light.White))).Lab(d50)
			e := spectrum.DeltaE00(got, want)
			worst, sum = max(worst, e), sum+e
		}
		t.Logf("%s %s: ΔE00 mean %.3f, largest %.3f", c.id, c.light, sum/500, worst)
		if !(worst <= 0.5 && sum/500 <= 0.15) {
			t.Errorf("%s %s: the profile strays from the stack", c.id, c.light)
		}
	}
}

func TestPaperIsWhiteToLittleCMS(t *testing.T) {
	_, _, profile := made(t, "chrome", "LED-B1", 1)
	file := profileFile(t, profile)
	got := littleCMS(t, file, "*Lab4", "1", [][3]float64{{0, 0, 0}})[0]
	if !(spectrum.Lab(got).Distance(spectrum.Lab{100, 0, 0}) < 0.05) {
		t.Errorf("bare paper is %v, want 100 0 0", got)
	}
}

// Printable colours there and back again.
func TestRoundTripInLittleCMS(t *testing.T) {
	for _, id := range []string{"arylide", "gamboge"} {
		r, light, profile := made(t, id, "D50", 1)
		file := profileFile(t, profile)
		rnd := rand.New(rand.NewPCG(25, 26))
		var labs [][3]float64
		for range 500 {
			a := [3]float64{0.05 + 0.6*rnd.Float64(), 0.05 + 0.6*rnd.Float64(), 0.05 + 0.6*rnd.Float64()}
			labs = append(labs, light.Lab(r.Reflectance(a)))
		}
		back := littleCMS(t, file, "*Lab4", "3", littleCMS(t, "*Lab4", file, "3", labs))
		var off []float64
		for i, l := range labs {
			off = append(off, spectrum.DeltaE00(l, back[i]))
		}
		slices.Sort(off)
		t.Logf("%s: ΔE00 median %.2f, 95th percentile %.2f, largest %.2f", id, off[250], off[475], off[499])
		if !(off[250] < 0.5 && off[475] < 2) {
			t.Errorf("%s: printable colours come back changed", id)
		}
	}
}
