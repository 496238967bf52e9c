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

// With the mixture held a thicker coat holds more pigment; with the load held it is
// a weaker mixture.
func TestCoatAndLoad(t *testing.T) {
	thin := NewTissue(Share{"PB27", 1})
	thin.Load = 0.8
	thick := thin.Recoated(2 * DefaultCoat)
	if thick.Load != 1.6 || thick.CoatMicron != 48 || math.Abs(thick.Strength()-thin.Strength()) > 1e-12 {
		t.Errorf("twice the coat: %+v, strength %g and %g", thick, thick.Strength(), thin.Strength())
	}
	k, _ := thin.KS()
	k2, _ := thick.KS()
	thick.Load = thin.Load
	if math.Abs(k2[40]-2*k[40]) > 1e-12 || math.Abs(thick.Strength()-thin.Strength()/2) > 1e-12 {
		t.Errorf("K %g and %g; at the load of before strength %g and %g", k[40], k2[40], thin.Strength(), thick.Strength())
	}
	if thin.CoatMicron != DefaultCoat {
		t.Error("the caller's tissue was changed")
	}
}
