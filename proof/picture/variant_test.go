package picture_test

import (
	"testing"

	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/spread"
)

// Each variant is what it says: the lighter print lets more light through than the likely
// one and the heavier less; a room changes how a print is seen, not the print.
func TestVariants(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	full := [3]float64{0.6, 0.6, 0.6}
	l := func(v picture.Variant) float64 { return p.Variant(v, spread.Usual).Cube.At(full)[0] }
	if !(l(picture.VariantLighter) > l(picture.VariantLikely)+1 && l(picture.VariantLikely) > l(picture.VariantHeavier)+1) {
		t.Errorf("L* of lighter, likely and heavier: %.1f, %.1f, %.1f", l(picture.VariantLighter), l(picture.VariantLikely), l(picture.VariantHeavier))
	}
	show := pigment.Exhibition{Lux: 10000, Hours: 10, Years: 40} // as in a window: these pigments last
	kept, faded := p.Faded(show, false), p.Faded(show, true)
	if a, b, c := l(picture.VariantLikely), kept.Cube.At(full)[0], faded.Cube.At(full)[0]; !(b > a && c > b+1) || kept.Scale.Depth.Lab != p.Scale.Depth.Lab {
		t.Errorf("L* fresh %.1f, after 40 years at best %.1f, at worst %.1f", a, b, c)
	}
	for v, dim := range map[picture.Variant]bool{picture.VariantBright: false, picture.VariantDim: true} {
		if q := p.Variant(v, spread.Usual); q.Dim != dim || q.Cube != p.Cube {
			t.Errorf("variant %d: dim %t, another cube: %t", v, q.Dim, q.Cube != p.Cube)
		}
	}
	// of the true colours some lie beyond the display, whose table holds none
	least, most := code(0), code(1)
	outside := 0
	for i, v := range p.Variant(picture.VariantTrue, spread.Usual).Table {
		if v < least || v > most {
			outside++
		}
		if d := p.Table[i]; d+1 < least || d > most+1 {
			t.Fatalf("the display's table holds %d, beyond %d … %d", d, least, most)
		}
	}
	if outside == 0 {
		t.Error("no true colour lies beyond the display")
	}
}

// code is how a table codes an encoded value; see cube.EncodedMin.
func code(v float64) uint16 { return uint16((v + 0.5) / 2 * 65535) }
