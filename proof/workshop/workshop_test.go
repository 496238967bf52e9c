package workshop

import (
	"math"
	"strings"
	"testing"
)

// Polyester film of 500 mm moves by 4 µm for 1 % of relative humidity (derived of the
// second-hand figure), and wet paper by millimetres.
func TestSlip(t *testing.T) {
	if got := 1000 * Slip(500, Usual.Grows.FilmAlong, 1); math.Abs(got-4) > 1e-9 {
		t.Errorf("film moves %.3f µm", got)
	}
	if got := Slip(400, 0.8, 10); math.Abs(got-3.2) > 1e-9 {
		t.Errorf("paper moves %.3f mm", got)
	}
}

func TestExposed(t *testing.T) {
	w := Usual
	if got := w.Exposed(0, 0); got != "" {
		t.Errorf("nothing was measured, and it says %q", got)
	}
	w.Layers[0].Exposure = 120
	for stops, want := range map[float64]string{0: "120 s (2 min 00 s)", 1: "240 s (4 min 00 s)", 4: "1920 s (32 min 00 s)", -1: "60 s"} {
		if got := w.Exposed(0, stops); got != want {
			t.Errorf("%g stops: %q, want %q", stops, got, want)
		}
	}
	w.Unit = Lights
	if got := w.Exposed(0, 1.0/3); got != "151 light units" {
		t.Errorf("%q", got)
	}
}

func TestCheck(t *testing.T) {
	w := Usual
	if err := w.Check(); err != nil {
		t.Error(err)
	}
	w.Process.Most = 35
	if err := w.Check(); err == nil || !strings.Contains(err.Error(), "begins at 40 °C") {
		t.Errorf("%v", err)
	}
}
