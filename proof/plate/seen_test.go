package plate

import (
	"math"
	"testing"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// Three dense negatives are shown with their lightest white, and apart as their densities are: by the
// definition of density, a display's signal to the power 2.2 taken for its light.
func TestSeen(t *testing.T) {
	filled := func(from float64) *plane.Plane {
		p := plane.New(20, 10)
		for i := range p.Pix {
			p.Pix[i] = uint16(math.Round((from + float64(i)/200) / density.Max * 65535))
		}
		return p
	}
	one, other := filled(1.6), filled(1.3)
	lightest := Lightest(one, other, one)
	if d := float64(lightest) * density.Max / 65535; math.Abs(d-1.31) > 0.001 {
		t.Fatalf("the lightest hundredth ends at density %.4f, want 1.31", d)
	}
	for _, p := range []*plane.Plane{one, other} {
		seen := Seen(p, lightest)
		for i, v := range seen.Pix {
			d := float64(p.Pix[i])*density.Max/65535 - 1.31
			if want := 255 * math.Min(1, math.Pow(10, -d/2.2)); math.Abs(float64(v)-want) > 0.8 {
				t.Fatalf("density %.3f above the lightest is shown as %d, want %.1f", d, v, want)
			}
		}
	}
	if Lightest() != math.MaxUint16 {
		t.Error("no planes have a lightest")
	}
}
