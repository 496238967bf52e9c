package browsertest

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// pierPlates makes three plates of one invented scene, small enough to be opened and
// registered in no time: soft discs of many greys, each plate shifted by a pixel or two
// and with discs of its own. They are red, green, blue, as files that are made once and
// last as long as the browser: without a profile on disk it keeps no copies of files, only
// where they lie and when they were written.
func pierPlates(t testing.TB) [3]string {
	t.Helper()
	var out [3]string
	for i, name := range []string{"pier_red.png", "pier_green.png", "pier_blue.png"} {
		out[i] = filepath.Join(start().folder, name)
	}
	if _, err := os.Stat(out[2]); err == nil {
		return out
	}
	const w, h = 320, 240
	random := rand.New(rand.NewPCG(3, 20))
	type disc struct{ x, y, r, dark float64 }
	var scene [3][]disc
	for range 160 {
		d := disc{random.Float64() * w, random.Float64() * h, 3 + 14*random.Float64(), 0}
		for i := range scene {
			d.dark = random.Float64() - 0.4
			moved := d
			moved.x += float64(2 * (i - 1))
			moved.y += float64(1 - i)
			scene[i] = append(scene[i], moved)
		}
	}
	for i, discs := range scene {
		img := image.NewGray16(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w {
				v := 0.5
				for _, d := range discs {
					v += 0.35 * d.dark / (1 + math.Exp(2*(math.Hypot(float64(x)-d.x, float64(y)-d.y)-d.r)))
				}
				img.SetGray16(x, y, color.Gray16{Y: uint16(65535 * min(max(v, 0.05), 0.95))})
			}
		}
		var data bytes.Buffer
		if err := png.Encode(&data, img); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(out[i], data.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return out
}
