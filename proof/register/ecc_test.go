package register

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// BenchmarkAgainstECC registers one plate of a photograph, or of a drawn scene
// where there is none, and lets OpenCV's findTransformECC do the same, by
// tools/bench/ecc.py: from the same start, of which nothing is known. It reports both
// errors and by how much ours is faster and closer, at 0.6 and at 12 megapixels.
func BenchmarkAgainstECC(b *testing.B) {
	const python, script = "/usr/bin/python3", "../../tools/bench/ecc.py"
	if exec.Command(python, "-c", "import cv2").Run() != nil {
		b.Skip("python3-opencv is not on this machine, nothing is compared here")
	}
	for _, c := range []struct {
		name        string
		megapixels  float64
		negative    bool
		gamma, blur float64
		noise       float64
	}{
		{name: "alike", megapixels: 0.6, gamma: 0.8, noise: 0.01},
		{name: "opposed", megapixels: 0.6, negative: true, gamma: 0.7, blur: 0.9, noise: 0.015},
		{name: "grainy", megapixels: 0.6, gamma: 0.6, blur: 0.4, noise: 0.05},
		{name: "large", megapixels: 12, gamma: 0.7, noise: 0.015},
	} {
		b.Run(c.name, func(b *testing.B) {
			s := drawn(1800, 1300, 6)
			if _, err := os.Stat(filepath.Join(shared, "photos")); err == nil {
				s = photo(b, "Picture_0B_by_freespace.jpg", 1)
			}
			reduce := math.Sqrt(float64(s.w*s.h) / c.megapixels / 1e6)
			w, h := int(float64(s.w)/reduce), int(float64(s.h)/reduce)
			m := about(w, h, affine.Parts{DX: 13.4 * 2 / reduce, DY: -7.8 * 2 / reduce, Turn: 0.3, StretchX: 1.004, StretchY: 1.003})
			mix := [3]float64{0.3, 0.5, 0.2}
			key := s.shoot(w, h, reduce, shot{mix: mix, gamma: 0.8, noise: 0.01, border: 0.04, m: affine.Identity}, 1)
			other := s.shoot(w, h, reduce, shot{mix: mix, gamma: c.gamma, negative: c.negative, blur: c.blur, noise: c.noise, border: 0.05, m: m}, 2)
			took := time.Hour // of the fastest run
			var got [3]Plate
			for b.Loop() {
				begin := time.Now()
				var err error
				if got, err = Planes(context.Background(), [3]*plane.Plane{key, other, flatPlane(64, 64)}, Options{Polarity: [3]bool{1: c.negative}}); err != nil {
					b.Fatal(err)
				}
				took = min(took, time.Since(begin))
			}
			theirs := struct {
				Matrix  affine.Matrix
				Seconds float64
			}{}
			out, err := exec.Command(python, script, strconv.Itoa(w), strconv.Itoa(h), raw(b, key), raw(b, other)).Output()
			if err != nil {
				b.Fatal(err)
			}
			if err := json.Unmarshal(out, &theirs); err != nil {
				b.Fatal(err)
			}
			ours, _ := errorsOf(got[1].Matrix, m, w, h)
			ecc, _ := errorsOf(theirs.Matrix, m, w, h)
			b.ReportMetric(ours, "px-rms")
			b.ReportMetric(ecc, "ecc-px-rms")
			b.ReportMetric(1000*theirs.Seconds, "ecc-ms")
			b.ReportMetric(theirs.Seconds/took.Seconds(), "times-faster")
			b.ReportMetric(ecc/ours, "times-closer")
		})
	}
}

// raw writes a plane's codes to a file that goes with the benchmark.
func raw(b *testing.B, p *plane.Plane) string {
	name := filepath.Join(b.TempDir(), "plane")
	f, err := os.Create(name)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	if err := binary.Write(f, binary.LittleEndian, p.Pix); err != nil {
		b.Fatal(err)
	}
	return name
}
