package scan

import (
	"bytes"
	"math"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"
)

// The tone curves against a general ICC library, which takes the same grey
// profile to the connection space.
func TestGreyProfilesAgreeWithAnotherReader(t *testing.T) {
	for name, tag := range map[string][]byte{
		"gamma 1.8": curvTag(0x1cd), "linear": curvTag(), "table": curvTag(0, 900, 9000, 30000, 65535),
		"kind 3": paraTag(3, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045), "kind 0": paraTag(0, 2.2),
	} {
		data := profile("GRAY", "XYZ ", map[string][]byte{"kTRC": tag, "wtpt": xyzTag(0.9642, 1, 0.8249)})
		copy(data[12:], "mntr")
		data[8] = 4 // version
		other, err := icc.DecodeProfile(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("%s: the other reader: %v", name, err)
		}
		toPCS, err := other.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, 1, false)
		if err != nil {
			t.Fatalf("%s: the other reader: %v", name, err)
		}
		ours, err := parseICC(data, 1)
		if err != nil {
			t.Fatal(name, err)
		}
		worst := 0.0
		for i := range 256 {
			x := float64(i) / 255
			_, y, _ := toPCS.Transform(x, x, x)
			worst = max(worst, math.Abs(y-ours.linear[0](x)))
		}
		t.Logf("%s: largest difference %.2g", name, worst)
		if worst > 1e-4 {
			t.Errorf("%s: off by %g", name, worst)
		}
	}
}
