package prints

import (
	"fmt"
	"image/color"
	"testing"

	"threeply/proof/session"
)

// A grey stays itself; of IEC 61966-2-1's primaries pure green is the lightest: linear
// 0.7152, coded 0.8624 (220 of 255).
func TestNeutralLike(t *testing.T) {
	for c, want := range map[color.NRGBA]uint8{{128, 128, 128, 255}: 128, {0, 255, 0, 255}: 220, {255, 255, 255, 255}: 255} {
		if got := NeutralLike(c); got != (color.NRGBA{want, want, want, 255}) {
			t.Errorf("%v has the lightness of %v, want %d", c, got, want)
		}
	}
}

// Bare paper on the screen is the paper's swatch, to a code of the table.
func TestPaperOnScreen(t *testing.T) {
	for _, paper := range []string{"sized", "cream"} {
		s := session.New()
		s.Paper = paper
		p, err := New(&s)
		if err != nil {
			t.Fatal(err)
		}
		likely := p.Likely()
		got := likely.PaperOnScreen()
		var want [3]uint8
		if _, err := fmt.Sscanf(Swatch(likely.Printing, likely.Recipe, -1), "#%02x%02x%02x", &want[0], &want[1], &want[2]); err != nil {
			t.Fatal(err)
		}
		for i, v := range [3]uint8{got.R, got.G, got.B} {
			if d := int(v) - int(want[i]); d < -1 || d > 1 {
				t.Errorf("%s: on the screen %v, its swatch %v", paper, got, want)
			}
		}
	}
}
