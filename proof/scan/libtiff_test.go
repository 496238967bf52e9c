//go:build unix

package scan

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// BenchmarkAgainstLibtiff reports how many times as fast as libtiff (tools/bench/libtiff)
// a plate of 24 megapixels is decoded: in processor time, the system's included, and as felt,
// where all processors unpack. libtiff writes the files too.
func BenchmarkAgainstLibtiff(b *testing.B) {
	const w, h = 6000, 4000
	dir := b.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if out, err := exec.Command("cc", "-O2", "-o", at("decode"), "../../tools/bench/libtiff/decode.c", "-ltiff").CombinedOutput(); err != nil {
		b.Skipf("SKIPPED: libtiff is not here to compare with (apt-get install gcc libtiff-dev libtiff-tools): %v %s", err, out)
	}
	pixels := noise(w*h, 256)
	for i := range pixels {
		pixels[i] += uint16(20000 + 3*(i%w) + 2*(i/w))
	}
	if err := os.WriteFile(at("plate.tif"), tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, rows: 64}.bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	for _, compression := range []string{"none", "lzw", "lzw:2", "zip", "zip:2", "packbits"} {
		b.Run(strings.ReplaceAll(compression, ":2", " differences"), func(b *testing.B) {
			name := at("packed.tif")
			if out, err := exec.Command("tiffcp", "-c", compression, "-r", "64", at("plate.tif"), name).CombinedOutput(); err != nil {
				b.Skipf("SKIPPED: tiffcp: %v %s", err, out)
			}
			data, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			var ours, felt, theirs time.Duration
			for b.Loop() {
				says, err := exec.Command(at("decode"), name).Output()
				seconds, bad := strconv.ParseFloat(strings.TrimSpace(string(says)), 64)
				if err != nil || bad != nil {
					b.Fatalf("%v %v: %s", err, bad, says)
				}
				theirs += time.Duration(seconds * float64(time.Second))
				begin, from := processorTime(b), time.Now()
				if _, err := Decode(name, data, Options{}); err != nil {
					b.Fatal(err)
				}
				ours += processorTime(b) - begin
				felt += time.Since(from)
			}
			b.ReportMetric(w*h/1e6*float64(b.N)/ours.Seconds(), "MP/s")
			b.ReportMetric(theirs.Seconds()/ours.Seconds(), "×libtiff")
			b.ReportMetric(theirs.Seconds()/felt.Seconds(), "×libtiff-felt")
		})
	}
}

// processorTime is what this process has had of the processors, the system's share
// included.
func processorTime(t testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
