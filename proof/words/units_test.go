package words

import "testing"

func TestUnits(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Microns(84.6), "85 µm"}, {Microns(1234), "1.23 mm"}, {Microns(-2500), "-2.50 mm"},
		{Millimetres(300), "300 mm"}, {Millimetres(2500), "2.5 m"},
		{Megapixels(0), "0 MP"}, {Megapixels(3 * 360 * 300), "0.32 MP"}, {Megapixels(300000), "0.30 MP"},
		{Megapixels(6144), "0.0061 MP"}, {Megapixels(5964000), "6.0 MP"}, {Megapixels(9960000), "10 MP"},
		{Megapixels(10400000), "10 MP"}, {Megapixels(302000000), "302 MP"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestTwo(t *testing.T) {
	for v, want := range map[float64]string{0.0123: "0.012", 0.5: "0.50", 1.25: "1.3", 9.96: "10", 47.4: "47", 2049: "2000", 6180: "6200", 0: "0"} {
		if got := Two(v); got != want {
			t.Errorf("%g is written %s, want %s", v, got, want)
		}
	}
}
