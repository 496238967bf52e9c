package export

import (
	"bytes"
	"image"
	"io"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/render"
	"threeply/proof/scan"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/tone"
)

// scene is the density of a picture of waves no shorter than seven pixels, at
// any place of the key.
func scene(x, y float64) float64 {
	return 1 + 0.25*math.Sin(2*math.Pi*x/7) + 0.25*math.Cos(2*math.Pi*(x+2*y)/31) + 0.2*math.Sin(y/40)
}

// waves are three scans of the scene, each through a map that is known.
func waves(t *testing.T) (session.State, [3]*plane.Plane) {
	t.Helper()
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
	maps := [3]affine.Matrix{
		affine.Compose(affine.Parts{DX: 3.3, DY: -5.6, Turn: 0.7, StretchX: 1.003, StretchY: 0.998}, 100, 80),
		affine.Identity,
		affine.Compose(affine.Parts{DX: -21.4, DY: 2.25, Turn: -0.4, StretchX: 1, StretchY: 1}, 100, 80),
	}
	sizes := [3][2]int{{220, 170}, {200, 160}, {190, 175}}
	var planes [3]*plane.Plane
	for i, m := range maps {
		back, _ := m.Inverse()
		p := plane.New(sizes[i][0], sizes[i][1])
		for j := range p.Pix {
			x, y := back.Apply(float64(j%p.W), float64(j/p.W))
			p.Pix[j] = density.Code(scene(x, y))
		}
		planes[i] = p
		s.Found[i] = session.Found{Matrix: m, Confidence: 0.9}
		s.Sources[i] = session.Source{File: filter.Filter(i).String() + ".tif", W: p.W, H: p.H, PPI: 600,
			Film: tone.Film{Negative: true, White: 2, Black: 0.2, Gamma: 0.8}}
	}
	return s, planes
}

func decoded(t *testing.T, p *Drawn) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := p.Write(&b); err != nil {
		t.Fatal(err)
	}
	img, err := tiff.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// A registered plate is the scene's own transmittance, pixel by pixel, but for
// the kernel's error and what lies at the scan's edges.
func TestRegisteredPlatesAreTheScene(t *testing.T) {
	s, planes := waves(t)
	s.Offsets[pigment.Cyan] = session.Offset{DX: 5000} // an offset on the print leaves register alone
	for i, f := range filter.All {
		img := decoded(t, RegisteredPlate(&s, planes, f, label.Made{})).(*image.Gray16)
		if img.Rect != image.Rect(0, 0, 200, 160) {
			t.Fatalf("%s: %v", f, img.Rect)
		}
		worst, seen, empty, bright := 0.0, 0, 0, 0
		for y := range 160 {
			for x := range 200 {
				px, py := s.Found[i].Matrix.Apply(float64(x), float64(y))
				w, h := float64(planes[i].W-1), float64(planes[i].H-1)
				got := float64(img.Gray16At(x, y).Y) / 65535
				switch {
				case px > 4 && py > 4 && px < w-4 && py < h-4:
					worst = max(worst, math.Abs(-math.Log10(got)-scene(float64(x), float64(y))))
					seen++
				case px < -1 || py < -1 || px > w+1 || py > h+1:
					empty++
					if got != 0 && math.Abs(got-0.5) > 1e-4 {
						t.Fatalf("%s: %g where the plate does not reach, which is hatched", f, got)
					}
					if got > 0 {
						bright++
					}
				}
			}
		}
		t.Logf("%s: largest error %.4f in density over %d pixels, %d beyond the plate", f, worst, seen, empty)
		if worst > 0.01 || seen < 20000 || (f == filter.Blue && (bright < empty*2/5 || bright > empty*3/5)) {
			t.Errorf("%s: largest error %.4f in density over %d pixels, %d beyond", f, worst, seen, empty)
		}
	}
}

// What is hatched, and a plate of which a part lies elsewhere, is said in the file.
func TestPicturesSayWhatIsWrong(t *testing.T) {
	s, planes := waves(t)
	m := survey.New([4]int{0, 0, 200, 160}, 100)
	m.Cells = strings.Repeat("m", len(m.Cells)-9) + strings.Repeat("x", 9)
	s.Survey[0] = m
	says := func(p *Drawn) string { return p.Description }
	red, green, blue := says(RegisteredPlate(&s, planes, filter.Red, label.Made{})), says(RegisteredPlate(&s, planes, filter.Green, label.Made{})), says(RegisteredPlate(&s, planes, filter.Blue, label.Made{}))
	const parted, hatched = "A part of the red plate lies elsewhere", "Hatched: "
	if !strings.Contains(red, parted) || !strings.Contains(red, hatched+"3.") { // moved up by 5.6 of 160 pixels, which is 3.5 %, and turned
		t.Errorf("red: %s", red)
	}
	if strings.Contains(green, parted) || strings.Contains(green, hatched) {
		t.Errorf("green: %s", green)
	}
	if strings.Contains(blue, parted) || !strings.Contains(blue, hatched+"10.7 %") { // moved to the left by 21.4 of 200 pixels
		t.Errorf("blue: %s", blue)
	}
	if all := says(ReferencePicture(&s, planes, label.Made{})); !strings.Contains(all, parted) || !strings.Contains(all, hatched) {
		t.Errorf("all three: %s", all)
	}
}

// The render's own bilinear reference is another way to the same picture.
func TestReferencePictureIsTheRenders(t *testing.T) {
	s, planes := waves(t)
	printing, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	want := picture.Assemble(&s, printing, printing.Curves(&s), planes, affine.Identity, 0)
	img := decoded(t, ReferencePicture(&s, planes, label.Made{})).(*image.RGBA64)
	var sum, n, worst float64
	for y := 8; y < 150; y++ {
		for x := 30; x < 190; x++ {
			c, w := img.RGBA64At(x, y), want.At(render.Reference, float64(x), float64(y))
			for i, got := range [3]uint16{c.R, c.G, c.B} {
				d := math.Abs(float64(got)/65535 - float64(w[i]))
				sum, n, worst = sum+d, n+1, max(worst, d)
				if i == 1 && d > 2e-5 {
					t.Fatalf("%d, %d: the key is %g, want %g", x, y, float64(got)/65535, w[i])
				}
			}
		}
	}
	t.Logf("differs by %.5f in the mean and %.4f at most", sum/n, worst)
	if sum/n > 0.01 || worst > 0.06 {
		t.Errorf("differs by %.5f in the mean and %.4f at most", sum/n, worst)
	}
}

func TestNothingLeavesUnregistered(t *testing.T) {
	s, _ := waves(t)
	if err := InRegister(&s); err != nil {
		t.Fatal(err)
	}
	s.Carried = true
	if err := InRegister(&s); err == nil || !strings.Contains(err.Error(), "register the plates again") {
		t.Errorf("a register that was carried over: %v", err)
	}
	s.Carried = false
	s.Found[2].Confidence, s.Found[2].Words = 0.1, "Another picture."
	if err := InRegister(&s); err == nil || !strings.Contains(err.Error(), "blue.tif") || !strings.Contains(err.Error(), "Another picture.") {
		t.Errorf("a plate that is not sure: %v", err)
	}
	s.Registered, s.FoundKey = "none", -1
	if err := InRegister(&s); err == nil || !strings.Contains(err.Error(), "register them first") {
		t.Errorf("plates as scanned: %v", err)
	}
}

// What a person laid by marks or by hand leaves the tool, whatever the register
// made of it.
func TestWhatAPersonLaidLeaves(t *testing.T) {
	s := command.NewHistory(func() session.State { s, _ := waves(t); return s }())
	s.Found[0].Confidence, s.Found[2].Confidence, s.Registered, s.FoundKey = 0, 0, "none", -1
	do := func(c command.Command) {
		t.Helper()
		if err := s.Do(c, ""); err != nil {
			t.Fatal(err)
		}
	}
	for _, i := range []int{s.KeySource(), s.Assign[0]} {
		do(command.Pin{N: 1, Source: i, X: 40, Y: 30})
	}
	do(command.RegisterBy{ID: session.ByMarks})
	if err := InRegister(&s.State); err == nil {
		t.Error("the blue plate has no mark, yet it leaves")
	}
	do(command.Pin{N: 1, Source: s.Assign[2], X: 41, Y: 28})
	if err := InRegister(&s.State); err != nil {
		t.Errorf("by marks: %v", err)
	}
	do(command.RegisterBy{ID: session.ByRegister})
	if err := InRegister(&s.State); err == nil {
		t.Error("marks count that are not registered by")
	}
	for f := range 3 {
		if i := s.Assign[f]; i != s.KeySource() {
			do(command.Place{Source: i, Pose: session.Pose{DX: 3}})
		}
	}
	if err := InRegister(&s.State); err != nil {
		t.Errorf("by hand: %v", err)
	}
}

// The reference is read back as what it is: by its own profile, and at the
// scan's resolution.
func TestReferencePictureCarriesItsProfile(t *testing.T) {
	s, planes := waves(t)
	var b bytes.Buffer
	if err := ReferencePicture(&s, planes, label.Made{}).Write(&b); err != nil {
		t.Fatal(err)
	}
	got, err := plate.Open([]plate.File{{Name: "reference.tif", Data: scan.Bytes(b.Bytes())}}, plate.Options{Layout: plate.Channels}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if src := got.Sources[0]; src.PPI != 600 || src.Bits != 16 || src.Encoding != "ICC profile “sRGB”" {
		t.Errorf("read back with %g pixels an inch, %d bits, %s", src.PPI, src.Bits, src.Encoding)
	}
}

// BenchmarkReferencePicture draws and writes the reference of three plates of
// 6 megapixels.
func BenchmarkReferencePicture(b *testing.B) {
	s := session.New()
	var planes [3]*plane.Plane
	for i := range planes {
		p := plane.New(3000, 2000)
		for j := range p.Pix {
			p.Pix[j] = density.Code(scene(float64(j%3000), float64(j/3000))) + uint16(j*2654435761>>26)&63
		}
		planes[i] = p
		s.Found[i].Matrix = affine.Compose(affine.Parts{DX: float64(i) - 1, Turn: 0.2 * (float64(i) - 1), StretchX: 1, StretchY: 1}, 1500, 1000)
		s.Sources[i] = session.Source{W: 3000, H: 2000, Film: tone.Film{Negative: true, White: 2, Black: 0.2, Gamma: 0.8}}
	}
	for b.Loop() {
		if err := ReferencePicture(&s, planes, label.Made{}).Write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(6/b.Elapsed().Seconds()*float64(b.N), "MP/s")
}
