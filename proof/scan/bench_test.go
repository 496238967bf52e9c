package scan

import "testing"

// A plate of 24 megapixels at 16 bits, smooth with grain as scans are.
func BenchmarkDecode24MP(b *testing.B) {
	const w, h = 6000, 4000
	pixels := noise(w*h, 256)
	for i := range pixels {
		pixels[i] += uint16(20000 + 3*(i%w) + 2*(i/w))
	}
	for _, c := range []struct {
		name        string
		compression int
	}{{"uncompressed", compressionNone}, {"deflate", compressionDeflate}} {
		b.Run(c.name, func(b *testing.B) {
			data := tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, compression: c.compression, rows: 64}.bytes()
			b.SetBytes(w * h)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Decode("plate.tif", data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
