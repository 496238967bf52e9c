//go:build unix

package render

import (
	"encoding/binary"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"threeply/proof/affine"
	"threeply/proof/tone"
)

// littleCMS puts places in a cube through Little CMS (tools/bench/littlecms/cube.c) and returns the
// codes of 8 bits and the processor's time. The picture's size is that of places, triples
// of cyan, magenta and yellow.
func littleCMS(t testing.TB, p *Picture, w, h int, places []uint16) ([]byte, time.Duration) {
	t.Helper()
	dir := t.TempDir()
	program := filepath.Join(dir, "cube")
	if out, err := exec.Command("cc", "-O2", "-o", program, "../../tools/bench/littlecms/cube.c", "-llcms2").CombinedOutput(); err != nil {
		t.Skipf("SKIPPED: Little CMS is not here to compare with (apt-get install gcc liblcms2-dev): %v %s", err, out)
	}
	write := func(name string, words []uint16) string {
		var b []byte
		for _, v := range words {
			b = binary.NativeEndian.AppendUint16(b, v)
		}
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	var nodes []uint16
	for _, v := range p.Table {
		nodes = append(nodes, uint16(min(max(v, 0), 1)*65535+0.5))
	}
	to := filepath.Join(dir, "out")
	says, err := exec.Command(program, strconv.Itoa(p.N), strconv.Itoa(w), strconv.Itoa(h), write("nodes", nodes), write("places", places), to).CombinedOutput()
	seconds, bad := strconv.ParseFloat(strings.TrimSpace(string(says)), 64)
	if err != nil || bad != nil {
		t.Fatalf("%v: %s", err, says)
	}
	out, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	return out, time.Duration(seconds * float64(time.Second))
}

// plain is a picture whose plates lie on each other, with curves that take a code to the
// same place, and those places as Little CMS wants them.
func plain(w, h int) (*Picture, []uint16) {
	p := picture(w, h)
	p.N, p.Table = 33, Decode(curved(33, 0.06))
	var straight tone.Curve
	for i := range straight {
		straight[i] = uint16(min(i*16, 65535))
	}
	places := make([]uint16, 3*w*h)
	for i := range p.Layers {
		l := &p.Layers[i]
		l.Laid.Matrix, l.Print = affine.Identity, &straight
		for k, code := range l.Plane.Pix {
			l.Plane.Pix[k] = uint16(min(2*int(code), 65535))
			places[3*k+2-i] = uint16(math.Round(65535 * float64(along(&straight, float32(l.Plane.Pix[k])))))
		}
	}
	return p, places
}

// Little CMS interpolates in a cube as the fast way does: within a code of 8 bits.
func TestLookUpAsLittleCMSDoes(t *testing.T) {
	const w, h = 200, 150
	p, places := plain(w, h)
	theirs, _ := littleCMS(t, p, w, h, places)
	img := p.Image(Print, w, h, nil)
	others := 0
	for i := range w * h {
		for ch := range 3 {
			d := int(img.Pix[4*i+ch]) - int(theirs[3*i+ch])
			if d < -1 || d > 1 {
				t.Fatalf("pixel %d, channel %d: %d, Little CMS has %d", i, ch, img.Pix[4*i+ch], theirs[3*i+ch])
			}
			if d != 0 {
				others++
			}
		}
	}
	t.Logf("%.2f %% of the codes are the next ones", 100*float64(others)/(3*w*h))
}

// BenchmarkAgainstLittleCMS reports how many times as fast as Little CMS one core is, in
// processor time: with register and curves, and for the look-up with curves alone. Little
// CMS does the look-up alone.
func BenchmarkAgainstLittleCMS(b *testing.B) {
	const w, h = 3000, 2000
	p, places := plain(w, h)
	q := *p
	for i, dx := range []float64{0.3, 0, -2.6} {
		if i != 1 { // the key
			q.Layers[i].Laid.Matrix = affine.Compose(affine.Parts{DX: dx, DY: 1.2, Turn: 0.2 * dx, StretchX: 1.001, StretchY: 0.999}, w/2, h/2)
		}
	}
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	ours := func(p *Picture) time.Duration {
		begin := processorTime(b)
		s := p.swiftly(Print, w, h)
		for y := range h {
			s.row(y, img.Pix[y*img.Stride:y*img.Stride+4*w])
		}
		return processorTime(b) - begin
	}
	var registered, straight, theirs time.Duration
	for b.Loop() {
		_, t := littleCMS(b, p, w, h, places)
		theirs += t
		registered += ours(&q)
		straight += ours(p)
	}
	b.ReportMetric(float64(w*h)/1e6*float64(b.N)/theirs.Seconds(), "MP/s-LittleCMS")
	b.ReportMetric(theirs.Seconds()/registered.Seconds(), "×registered")
	b.ReportMetric(theirs.Seconds()/straight.Seconds(), "×look-up")
}

// processorTime is what this process has had of the processors, besides the system's.
func processorTime(t testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano())
}
