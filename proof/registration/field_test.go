package registration

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/register"
	"threeply/proof/session"
)

func TestLeftKeepsTheHottestOfEveryPart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for _, size := range [][2]int{{1000, 700}, {300, 4000}, {5000, 40}, {30, 30}} {
		w, h := size[0], size[1]
		var field []register.Offset
		for range 900 {
			field = append(field, register.Offset{
				X: rnd.Float64() * float64(w-1), Y: rnd.Float64() * float64(h-1), DX: rnd.NormFloat64(), DY: rnd.NormFloat64(),
				Certainty: rnd.Float64(), Outvoted: rnd.IntN(3) == 0,
			})
		}
		got := left(field, w, h)
		if len(got) > MostLeft || len(got) < 60 {
			t.Errorf("%d × %d: %d offsets are kept", w, h, len(got))
		}
		if hottest := slices.MinFunc(field, Hotter); got[0] != hottest {
			t.Errorf("%d × %d: the first is %+v, the hottest %+v", w, h, got[0], hottest)
		}
		if !slices.IsSortedFunc(got, Hotter) {
			t.Errorf("%d × %d: not hottest first", w, h)
		}
		for i := 1; i < len(got); i++ {
			if got[i-1].Outvoted && !got[i-1].Sure() && !got[i].Outvoted {
				t.Errorf("%d × %d: an outvoted one that is not sure stands before one that agrees", w, h)
			}
			if got[i].Outvoted && got[i].Sure() && !got[i-1].Outvoted {
				t.Errorf("%d × %d: one that agrees stands before one that surely lies elsewhere", w, h)
			}
		}
		slices.Reverse(field)
		if !slices.Equal(left(field, w, h), got) {
			t.Errorf("%d × %d: the order of the patches matters", w, h)
		}
	}
	if got := left(nil, 10, 10); len(got) != 0 {
		t.Errorf("of nothing is left %v", got)
	}
}

func TestArrowScaleIsRound(t *testing.T) {
	for _, c := range []struct{ size, want float64 }{{0.2, 200}, {0.21, 100}, {0.7, 50}, {3, 10}, {100, 0.2}, {0, 1000}} {
		var fields [3][]register.Offset
		for range 30 {
			fields[2] = append(fields[2], register.Offset{DX: c.size}, register.Offset{DX: 500, Outvoted: true})
		}
		if got := ArrowScale(fields, 40); math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("offsets of %g px: %g, want %g", c.size, got, c.want)
		}
	}
	if got := ArrowScale([3][]register.Offset{{{DX: 1, Outvoted: true}}}, 40); got != 0 {
		t.Errorf("with nothing that agrees: %g", got)
	}
}

// The worst places are those that surely lie elsewhere, by size, then what is left of
// those that agree; noise is no place, and of nothing there is no worst.
func TestWorstBeginsWithWhatLiesElsewhere(t *testing.T) {
	field := func(o ...register.Offset) []register.Offset { return o }
	s := session.New()
	got := Worst(&s, [3][]register.Offset{
		field(register.Offset{DX: 0.2, Certainty: 0.9}, register.Offset{DX: 12, Certainty: 0.6, Outvoted: true}),
		nil,
		field(register.Offset{DX: 90, Certainty: 0.01, Outvoted: true}, register.Offset{DY: -25, Certainty: 0.55, Outvoted: true}, register.Offset{DX: 1.2, Certainty: 0.8}, register.Offset{DX: 1.4, Certainty: 0.01}),
	})
	var sizes []float64
	for _, p := range got {
		sizes = append(sizes, p.Off)
	}
	if !slices.Equal(sizes, []float64{25, 12, 1.2, 0.2}) || !got[0].Moved || got[2].Moved {
		t.Errorf("%+v", got)
	}
	if got := Worst(&s, [3][]register.Offset{nil, field(register.Offset{DX: 3, Certainty: 0.01, Outvoted: true}), nil}); len(got) != 0 {
		t.Errorf("of noise: %+v", got)
	}
}
