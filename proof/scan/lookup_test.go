package scan

import (
	"encoding/binary"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// scannerProfile is a profile of a look-up table with all that Little CMS asks for.
func scannerProfile(space, pcs string, version byte, table []byte) []byte {
	data := profile(space, pcs, map[string][]byte{"A2B0": table, "wtpt": xyzTag(0.9642, 1, 0.8249)})
	data[8] = version
	copy(data[12:], "scnr")
	for i, v := range whiteD50 {
		binary.BigEndian.PutUint32(data[68+4*i:], uint32(int32(v*65536+0.5)))
	}
	return data
}

// toValues is a colour such as no curves and matrix give: the share of each channel
// depends on the others. Values are of the connection space, 0 … 1.
func toValues(r, g, b float64) [3]float64 {
	l := math.Pow(0.3*r+0.6*g+0.1*b, 0.8) - 0.15*r*(1-g)*b
	return [3]float64{max(l, 0), 0.5 + 0.2*(r-g) + 0.05*r*b, 0.5 + 0.2*(g-b)}
}

func gridOf(channels, points, unit int, value func(device [3]float64) [3]float64) []byte {
	var out []byte
	total := 1
	for range channels {
		total *= points
	}
	for n := range total {
		var device [3]float64
		for i, rest := channels-1, n; i >= 0; i, rest = i-1, rest/points {
			device[i] = float64(rest%points) / float64(points-1)
		}
		for _, v := range value(device) {
			if unit == 1 {
				out = append(out, byte(255*v+0.5))
			} else {
				out = binary.BigEndian.AppendUint16(out, uint16(65535*v+0.5))
			}
		}
	}
	return out
}

func tables(channels, points, unit int, first, last func(x float64) float64, value func(device [3]float64) [3]float64) []byte {
	out := []byte("mft1\x00\x00\x00\x00")
	if unit == 2 {
		out[3] = '2'
	}
	out = append(out, byte(channels), 3, byte(points), 0)
	for i := range 9 {
		v := uint32(0)
		if i%4 == 0 {
			v = 1 << 16
		}
		out = binary.BigEndian.AppendUint32(out, v)
	}
	n := 256
	if unit == 2 {
		out = append(out, 1, 0, 1, 0) // 256 values each
	}
	curve := func(f func(x float64) float64) {
		for i := range n {
			v := f(float64(i) / float64(n-1))
			if unit == 1 {
				out = append(out, byte(255*v+0.5))
			} else {
				out = binary.BigEndian.AppendUint16(out, uint16(65535*v+0.5))
			}
		}
	}
	for range channels {
		curve(first)
	}
	out = append(out, gridOf(channels, points, unit, value)...)
	for range 3 {
		curve(last)
	}
	return out
}

// steps is a lutAToBType of all five steps.
func steps(points int, value func(device [3]float64) [3]float64) []byte {
	head := append([]byte("mAB \x00\x00\x00\x00\x03\x03\x00\x00"), make([]byte, 20)...)
	put := func(i int, part []byte) {
		binary.BigEndian.PutUint32(head[12+4*i:], uint32(len(head)))
		head = append(head, part...)
		for len(head)%4 != 0 {
			head = append(head, 0)
		}
	}
	var last, middle, first []byte
	for range 3 {
		last = append(last, paraTag(0, 1)...)
		middle = append(middle, curvTag(0, 30000, 65535, 65535)[:20]...)
		first = append(first, curvTag(0x1cd)...)
		first = append(first, 0, 0)
	}
	put(0, last)
	var matrix []byte
	for _, v := range []float64{0.95, 0.02, 0, 0, 0.9, 0.05, 0.03, 0, 0.92, 0.01, 0.02, 0.03} {
		matrix = binary.BigEndian.AppendUint32(matrix, uint32(int32(v*65536)))
	}
	put(1, matrix)
	put(2, middle)
	grid := append(make([]byte, 16), 2, 0, 0, 0)
	for i := range 3 {
		grid[i] = byte(points)
	}
	put(3, append(grid, gridOf(3, points, 2, value)...))
	put(4, first)
	return head
}

// Little CMS is the general-purpose library for ICC profiles (Debian's liblcms2-utils).
func TestLookUpProfilesAgainstLittleCMS(t *testing.T) {
	need(t, "transicc")
	square := func(x float64) float64 { return x * x }
	same := func(x float64) float64 { return x }
	of := func(d [3]float64) [3]float64 { return toValues(d[0], d[1], d[2]) }
	half := func(d [3]float64) [3]float64 { v := of(d); return [3]float64{v[1] / 2, v[0] / 2, v[2] / 2} }
	grey := func(d [3]float64) [3]float64 { return [3]float64{math.Sqrt(d[0]), 0.5, 0.5} }
	for name, c := range map[string]struct {
		space, pcs string
		version    byte
		table      []byte
		within     float64 // of 100
	}{
		"lut16, CIELAB":        {"RGB ", "Lab ", 2, tables(3, 9, 2, square, same, of), 0.02},
		"lut16, XYZ":           {"RGB ", "XYZ ", 2, tables(3, 11, 2, same, square, half), 0.02},
		"lut8, CIELAB":         {"RGB ", "Lab ", 2, tables(3, 9, 1, same, same, of), 0.1},
		"lut A to B, CIELAB":   {"RGB ", "Lab ", 4, steps(9, of), 0.05},
		"lut A to B, XYZ":      {"RGB ", "XYZ ", 4, steps(7, half), 0.05},
		"lut16, CIELAB, grey":  {"GRAY", "Lab ", 2, tables(1, 33, 2, square, same, grey), 0.02},
		"lut16, two points, 4": {"RGB ", "Lab ", 4, tables(3, 2, 2, same, same, of), 0.02},
	} {
		data := scannerProfile(c.space, c.pcs, c.version, c.table)
		file := filepath.Join(t.TempDir(), "scanner.icc")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		channels := 3
		if c.space == "GRAY" {
			channels = 1
		}
		var colours [][3]float64
		for i := range 300 {
			v := noise(3*300, 65536)[3*i:]
			colours = append(colours, [3]float64{float64(v[0]) / 65535, float64(v[1]) / 65535, float64(v[2]) / 65535})
		}
		var in strings.Builder
		for _, v := range colours {
			for _, d := range v[:channels] {
				fmt.Fprintf(&in, "%.7f\n", 255*d)
			}
		}
		cmd := exec.Command("transicc", "-n", "-t1", "-c0", "-i"+file, "-o*XYZ")
		cmd.Stdin = strings.NewReader(in.String())
		text, err := cmd.Output()
		if err != nil {
			t.Fatal(name, err)
		}
		e, err := parseICC(data, channels)
		if err != nil {
			t.Fatal(name, err)
		}
		n, worst := 0, 0.0
		for line := range strings.Lines(string(text)) {
			var theirs [3]float64
			if got, _ := fmt.Sscan(line, &theirs[0], &theirs[1], &theirs[2]); got != 3 {
				continue
			}
			if channels == 1 {
				worst = max(worst, math.Abs(theirs[1]-100*e.linear[0](colours[n][0])))
			} else {
				ours := e.lookup.xyz(colours[n])
				for i := range ours {
					worst = max(worst, math.Abs(theirs[i]-100*ours[i]))
				}
			}
			n++
		}
		t.Logf("%s: %d colours, largest difference %.4f of 100", name, n, worst)
		if n != len(colours) || !(worst <= c.within) {
			t.Errorf("%s: off by %.4f over %d colours", name, worst, n)
		}
	}
}

// A colour scan with such a profile gives its luminance pixel by pixel.
func TestLuminanceByLookUp(t *testing.T) {
	of := func(d [3]float64) [3]float64 { return toValues(d[0], d[1], d[2]) }
	same := func(x float64) float64 { return x }
	data := scannerProfile("RGB ", "Lab ", 4, tables(3, 17, 2, same, same, of))
	pixels := noise(3*200, 65536)
	copy(pixels[3:6], pixels[:3]) // two equal ones
	s, err := Decode("a.tif", tiffFile{w: 20, h: 10, bits: 16, samples: 3, pixels: pixels, tags: map[int]any{tagICC: data}}.bytes(), Options{})
	if err != nil || s.Known != Profile {
		t.Fatal(s, err)
	}
	p, curve := s.Luminance()
	l, _ := parseICC(data, 3)
	for i := range 200 {
		want := l.lookup.xyz([3]float64{float64(pixels[3*i]) / 65535, float64(pixels[3*i+1]) / 65535, float64(pixels[3*i+2]) / 65535})[1]
		if got := float64(curve[p.Pix[i]]); math.Abs(got-want) > 3e-5 {
			t.Fatalf("pixel %d: %g, want %g", i, got, want)
		}
	}
	img := image.NewRGBA(image.Rect(0, 0, 4, 4))
	for i := range img.Pix {
		img.Pix[i] = 200
	}
	for i := 3; i < len(img.Pix); i += 4 {
		img.Pix[i] = 255
	}
	if s, err = Decode("paper.png", pngFile(img, iccp(data)), Options{}); err != nil {
		t.Fatal(err)
	}
	want := l.lookup.xyz([3]float64{200. / 255, 200. / 255, 200. / 255})
	if got := s.Middle(); math.Abs(got[0]-100*want[0]) > 1e-6 {
		t.Errorf("XYZ %v, want %v × 100", got, want)
	}
}

// A damaged table is said, and the scan is read without the profile.
func TestDamagedLookUpIsNamedAndSurvived(t *testing.T) {
	of := func(d [3]float64) [3]float64 { return toValues(d[0], d[1], d[2]) }
	same := func(x float64) float64 { return x }
	for name, table := range map[string][]byte{"lut16": tables(3, 3, 2, same, same, of), "lut8": tables(3, 3, 1, same, same, of), "steps": steps(3, of)} {
		for n := 32; n < len(table); n += 7 {
			data := scannerProfile("RGB ", "Lab ", 4, table[:n])
			if e, err := parseICC(data, 3); err == nil {
				e.lookup.xyz([3]float64{1, 0.5, 0})
				if name != "steps" {
					t.Fatalf("%s: cut to %d of %d bytes and read", name, n, len(table))
				}
			}
			broken := scannerProfile("RGB ", "Lab ", 4, table)
			at := len(broken) - len(table) + n - 32
			copy(broken[at:], "\xff\xff\xff\xff")
			if e, err := parseICC(broken, 3); err == nil && e.lookup != nil {
				e.lookup.xyz([3]float64{1, 0.5, 0})
			}
		}
	}
}
