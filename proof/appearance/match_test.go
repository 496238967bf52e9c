package appearance

import (
	"math"
	"testing"

	"threeply/proof/spectrum"
)

func TestSameRoomSameColour(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	m := NewMatch(Lit(d50.White, 500), Lit(d50.White, 500))
	x := spectrum.XYZ{30, 20, 10}
	for i, v := range m.XYZ(x) {
		if !(math.Abs(v-x[i]) < 1e-9) {
			t.Errorf("channel %d: %v, want %v", i, v, x[i])
		}
	}
	if m.XYZ(spectrum.XYZ{}) != (spectrum.XYZ{}) {
		t.Error("black is not black")
	}
}

// In dim light colours look duller (R. W. G. Hunt, JOSA 42, 1952, 190).
func TestDimRoomsAreDuller(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	m := NewMatch(Lit(d50.White, 50), Lit(d50.White, 500))
	for _, l := range []spectrum.Lab{{50, 50, 0}, {60, -40, 30}, {40, 10, -50}, {80, 0, 70}} {
		got := m.XYZ(l.XYZ(d50.White)).Lab(d50.White)
		before, after := math.Hypot(l[1], l[2]), math.Hypot(got[1], got[2])
		t.Logf("%v in the gallery looks as %.1f in the workshop", l, got)
		if !(after < before-1 && after > before/2) {
			t.Errorf("%v becomes %v", l, got)
		}
	}
}

func BenchmarkMatch(b *testing.B) {
	d50, _ := spectrum.LightByID("D50")
	m := NewMatch(Lit(d50.White, 50), Lit(d50.White, 500))
	for b.Loop() {
		m.XYZ(spectrum.XYZ{30, 20, 10})
	}
}
