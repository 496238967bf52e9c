package words

import "testing"

func TestShare(t *testing.T) {
	for share, want := range map[float64]string{
		0: "none", -0.1: "none", 1: "all", 2: "all", 1e-6: "under 0.1 %", 0.9999: "over 99.9 %", 0.0042: "0.4 %", 0.0949: "9.5 %", 0.104: "10 %", 0.5: "50 %",
	} {
		if got := Share(share); got != want {
			t.Errorf("%g is %q, want %q", share, got, want)
		}
	}
}
