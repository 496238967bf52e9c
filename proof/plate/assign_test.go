package plate

import "testing"

func TestAssignByNames(t *testing.T) {
	for _, c := range []struct {
		names [3]string
		want  [3]int
		ok    bool
	}{
		{[3]string{"plate_1_red.tif", "plate_2_green.tif", "plate_3_blue.tif"}, [3]int{0, 1, 2}, true},
		{[3]string{"harbour_B.tif", "harbour_G.tif", "harbour_R.tif"}, [3]int{2, 1, 0}, true},
		{[3]string{"boat-blue-green.tif", "boat-red.tif", "boat-yellow.tif"}, [3]int{0, 1, 2}, true}, // printers of older speech
		{[3]string{"yellow.tif", "blue.tif", "red.tif"}, [3]int{1, 2, 0}, true},
		{[3]string{"plate_a.tif", "plate_b.tif", "plate_c.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"scan_24.tif", "scan_25.tif", "scan_26.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"x_y.tif", "x_c.tif", "x_m.tif"}, [3]int{1, 2, 0}, true},
		{[3]string{"x_red_green.tif", "x_green.tif", "x_blue.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"boat cyan.tif", "boat magenta.tif", "boat yellow.tif"}, [3]int{0, 1, 2}, true},
		{[3]string{"Blue-Green.tif", "magenta.tif", "yellow.tif"}, [3]int{0, 1, 2}, true},
		{[3]string{"W47.tif", "W58.tif", "W25.tif"}, [3]int{2, 1, 0}, true},
		{[3]string{"0471_25.png", "0471_47.png", "0471_58.png"}, [3]int{0, 2, 1}, true},
		{[3]string{"GrandmaRot.jpg", "GrandmaGruen.jpg", "GrandmaBlau.jpg"}, [3]int{0, 1, 2}, true},
		{[3]string{"NatureMorteBleu.jpg", "NatureMorteVert.jpg", "NatureMorteRouge.jpg"}, [3]int{2, 1, 0}, true},
		{[3]string{"red boat R.tif", "red boat G.tif", "red boat B.tif"}, [3]int{0, 1, 2}, true},
		{[3]string{"redwood1.tif", "redwood2.tif", "redwood3.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"x_green.tif", "x_other.tif", "x_red.tif"}, [3]int{2, 0, 1}, true},
		{[3]string{"x_green.tif", "x_other.tif", "x_another.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"a red.tif", "b red.tif", "c blue.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{`C:\scans\r.tif`, "scans/g.tif", "b.tif"}, [3]int{0, 1, 2}, true},
		{[3]string{"IMG_0258.tif", "IMG_0259.tif", "IMG_0260.tif"}, [3]int{0, 1, 2}, false},
		{[3]string{"scan 25 (1).tif", "scan 25 (2).tif", "scan 25 (3).tif"}, [3]int{0, 1, 2}, false},
	} {
		got, ok := assign(c.names)
		if got != c.want || ok != c.ok {
			t.Errorf("%q: %v %v, want %v %v (words %q %q %q)", c.names, got, ok, c.want, c.ok, words(c.names[0]), words(c.names[1]), words(c.names[2]))
		}
	}
}
