package icc

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"
)

// Little CMS takes codes of the file to the light that their densities let through.
func TestFilmAgainstLittleCMS(t *testing.T) {
	for name, density := range map[string]func(float64) float64{
		"linear": func(code float64) float64 { return 2.2 * (1 - code) },
		"bent":   func(code float64) float64 { return 3 * math.Pow(1-code, 1.7) },
	} {
		file := profileFile(t, Film("a film", density))
		var in strings.Builder
		for i := range 101 {
			fmt.Fprintf(&in, "%g\n", float64(i)*2.55)
		}
		cmd := exec.Command("transicc", "-n", "-t1", "-i"+file, "-o*XYZ")
		cmd.Stdin = strings.NewReader(in.String())
		text, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		worst, n := 0.0, 0
		for line := range strings.Lines(string(text)) {
			var x [3]float64
			if got, _ := fmt.Sscan(line, &x[0], &x[1], &x[2]); got != 3 {
				continue
			}
			worst = max(worst, math.Abs(-math.Log10(x[1]/100)-density(float64(n)/100)))
			n++
		}
		t.Logf("%s: %d codes, largest error %.4f in density", name, n, worst)
		if n != 101 || worst > 0.005 {
			t.Errorf("%s: off by %.4f over %d codes", name, worst, n)
		}
	}
}
