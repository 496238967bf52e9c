package register

import (
	"context"
	"fmt"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/plate/platetest"
)

// shared holds real plates and photographs on some machines; tests that read
// it skip where it is missing.
const shared = "../../../shared"

// believedFrom is the confidence from which the product speaks of register without a
// doubt: session.SureFrom, which this package cannot import.
const believedFrom = 0.6

// density codes of the 8-bit sRGB values (IEC 61966-2-1), of a positive's own
// darkness.
func densityTable() (t [256]uint16) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		t[i] = uint16(math.Round(min(-math.Log10(max(v, 1e-4)), 4) / 4 * 65535))
	}
	return t
}

// shown reads a picture.
func shown(t testing.TB, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Skipf("shared pictures are not on this machine, nothing is tested here: %v", err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// channel is the red, green or blue of part of a picture as a density plane.
func channel(img image.Image, part image.Rectangle, c int) *plane.Plane {
	table, plain := densityTable(), inBytes(img, part)
	out := plane.New(part.Dx(), part.Dy())
	for i := range out.Pix {
		out.Pix[i] = table[plain.Pix[4*i+c]]
	}
	return out
}

// tall cuts a tall picture into its red, green and blue exposure, which lie
// from the bottom up.
func tall(t testing.TB, path string) [3]*plane.Plane {
	img := shown(t, path)
	whole := channel(img, img.Bounds(), 1)
	h := whole.H / 3
	return [3]*plane.Plane{whole.Crop(0, 2*h, whole.W, h), whole.Crop(0, h, whole.W, h), whole.Crop(0, 0, whole.W, h)}
}

// TestRealPlates holds the maps of plates of c. 1905 to 1915 (Library of
// Congress, Prints & Photographs Division, Prokudin-Gorskii Collection) to
// offsets found with an independent library, see shared/plates/README.md.
func TestRealPlates(t *testing.T) {
	t.Parallel()
	for _, set := range platetest.Sets(t, filepath.Join(shared, "plates")) {
		if !slices.ContainsFunc(set.Known[:], func(k *platetest.Known) bool { return k != nil && k.Eye == seen }) {
			continue
		}
		path := filepath.Join(shared, "plates", set.File)
		var planes [3]*plane.Plane
		if strings.HasPrefix(set.File, "melons") { // a scan of full size: its middle shows as much
			img := shown(t, path)
			all := img.Bounds()
			x, y := all.Dx()/4, all.Dy()/4
			for i := range planes {
				planes[i] = channel(img, image.Rect(x, y, 3*x, 3*y), i)
			}
			for _, k := range set.Known {
				if k != nil {
					k.Map = affine.Translate(-float64(x), -float64(y)).Mul(k.Map).Mul(affine.Translate(float64(x), float64(y)))
					k.W, k.H = float64(planes[1].W), float64(planes[1].H)
				}
			}
		} else {
			planes = tall(t, path)
		}
		got, err := Planes(context.Background(), planes, Options{Key: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i, known := range set.Known {
			if known != nil {
				checkReal(t, fmt.Sprintf("%s %s", set.File, filter.Filter(i)), got[i], known)
			}
		}
	}
}

// seen marks, in the table of what is known, what a person saw to be right.
const seen = "ok"

// checkReal holds what was found of a real plate to what is known of it.
func checkReal(t *testing.T, name string, p Plate, known *platetest.Known) {
	t.Helper()
	w, h := known.W, known.H
	off := func(x, y float64) float64 {
		ax, ay := known.Map.Apply(x, y)
		bx, by := p.Matrix.Apply(x, y)
		return math.Hypot(ax-bx, ay-by)
	}
	centre := off((w-1)/2, (h-1)/2)
	corner := max(off(w*0.15, h*0.15), off(w*0.85, h*0.15), off(w*0.15, h*0.85), off(w*0.85, h*0.85))
	t.Logf("%-31s %s %-10s centre %5.2f corner %5.2f confidence %.2f  %s", name, known.Grade, known.Eye, centre, corner, p.Confidence, p.Outcome)
	if known.Eye != seen {
		return
	}
	tol := map[string][2]float64{"A": {0.7, 1.5}, "B": {1.2, 2.5}}
	if limit, graded := tol[known.Grade]; graded && (centre > limit[0] || corner > limit[1]) {
		t.Errorf("%s: centre %.2f px, corner %.2f px off; grade %s allows %v", name, centre, corner, known.Grade, limit)
	}
	if p.Alike {
		t.Errorf("%s: taken for a second scan of another plate", name)
	}
	switch _, graded := tol[known.Grade]; {
	case p.Confidence >= believedFrom && centre > 3:
		t.Errorf("%s: believed (%.2f) but %.1f px off", name, p.Confidence, centre)
	case graded && p.Confidence < believedFrom:
		t.Errorf("%s: lies where it should and is not believed (%.2f)", name, p.Confidence)
	}
}
