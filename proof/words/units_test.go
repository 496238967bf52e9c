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
