package register

import (
	"strings"
	"testing"

	"threeply/proof/affine"
)

func TestWordsSayHowAPlateLies(t *testing.T) {
	p := flatPlane(900, 700)
	sure := verdict{confidence: 1, share: 1}
	for want, parts := range map[string]affine.Parts{
		"Lies as the key does.":                                             {StretchX: 1, StretchY: 1},
		"Against the key: mirrored.":                                        {StretchX: -1, StretchY: 1},
		"Against the key: mirrored, a half turn.":                           {StretchX: 1, StretchY: -1},
		"Against the key: a quarter turn.":                                  {Turn: -90, StretchX: 1, StretchY: 1},
		"Against the key: tilted 3.0°, 2.0 % larger.":                       {Turn: 3, StretchX: 1.02, StretchY: 1.02},
		"Against the key: mirrored, tilted 2.0°, 2.0 % smaller.":            {Turn: 2, StretchX: -0.98, StretchY: 0.98},
		"Against the key: stretched by 1.0 % across, shrunk by 1.5 % down.": {StretchX: 1.01, StretchY: 0.985},
		"Against the key: sheared by 1.1°.":                                 {StretchX: 1, StretchY: 1, Shear: 0.02},
		"Against the key: a half turn, tilted 1.0°, shifted 5 px.":          {DX: 3, DY: 4, Turn: 179, StretchX: 1, StretchY: 1},
	} {
		m := affine.Compose(parts, 449.5, 349.5)
		if got := words(p, p, m, sure); got != want {
			t.Errorf("%+v: %q, want %q", parts, got, want)
		}
	}
}

func TestWordsSayThatAPartLiesElsewhere(t *testing.T) {
	p := flatPlane(900, 700)
	parted := verdict{confidence: 1, share: 1}.held(0.26, Residual{P95: 25, Max: 25.3})
	want := "Lies as the key does; but a quarter of the places lie elsewhere by up to 25 px: the subject moved, or the film is torn; look at the edges."
	if got := words(p, p, affine.Identity, parted); got != want {
		t.Errorf("%q", got)
	}
	few := verdict{confidence: 1, share: 1}.held(0.04, Residual{P95: 0.3, Max: 5})
	if got := words(p, p, affine.Identity, few); got != "Lies as the key does." {
		t.Errorf("a few places: %q", got)
	}
	for share, want := range map[float64]string{0.07: "one place in 14 lies", 0.11: "one place in 9 lies", 0.36: "a third of the places lie", 0.48: "half of the places lie", 0.7: "most of the places lie"} {
		if got := Elsewhere(share, 9); !strings.HasPrefix(got, want+" elsewhere by up to 9 px") {
			t.Errorf("%g: %q", share, got)
		}
	}
}
