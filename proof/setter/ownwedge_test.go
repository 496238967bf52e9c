package setter

import (
	"bytes"
	"math"
	"testing"
	"time"

	"golang.org/x/image/tiff"

	"threeply/proof/label"
	"threeply/proof/negative"
)

// A general-purpose reader finds 21 levels, equally far apart, in reading order of the
// print: so mirrored in the file where the base lies on the tissue.
func TestOwnWedge(t *testing.T) {
	for _, side := range []string{negative.Emulsion, negative.Base} {
		setup := negative.Usual
		setup.PPI, setup.Side = 72, side
		wedge, err := OwnWedge(setup, label.Made{Tool: "Threeply", At: time.Unix(0, 0)})
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		if err := wedge.Write(&file); err != nil {
			t.Fatal(err)
		}
		img, err := tiff.Decode(&file)
		if err != nil {
			t.Fatal(err)
		}
		mm := func(v float64) int { return int(v * setup.PPI / 25.4) }
		for i := range 21 {
			// patches of 14 mm in rows of 7, 6 mm apart; a strip of 10, an edge of 10, an allowance of 3
			x, y := mm(13+14*(float64(i%7)+0.5)), mm(23+20*float64(i/7)+6+7)
			if side == negative.Base {
				x = wedge.W - x
			}
			r, _, _, _ := img.At(x, y).RGBA()
			if want := 65535 * (1 - float64(i)/20); math.Abs(float64(r)-want) > 1 {
				t.Errorf("%s: patch %d has code %d, want %.0f", side, i, r, want)
			}
		}
	}
}
