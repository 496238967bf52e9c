package density

import "testing"

func TestCodesRoundTrip(t *testing.T) {
	for code := range 65536 {
		if got := Code(Of(uint16(code))); int(got) != code {
			t.Fatalf("code %d comes back as %d", code, got)
		}
	}
	if Code(-1) != 0 || Code(9) != 65535 {
		t.Error("densities outside 0 … 4 are not clamped")
	}
}

// Density is the negative decimal logarithm of transmittance (ISO 5-2): a transmittance
// of 1, 0.1 and 0.01 is density 0, 1 and 2.
func TestClippedAtTheLimits(t *testing.T) {
	for d, want := range map[float64]bool{0: true, 0.0005: true, 0.01: false, 1: false, 2: false, 3.9: false, 3.98: true, 4: true} {
		if got := Clipped(Code(d)); got != want {
			t.Errorf("density %g: clipped is %v", d, got)
		}
	}
}
