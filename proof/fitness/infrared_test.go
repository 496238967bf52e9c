package fitness

import (
	"math"
	"testing"

	"threeply/proof/plane"
)

// A picture of dyes with specks in infrared, and one of silver.
func TestInfrared(t *testing.T) {
	const w, h = 800, 600
	light := make([]float32, 65536)
	for i := range light {
		light[i] = float32(i) / 65535
	}
	picture, dyes, silver := plane.New(w, h), plane.New(w, h), plane.New(w, h)
	specks := 0
	for y := range h {
		for x := range w {
			d := 0.3 + 1.2*float64(x)/w + 0.1*math.Sin(float64(y)/9)
			i := y*w + x
			picture.Pix[i] = uint16(65535 * math.Pow(10, -d))
			silver.Pix[i] = uint16(65535 * math.Pow(10, -0.8*d))
			dyes.Pix[i] = uint16(60000 - x)
			if x%50 < 3 && y%40 < 2 {
				dyes.Pix[i] = 9000
				if x >= w/10 && x < w-w/10 && y >= h/10 && y < h-h/10 {
					specks++
				}
			}
		}
	}
	d := InfraredOf(dyes, picture, light, light)
	if want := float64(specks) / (0.8 * w * 0.8 * h); d.Silver() || math.Abs(d.Specks-want) > 1e-9 {
		t.Errorf("dyes: %+v, want %g in specks", d, want)
	}
	if s := InfraredOf(silver, picture, light, light); !s.Silver() || math.Abs(s.Slope-0.8) > 0.05 {
		t.Errorf("silver: %+v", s)
	}
	if e := InfraredOf(plane.New(3, 2), plane.New(3, 2), light, light); e.Silver() || e.Specks != 0 {
		t.Errorf("a black picture of six pixels: %+v", e)
	}
}
