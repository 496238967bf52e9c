package register

import (
	"testing"

	"threeply/proof/affine"
)

func TestWordsSayHowAPlateLies(t *testing.T) {
	p := flatPlane(900, 700)
	sure := verdict{confidence: 1, share: 1}
	for want, parts := range map[string]affine.Parts{
		"Lies as the key does.":                                    {StretchX: 1, StretchY: 1},
		"Against the key: mirrored.":                               {StretchX: -1, StretchY: 1},
		"Against the key: mirrored, a half turn.":                  {StretchX: 1, StretchY: -1},
		"Against the key: a quarter turn.":                         {Turn: -90, StretchX: 1, StretchY: 1},
		"Against the key: tilted 3.0°, 2.0 % larger.":              {Turn: 3, StretchX: 1.02, StretchY: 1.02},
		"Against the key: mirrored, tilted 2.0°, 2.0 % smaller.":   {Turn: 2, StretchX: -0.98, StretchY: 0.98},
		"Against the key: a half turn, tilted 1.0°, shifted 5 px.": {DX: 3, DY: 4, Turn: 179, StretchX: 1, StretchY: 1},
	} {
		m := affine.Compose(parts, 449.5, 349.5)
		if got := words(p, p, m, sure); got != want {
			t.Errorf("%+v: %q, want %q", parts, got, want)
		}
	}
}
