package pigment

import (
	"math"
	"testing"
)

func TestMixturesAdd(t *testing.T) {
	mix := NewTissue(Share{"NY24", 0.7}, Share{"PY42", 0.3})
	mix.Load, mix.Haze = 1.5, 2
	k, s := mix.KS()
	a, _ := PigmentByCI("NY24")
	b, _ := PigmentByCI("PY42")
	ka, kb, sa, sb := a.K(), b.K(), a.S(), b.S()
	for i := range k {
		wantK := 1.5 * (0.7*ka[i] + 0.3*kb[i])
		wantS := 3 * (0.7*sa[i] + 0.3*sb[i])
		if !(math.Abs(k[i]-wantK) < 1e-12 && math.Abs(s[i]-wantS) < 1e-12) {
			t.Fatalf("sample %d: %v %v, want %v %v", i, k[i], s[i], wantK, wantS)
		}
	}
}
