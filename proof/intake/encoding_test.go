package intake

import (
	"bytes"
	"image"
	"image/png"
	"testing"

	"threeply/proof/plate"
	"threeply/proof/scan"
)

// A scan that a person had read in another way is read in that way again; one that is read
// as it says has nothing to be asked for.
func TestChosenEncoding(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 40, 30))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	var files []plate.File
	for i := range 3 {
		img.Pix[0] = byte(i)
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		files = append(files, plate.File{Name: string("rgb"[i]) + ".png", Data: scan.Bytes(b.Bytes())})
	}
	for _, encoding := range []string{"", "linear", "sRGB", "gamma 1.8"} {
		set, err := plate.Open(files, plate.Options{Encoding: encoding}, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := Begin(set)
		if got := s.Sources[1].ChosenEncoding(); got != encoding {
			t.Errorf("%q is asked for again as %q", encoding, got)
		}
	}
}
