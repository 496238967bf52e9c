package main

import (
	"bytes"
	"encoding/csv"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/affine"
	"threeply/proof/sheet"
)

// discs is a made-up scene of overlapping discs, the transmittance of a plate
// at any place, 0.02 … 0.9.
func discs() func(x, y float64) float64 {
	type disc struct{ x, y, r, t float64 }
	rnd := rand.New(rand.NewPCG(4, 9))
	var all []disc
	for range 150 {
		all = append(all, disc{480 * rnd.Float64(), 360 * rnd.Float64(), 4 + 30*rnd.Float64()*rnd.Float64(), 0.02 + 0.88*rnd.Float64()})
	}
	return func(x, y float64) float64 {
		t := 0.4
		for _, d := range all {
			if dx, dy, r := x-d.x, y-d.y, d.r+1; dx*dx+dy*dy >= r*r {
				continue
			}
			edge := min(max((d.r-math.Hypot(x-d.x, y-d.y))/2+0.5, 0), 1) // soft over two pixels
			t += (d.t - t) * edge
		}
		return t
	}
}

// scanned writes the scene as a plate that lies in m, with a tone of its own.
func scanned(t *testing.T, name string, scene func(x, y float64) float64, m affine.Matrix, gamma float64) string {
	t.Helper()
	back, _ := m.Inverse()
	var b bytes.Buffer
	if err := (sheet.TIFF{W: 480, H: 360, Samples: 1, PPI: 900, Row: func(y int, row []uint16) {
		for x := range row {
			u, v := back.Apply(float64(x), float64(y))
			row[x] = uint16(math.Round(65535 * math.Pow(scene(u, v), gamma)))
		}
	}}).Write(&b); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func picture16(t *testing.T, file string) image.Image {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := tiff.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return img
}

// Plates through known maps come out as one scene, each in its own tone; and
// registered again, they lie where they are.
func TestRegisterWritesRegisteredPlates(t *testing.T) {
	scene := discs()
	maps := [3]affine.Matrix{
		affine.Compose(affine.Parts{DX: 5.3, DY: -3.6, Turn: 0.6, StretchX: 1.004, StretchY: 1.002}, 240, 180),
		affine.Identity,
		affine.Compose(affine.Parts{DX: -7.7, DY: 2.4, Turn: -0.3, StretchX: 0.998, StretchY: 0.999}, 240, 180),
	}
	gammas := [3]float64{0.8, 1, 1.1}
	var names []string
	for i, m := range maps {
		names = append(names, scanned(t, []string{"red.tif", "green.tif", "blue.tif"}[i], scene, m, gammas[i]))
	}
	dir := filepath.Join(t.TempDir(), "new", "folder")
	var out bytes.Buffer
	if err := registerPlates(append([]string{"-o", dir}, names...), &out); err != nil {
		t.Fatal(err)
	}
	var again []string
	for i, name := range []string{"red.tif", "green.tif", "blue.tif"} {
		file := filepath.Join(dir, name)
		again = append(again, file)
		if !strings.Contains(out.String(), "wrote "+file) {
			t.Errorf("%s is not said to be written:\n%s", file, &out)
		}
		img, ok := picture16(t, file).(*image.Gray16)
		if !ok {
			t.Fatalf("%s is not 16-bit grey", name)
		}
		var sum, n float64
		for y := 30; y < 330; y++ {
			for x := 30; x < 450; x++ {
				d := float64(img.Gray16At(x, y).Y)/65535 - math.Pow(scene(float64(x), float64(y)), gammas[i])
				sum, n = sum+d*d, n+1
			}
		}
		t.Logf("%s: off by %.4f of full scale, root mean square", name, math.Sqrt(sum/n))
		if math.Sqrt(sum/n) > 0.01 {
			t.Errorf("%s: off by %.4f of full scale", name, math.Sqrt(sum/n))
		}
	}
	if img, ok := picture16(t, filepath.Join(dir, "reference.tif")).(*image.RGBA64); !ok || img.Rect != image.Rect(0, 0, 480, 360) {
		t.Error("the reference is not 16-bit RGB at the key's size")
	}
	table := matricesOf(t, filepath.Join(dir, "matrices.csv"))
	for i, want := range maps {
		if far := apart(table[i], want); far > 0.2 {
			t.Errorf("row %d: %v, %.2f px from %v", i, table[i], far, want)
		}
	}
	dir = t.TempDir()
	if err := registerPlates(append([]string{"-o", dir}, again...), &out); err != nil {
		t.Fatal(err)
	}
	for i, m := range matricesOf(t, filepath.Join(dir, "matrices.csv")) {
		if far := apart(m, affine.Identity); far > 0.1 {
			t.Errorf("registered again, plate %d lies %.2f px off: %v", i, far, m)
		}
	}
}

func matricesOf(t *testing.T, file string) [3]affine.Matrix {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%v\n%s", err, b)
	}
	var out [3]affine.Matrix
	for i := range out {
		for k := range out[i] {
			if out[i][k], err = strconv.ParseFloat(rows[i+1][3+k], 64); err != nil {
				t.Fatal(err)
			}
		}
	}
	return out
}

// apart is the largest distance of two maps at the picture's corners.
func apart(a, b affine.Matrix) float64 {
	worst := 0.0
	for _, c := range [][2]float64{{0, 0}, {479, 0}, {0, 359}, {479, 359}} {
		ax, ay := a.Apply(c[0], c[1])
		bx, by := b.Apply(c[0], c[1])
		worst = max(worst, math.Hypot(ax-bx, ay-by))
	}
	return worst
}

// Plates of different pictures are no registered set, and nothing is written.
func TestRegisterWritesNothingUnsure(t *testing.T) {
	scene := discs()
	other := func(x, y float64) float64 { return 0.5 + 0.3*math.Sin(x/9)*math.Cos(y/11) }
	names := []string{
		scanned(t, "red.tif", other, affine.Identity, 1), scanned(t, "green.tif", scene, affine.Identity, 1), scanned(t, "blue.tif", scene, affine.Identity, 0.9),
	}
	dir := filepath.Join(t.TempDir(), "out")
	err := registerPlates(append([]string{"-o", dir}, names...), &bytes.Buffer{})
	if err == nil || !strings.Contains(err.Error(), "red.tif") || !strings.Contains(err.Error(), "nothing is written") {
		t.Errorf("two pictures: %v", err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a folder stands there all the same")
	}
}

// A plate that shrank unevenly comes out nearer to the scene with -local, and
// its coefficients are written; without it nothing local is.
func TestRegisterWritesTheLocalRegister(t *testing.T) {
	scene := discs()
	bent := func(x, y float64) float64 {
		return scene(x-2*math.Sin(math.Pi*x/480), y-1.4*math.Sin(math.Pi*y/360))
	}
	names := []string{
		scanned(t, "red.tif", bent, affine.Identity, 0.9), scanned(t, "green.tif", scene, affine.Identity, 1), scanned(t, "blue.tif", scene, affine.Identity, 1.1),
	}
	off := map[bool]float64{}
	for _, local := range []bool{false, true} {
		dir := t.TempDir()
		args := append([]string{"-o", dir}, names...)
		if local {
			args = append([]string{"-local"}, args...)
		}
		var out bytes.Buffer
		if err := registerPlates(args, &out); err != nil {
			t.Fatal(err)
		}
		img := picture16(t, filepath.Join(dir, "red.tif")).(*image.Gray16)
		for y := 30; y < 330; y++ {
			for x := 30; x < 450; x++ {
				d := float64(img.Gray16At(x, y).Y)/65535 - math.Pow(scene(float64(x), float64(y)), 0.9)
				off[local] += d * d / 300 / 420
			}
		}
		for file, want := range map[string]string{"matrices.csv": ",local_x1", "verdict.csv": "stars,"} {
			b, err := os.ReadFile(filepath.Join(dir, file))
			if err != nil || !strings.Contains(string(b), want) {
				t.Errorf("%s: %v, no %q in it", file, err, want)
			}
		}
		if said := strings.Contains(out.String(), "red plate: "); said != local {
			t.Errorf("-local %v says:\n%s", local, &out)
		}
	}
	t.Logf("off by %.4f of full scale without, %.4f with", math.Sqrt(off[false]), math.Sqrt(off[true]))
	if off[true] > 0.5*off[false] {
		t.Error("hardly nearer")
	}
	if err := registerPlates(append([]string{"-local"}, names...), &bytes.Buffer{}); err == nil {
		t.Error("-local without -o is taken")
	}
}
