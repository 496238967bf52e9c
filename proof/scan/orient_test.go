package scan

import (
	"slices"
	"testing"
)

// The eight orientations of TIFF 6.0, page 36: the stored picture of each
// shows the letter F once it is turned.
func TestOrientation(t *testing.T) {
	upright := []string{"111", "100", "110", "100", "100"}
	stored := map[int][]string{
		1: {"111", "100", "110", "100", "100"},
		2: {"111", "001", "011", "001", "001"},
		3: {"001", "001", "011", "001", "111"},
		4: {"100", "100", "110", "100", "111"},
		5: {"11111", "10100", "10000"},
		6: {"10000", "10100", "11111"},
		7: {"00001", "00101", "11111"},
		8: {"11111", "00101", "00001"},
		9: {"111", "100", "110", "100", "100"},
	}
	var want []uint16
	for _, row := range upright {
		for _, c := range row {
			want = append(want, uint16(c-'0')*65535)
		}
	}
	for tag, rows := range stored {
		f := tiffFile{w: len(rows[0]), h: len(rows), bits: 16, samples: 1, tags: map[int]any{tagOrientation: tag}}
		for _, row := range rows {
			for _, c := range row {
				f.pixels = append(f.pixels, uint16(c-'0')*65535)
			}
		}
		s, err := Decode("f.tif", f.bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s.W != 3 || s.H != 5 || !slices.Equal(s.Planes[0].Pix, want) {
			t.Errorf("orientation %d: %d × %d, %v", tag, s.W, s.H, s.Planes[0].Pix)
		}
	}
}
