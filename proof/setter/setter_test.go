package setter

import (
	"bytes"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"threeply/proof/affine"
	"threeply/proof/film"
	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/screen"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/sheet/sheettest"
	"threeply/proof/spectrum"
	"threeply/proof/stack"

	"golang.org/x/image/tiff"
)

// greys is a set of plates of a scene of grey steps from left to right, printed 100 mm
// wide.
func greys(steps int) (session.State, [3]*plane.Plane) {
	const side = 240
	s, planes := picturetest.Scene(side, func(_, x, _ int) float64 {
		return math.Pow(10, -1.2*float64(x*steps/side)/float64(steps-1))
	})
	s.PrintWidth = 100
	setup := negative.Usual
	setup.PPI = 150
	s.Negatives = &setup
	for i := range s.Sources {
		s.Sources[i].SHA256 = strings.Repeat(string("abc"[i]), 64)
	}
	return s, planes
}

func decoded(t *testing.T, f sheet.TIFF) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	img, err := tiff.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

var madeThen = label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}

// drawnOf are the negatives of a session as a general-purpose reader reads the files.
func drawnOf(t *testing.T, s *session.State, planes [3]*plane.Plane) (*Negatives, [3]*image.Gray16) {
	t.Helper()
	n, err := New(s, planes, madeThen)
	if err != nil {
		t.Fatal(err)
	}
	var out [3]*image.Gray16
	for _, p := range pigment.Printers() {
		f, err := n.TIFF(p)
		if err != nil {
			t.Fatal(err)
		}
		out[p] = decoded(t, f).(*image.Gray16)
	}
	return n, out
}

// A print made by hand from the files is neutral, and as light as its scene: codes to
// densities by the film's line, densities to light by 10^-D (ISO 5-2), light to height by
// the working curve h = D_p ln(E/E_c) (Jacobs, as quoted second-hand), heights to colour by
// the stack. Through a film that bends as well as through a straight one.
func TestNegativesPrintTheScene(t *testing.T) {
	const steps = 9
	bent, err := film.Read("0 0.0\n10 0.05\n30 0.35\n50 0.85\n70 1.5\n85 2.05\n100 2.4\n", film.Inkjet, film.UV)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]film.Film{"straight": {Kind: film.Inkjet, Max: 2.4}, "bent": bent} {
		s, planes := greys(steps)
		setup := s.Setup()
		setup.Film = f
		s.Negatives = &setup
		n, img := drawnOf(t, &s, planes)
		palette, _ := pigment.PaletteByID(s.Palette)
		r := stack.DefaultRecipe(palette)
		d50 := spectrum.Lights()[0]
		paper := d50.Lab(r.Reflectance([3]float64{}))
		tables := n.Setup.Film.Densities()
		depth := spectrum.Lab{}
		worst, worstL := 0.0, 0.0
		for k := steps - 1; k >= 0; k-- {
			var amount [3]float64
			for i := range amount {
				x := n.Trim.X0 + int((float64(k)+0.5)/steps*float64(n.Trim.W()))
				code := img[i].Gray16At(x, (n.Trim.Y0+n.Trim.Y1)/2).Y
				d := tables[code]
				if name == "straight" {
					d = 2.4 * (1 - float64(code)/65535)
				}
				tissue := relief.Of(palette.Layer(pigment.Printer(i)))
				e := n.layers[i].Exposure() * math.Pow(10, -d)
				amount[i] = min(max(tissue.Depth*math.Log(e/tissue.Threshold), 0), tissue.Coat) / tissue.Coat
			}
			lab := d50.Lab(r.Reflectance(amount))
			if k == steps-1 {
				depth = lab
			}
			light := math.Pow(10, -1.2*float64(k)/(steps-1))
			if k > 0 && k < steps-1 {
				// Lightness scaled evenly between paper and the depth of the recipe.
				scale := picturetest.OnPrint(light, paper, n.printing.Grey(&s, relief.Way{}, 1))
				worst = max(worst, math.Hypot(lab[1]-scale[1], lab[2]-scale[2]))
				worstL = max(worstL, math.Abs(lab[0]-scale[0]))
			}
		}
		t.Logf("%s film: ΔL* %.2f and chroma %.2f off at most; the darkest step prints L* %.1f", name, worstL, worst, depth[0])
		if worst > 1.5 || worstL > 1 {
			t.Errorf("%s film: the print is %.2f in chroma and %.2f in L* off", name, worst, worstL)
		}
	}
}

// The picture lies where the trim says, at the size that was asked for, mirrored as the
// route and the side ask, with the marks of all three files at the same pixels.
func TestNegativesLieAsTheRouteAsks(t *testing.T) {
	for _, route := range []string{"direct", "clear-paper", "clear-temporary-paper"} {
		for _, side := range []string{negative.Emulsion, negative.Base} {
			s, planes := greys(2) // white at the left, dark at the right
			setup := s.Setup()
			setup.Side, setup.PPI = side, 80
			s.Negatives, s.Route = &setup, route
			n, img := drawnOf(t, &s, planes)
			if want := 100 * 80 / 25.4; math.Abs(float64(n.Trim.W())-want) > 0.5 || math.Abs(float64(n.Trim.H())-want) > 0.5 {
				t.Errorf("the trim is %v, want %.1f pixels wide", n.Trim, want)
			}
			mirrored := (route == "clear-paper") == (side == negative.Emulsion)
			if n.Mirrored != mirrored {
				t.Errorf("%s, %s: mirrored %v", route, side, n.Mirrored)
			}
			y := (n.Trim.Y0 + n.Trim.Y1) / 2
			for i := range img {
				left, right := img[i].Gray16At(n.Trim.X0+20, y).Y, img[i].Gray16At(n.Trim.X1-20, y).Y
				// White of the scene is dense on a negative: a low code.
				if dense := left < right; dense == mirrored {
					t.Errorf("%s, %s: the picture lies the wrong way (%d, %d)", route, side, left, right)
				}
				for _, m := range n.Marks {
					if img[i].Gray16At(m[0], m[1]).Y != 65535 || img[i].Gray16At(m[0]+2, m[1]+2).Y != 0 {
						t.Errorf("%s, %s: no mark of layer %d at %v", route, side, i, m)
					}
				}
			}
		}
	}
}

// A screened negative has two levels, dots of the size that was asked for, and covers each
// step of the scene with the area that its grey needs: what a print of it reflects on the
// whole, by Yule and Nielsen, is as light as the scene.
func TestScreenedNegatives(t *testing.T) {
	const steps = 5
	s, planes := greys(steps)
	setup := s.Setup()
	setup.PPI, setup.Screen, setup.Gain = 1270, 40, 0.1
	s.Negatives, s.PrintWidth = &setup, 24
	n, err := New(&s, planes, madeThen)
	if err != nil {
		t.Fatal(err)
	}
	if wide, micron := setup.Dot(); wide != 2 || micron != 40 {
		t.Fatalf("a dot is %d pixels, %g µm", wide, micron)
	}
	var img [3]*image.Gray
	for _, p := range pigment.Printers() {
		f, err := n.TIFF(p)
		if err != nil {
			t.Fatal(err)
		}
		img[p] = decoded(t, f).(*image.Gray)
	}
	palette, _ := pigment.PaletteByID(s.Palette)
	layers := stack.DefaultRecipe(palette).Layers()
	d50 := spectrum.Lights()[0]
	dots := screen.NewDots(layers, d50, n.printing.Scale.Thickness(1))
	paper := d50.Lab(layers.Reflectance([3]float64{}))
	depth := d50.Lab(layers.Reflectance(n.printing.Scale.Thickness(1)))
	for k := range steps {
		var area [3]float64
		for i := range area {
			x0 := n.Trim.X0 + k*n.Trim.W()/steps + 60
			x1 := n.Trim.X0 + (k+1)*n.Trim.W()/steps - 60
			clear, count := 0.0, 0.0
			for y := n.Trim.Y0 + 100; y < n.Trim.Y1-100; y++ {
				for x := x0; x < x1; x++ {
					switch img[i].GrayAt(x, y).Y {
					case 255:
						clear++
					case 0:
					default:
						t.Fatal("a level between")
					}
					count++
					if x%2 == 1 && x > x0 && img[i].GrayAt(x, y) != img[i].GrayAt(x-1, y) {
						t.Fatalf("a dot is torn at %d, %d", x, y)
					}
				}
			}
			area[i] = setup.Growth().Print(clear / count)
		}
		lab := dots.Lab(area)
		want := picturetest.OnPrint(math.Pow(10, -1.2*float64(k)/(steps-1)), paper, depth)
		if off := lab.Distance(want); off > 1.5 {
			t.Errorf("step %d prints %.1f, want %.1f", k, lab, want)
		}
	}
	setup.PPI = 360
	if err := s.Check(); err == nil || !strings.Contains(err.Error(), "635 pixels an inch") {
		t.Errorf("dots of 40 µm at 360 pixels an inch: %v", err)
	}
}

// Plates that lie apart come to lie on each other; the layers' offsets are kept only when
// they are asked for.
func TestNegativesAreRegistered(t *testing.T) {
	s, planes := picturetest.Scene(200, func(plate, x, y int) float64 {
		if plate == 0 { // the red plate lies apart
			x, y = x-12, y+7
		}
		return 0.4 + 0.25*math.Sin(float64(x)/5) + 0.1*math.Cos(float64(x+2*y)/9)
	})
	s.Found[0].Matrix = affine.Translate(12, -7)
	s.PrintWidth = 100
	setup := negative.Usual
	setup.PPI = 120
	s.Negatives = &setup
	s.Offsets[pigment.Cyan] = session.Offset{DX: 8000}
	apart := func(img [3]*image.Gray16, n *Negatives) float64 {
		sum, count := 0.0, 0.0
		for y := n.Trim.Y0 + 40; y < n.Trim.Y1-40; y += 3 {
			for x := n.Trim.X0 + 80; x < n.Trim.X1-80; x += 3 {
				a, b := img[pigment.Magenta].Gray16At(x, y).Y, img[pigment.Cyan].Gray16At(x, y).Y
				// The same densities print by different curves: compare their ranks, by the slope.
				a2, b2 := img[pigment.Magenta].Gray16At(x+2, y).Y, img[pigment.Cyan].Gray16At(x+2, y).Y
				if (a2 > a) != (b2 > b) {
					sum++
				}
				count++
			}
		}
		return sum / count
	}
	n, img := drawnOf(t, &s, planes)
	if off := apart(img, n); off > 0.05 {
		t.Errorf("in register %.0f %% of the slopes run against each other", 100*off)
	}
	setup.Offsets = true
	n, img = drawnOf(t, &s, planes)
	if off := apart(img, n); off < 0.2 {
		t.Errorf("with an offset of 8 mm only %.0f %% of the slopes run against each other", 100*off)
	}
}

// A film that is too thin for the tissue is said, with what is lost, and so is a plate
// too coarse, a sheet too small and a toxic pigment.
func TestNotes(t *testing.T) {
	s, planes := greys(5)
	setup := s.Setup()
	setup.Film.Max = 1.0
	s.Negatives, s.Palette = &setup, "latechrome"
	s.PrintWidth = 400
	n, err := New(&s, planes, madeThen)
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(n.Notes, "\n")
	for _, want := range []string{"needs a density of", "keep a veil of", "not measured", "pixels an inch; below 150", "Lead chromate", "it goes on a sheet of"} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing says %q:\n%s", want, said)
		}
	}
	setup.Sheet = "a4"
	if _, err := New(&s, planes, madeThen); err == nil || !strings.Contains(err.Error(), "does not go on a sheet of A4") {
		t.Errorf("a print of 400 mm on A4: %v", err)
	}
}

// Programs that know nothing of the writer read the files: libtiff's tiffinfo and
// tiffcmp, which finds a copy by ImageMagick the same, and Little CMS, which takes the
// codes to the densities that they stand for by the profile inside.
func TestNegativesInOtherPrograms(t *testing.T) {
	for _, program := range []string{"tiffinfo", "tiffcmp", "convert", "transicc"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("SKIPPED: %s is missing, so negatives go unchecked by other programs; install libtiff-tools, imagemagick and liblcms2-utils", program)
		}
	}
	s, planes := greys(4)
	n, err := New(&s, planes, madeThen)
	if err != nil {
		t.Fatal(err)
	}
	f, err := n.TIFF(pigment.Cyan)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("cyan.tif"), b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(stdin, name string, args ...string) string {
		t.Helper()
		cmd := exec.Command(name, args...)
		cmd.Stdin = strings.NewReader(stdin)
		said, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%s %q: %v, %s", name, args, err, said)
		}
		return string(said)
	}
	info := run("", "tiffinfo", "-D", at("cyan.tif"))
	for _, want := range []string{fmt.Sprintf("Image Width: %d Image Length: %d", n.W, n.H), "Resolution: 150, 150 pixels/inch", "Bits/Sample: 16", "ICC Profile: <present>"} {
		if !strings.Contains(info, want) || strings.Contains(info, "Warning") {
			t.Errorf("tiffinfo says %s, want %q", info, want)
		}
	}
	run("", "convert", at("cyan.tif"), "-compress", "none", at("copy.tif"))
	if said := run("", "tiffcmp", "-t", at("cyan.tif"), at("copy.tif")); strings.Contains(said, "row") {
		t.Errorf("tiffcmp: %.200s", said)
	}
	if err := os.WriteFile(at("film.icc"), f.Profile, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, code := range []float64{0, 64, 128, 200, 255} {
		var x [3]float64
		for line := range strings.Lines(run(fmt.Sprintf("%g\n", code), "transicc", "-n", "-t1", "-i"+at("film.icc"), "-o*XYZ")) {
			if got, _ := fmt.Sscan(line, &x[0], &x[1], &x[2]); got == 3 {
				break
			}
		}
		if got, want := -math.Log10(x[1]/100), 2.2*(1-code/255); math.Abs(got-want) > 0.004 {
			t.Errorf("code %g of 255 is density %.4f to Little CMS, want %.4f", code, got, want)
		}
	}
}

// BenchmarkNegatives draws the three negatives of a set of 100 megapixels at its own
// size, 300 MP in all; at most 30 s are wanted. Where they go to takes no time.
func BenchmarkNegatives(b *testing.B) {
	const side = 10000
	s, tones := picturetest.Scene(97, func(_, x, _ int) float64 { return float64(x+1) / 98 })
	s.PrintWidth = 705.6
	var planes [3]*plane.Plane
	for i := range planes {
		planes[i] = plane.New(side, side)
		for k := range planes[i].Pix {
			planes[i].Pix[k] = tones[i].Pix[(k%side)*(k/side)%97]
		}
		s.Sources[i].W, s.Sources[i].H = side, side
	}
	for b.Loop() {
		drawn(b, &s, planes, &nowhere{})
	}
	b.ReportMetric(300*float64(b.N)/b.Elapsed().Seconds(), "MP/s")
}

// BenchmarkLargeNegatives draws negatives of 40 × 50 cm at 720 pixels an inch, 160 MP each,
// and tells by how much the heap grew at most while they were written, beside the scans; 64
// MB are allowed.
func BenchmarkLargeNegatives(b *testing.B) {
	s, planes := picturetest.Scene(1200, func(_, x, y int) float64 { return float64((x+y)%97+1) / 98 })
	for i := range planes { // upright, 4 : 5
		planes[i] = planes[i].Crop(0, 0, 960, 1200)
		s.Sources[i].W = 960
	}
	setup := s.Setup()
	setup.PPI = 720
	s.Negatives, s.PrintWidth = &setup, 400
	var before runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	to := &nowhere{base: before.HeapAlloc}
	for b.Loop() {
		drawn(b, &s, planes, to)
	}
	b.ReportMetric(float64(to.most)/(1<<20), "MB-beside")
}

// drawn writes all three negatives.
func drawn(b *testing.B, s *session.State, planes [3]*plane.Plane, to io.Writer) {
	n, err := New(s, planes, madeThen)
	if err != nil {
		b.Fatal(err)
	}
	for _, p := range pigment.Printers() {
		f, err := n.TIFF(p)
		if err != nil {
			b.Fatal(err)
		}
		if err := f.Write(to); err != nil {
			b.Fatal(err)
		}
	}
}

// nowhere takes a file in no time, and sees how far the heap has grown above base.
type nowhere struct{ base, most uint64 }

func (n *nowhere) Write(b []byte) (int, error) {
	if n.base > 0 {
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		n.most = max(n.most, now.HeapAlloc-min(n.base, now.HeapAlloc))
	}
	return len(b), nil
}

// A negative whose strips are drawn apart, each from no more rows of the plates than it says
// that it needs, is the one that is written in one go, byte by byte.
func TestNegativesDrawnApart(t *testing.T) {
	for _, masked := range []bool{false, true} {
		s, planes := picturetest.Patches()
		setup := negative.Usual
		setup.PPI = 150
		s.PrintWidth, s.Negatives, s.Masked = 100, &setup, masked
		s.Found[s.SourceOf(pigment.Magenta)].Matrix = affine.Compose(affine.Parts{DX: 3, DY: -5, Turn: 1, StretchX: 1, StretchY: 1.01}, 80, 80)
		n, err := New(&s, planes, madeThen)
		if err != nil {
			t.Fatal(err)
		}
		f, err := n.TIFF(pigment.Magenta)
		if err != nil {
			t.Fatal(err)
		}
		var whole bytes.Buffer
		if err := f.Write(&whole); err != nil {
			t.Fatal(err)
		}
		if f.Strips() < 3 {
			t.Fatalf("%d strips are too few to tell", f.Strips())
		}
		if !bytes.Equal(sheettest.Apart(t, f, planes, n.Needs(pigment.Magenta)), whole.Bytes()) {
			t.Errorf("masked %v: drawn apart it is another file", masked)
		}
		used := 0
		for _, rows := range n.Needs(pigment.Magenta)(n.Picture.Y0+9, n.Picture.Y0+20) {
			if rows[1] > rows[0] {
				used++
			}
		}
		if want := map[bool]int{false: 1, true: 3}[masked]; used != want {
			t.Errorf("masked %v: %d plates are read, want %d", masked, used, want)
		}
	}
}
