package scan

import (
	"bytes"
	"errors"
	"image"
	"testing"
)

func FuzzDecode(f *testing.F) {
	for _, bits := range []int{8, 16} {
		for _, compression := range []int{compressionNone, compressionLZW, compressionDeflate, compressionPackBits} {
			t := tiffFile{w: 20, h: 9, bits: bits, samples: 1, pixels: noise(180, 1<<bits), compression: compression, rows: 4,
				tags: map[int]any{tagOrientation: 6, tagXResolution: [2]int{300, 1}, tagICC: profile("GRAY", "XYZ ", map[string][]byte{"kTRC": curvTag(1, 2, 3)})}}
			f.Add(t.bytes())
		}
	}
	f.Add(tiffFile{w: 5, h: 4, bits: 16, samples: 3, pixels: noise(60, 65536), big: true}.bytes())
	for _, tags := range []map[int]any{
		{tagPredictor: 2, tagFillOrder: 2}, {tagBits: []int{12}}, {tagBits: []int{32}, tagWidth: 10}, {tagSampleFormat: 3, tagLargest: 70000}, {tagPhotometric: 0, tagSubDirectories: 8},
	} {
		f.Add(tiffFile{w: 20, h: 9, bits: 16, samples: 1, pixels: noise(180, 65536), rows: 4, tags: tags}.bytes())
	}
	f.Add(tiffFile{w: 16, h: 16, bits: 8, samples: 3, pixels: noise(768, 256), rows: 16, tiled: true, compression: compressionLZW}.bytes())
	f.Add(tiffFile{w: 5, h: 4, bits: 8, samples: 4, pixels: noise(80, 256)}.planar().bytes())
	f.Add(tiffFile{w: 5, h: 4, bits: 8, samples: 1, pixels: noise(20, 2), tags: map[int]any{tagPhotometric: photometricPalette, tagColourMap: []int{0, 9, 0, 9, 0, 8}}}.bytes())
	f.Add([]byte("II+\x00\x08\x00\x00\x00\x10\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x01\x03\x00\x01\x00\x00\x00\x00\x00\x00\x00\x02\x00\x00\x00\x00\x00\x00\x00"))
	f.Add(pngFile(grey16(20, 9), gama(45455), phys(10000, 1), iccp(profile("GRAY", "Lab ", map[string][]byte{"kTRC": paraTag(3, 2, 1, 0, 1, 0)}))))
	f.Add(jpegFile(grey8(20, 9), segment(markerAPP2, "ICC_PROFILE\x00\x01\x01"+string(profile("GRAY", "XYZ ", nil)))))
	f.Add([]byte("II*\x00\x08\x00\x00\x00"))
	f.Add(tiffFile{w: 5, h: 4, bits: 16, samples: 2, pixels: noise(40, 65536), tags: map[int]any{tagExtraSamples: 1}}.bytes())
	f.Add(tiffFile{w: 5, h: 4, bits: 8, samples: 4, pixels: noise(80, 256), tags: map[int]any{tagExtraSamples: 2}}.planar().bytes())
	f.Add(pngFile(image.NewNRGBA(image.Rect(0, 0, 5, 4)), pngChunk("tRNS", []byte{0, 1, 0, 2, 0, 3})))
	f.Add(pngFile(grey16(5, 4), pngChunk("tRNS", []byte{0, 1})))
	f.Fuzz(func(t *testing.T, data []byte) {
		if w, h := claimed(data); w*h > 1e6 {
			t.Skip() // the sizes are covered by the refusals; this keeps the fuzzer fast
		}
		s, err := Decode("fuzz", data, Options{})
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.File != "fuzz" || e.Reason == "" || e.Remedy == "" {
				t.Fatalf("error without file, reason or remedy: %v", err)
			}
			return
		}
		if len(s.Planes) != s.Channels || len(s.Curves) != s.Channels || s.W*s.H != len(s.Planes[0].Pix) || s.Encoding == "" {
			t.Fatalf("%+v", s)
		}
		for _, c := range s.Curves {
			for i, v := range c {
				if !(v >= 0 && v <= 1) {
					t.Fatalf("curve at %d: %v", i, v)
				}
			}
		}
		p, _ := s.Luminance()
		if p.W != s.W || p.H != s.H {
			t.Fatalf("luminance of %d × %d", p.W, p.H)
		}
	})
}

// claimed is the size that a file's header gives.
func claimed(data []byte) (w, h float64) {
	switch kind, refusal := sniff(data); {
	case refusal != nil:
	case kind == TIFF:
		for _, p := range Pages(Bytes(data)) {
			return float64(p.W), float64(p.H)
		}
	case kind == PNG:
		if info, refusal := readPNG(Bytes(data)); refusal == nil {
			return float64(info.w), float64(info.h)
		}
	case kind == JPEG:
		if info, refusal := readJPEG(bytes.NewReader(data)); refusal == nil {
			return float64(info.w), float64(info.h)
		}
	}
	return 0, 0
}
