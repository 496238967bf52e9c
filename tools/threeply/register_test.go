package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session"
)

// plateOfDiscs writes a plate of invented discs, moved by (dx, dy), as a 16-bit PNG.
func plateOfDiscs(t *testing.T, dir, name string, seed uint64, dx, dy int) string {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 5))
	img := image.NewGray16(image.Rect(0, 0, 360, 300))
	for i := range img.Pix {
		img.Pix[i] = 0x30
	}
	for range 260 {
		cx, cy, r := rnd.IntN(400)-20+dx, rnd.IntN(340)-20+dy, 3+rnd.IntN(14)
		ink := color.Gray16{Y: uint16(2000 + rnd.IntN(40000))}
		for y := cy - r; y <= cy+r; y++ {
			for x := cx - r; x <= cx+r; x++ {
				if (x-cx)*(x-cx)+(y-cy)*(y-cy) <= r*r && image.Pt(x, y).In(img.Rect) {
					img.SetGray16(x, y, ink)
				}
			}
		}
	}
	return plateOf(t, dir, name, img)
}

func plateOf(t *testing.T, dir, name string, img image.Image) string {
	t.Helper()
	path := filepath.Join(dir, name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestRegisterSaysWhereThePlatesLie(t *testing.T) {
	dir := t.TempDir()
	files := []string{plateOfDiscs(t, dir, "a.png", 1, 5, -4), plateOfDiscs(t, dir, "b.png", 1, 0, 0), plateOfDiscs(t, dir, "c.png", 1, -3, 2)}
	var out bytes.Buffer
	if err := registerPlates(append([]string{"-json", "-layout", "separate"}, files...), &out); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Key           string
		Width, Height int
		Verdict       struct {
			InRegister *bool    `json:"in_register"`
			Stars      int      `json:"stars"`
			P95        *float64 `json:"p95_px"`
			Largest    *float64 `json:"largest_px"`
			Coverage   float64  `json:"coverage"`
			Parted     *bool    `json:"parted"`
			Sentence   string   `json:"sentence"`
		}
		Plates map[string]struct {
			File       string
			SHA256     string
			Polarity   string
			Matrix     [6]float64
			Confidence float64
			Residual   *struct{ Median, P95, Max float64 } `json:"residual_px"`
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v in %s", err, out.String())
	}
	if got.Key != "green" || got.Width != 360 || got.Height != 300 || len(got.Plates) != 3 {
		t.Errorf("%+v", got)
	}
	if v := got.Verdict; v.InRegister == nil || !*v.InRegister || v.Stars != 4 || v.P95 == nil || *v.P95 > 0.33 || v.Largest == nil || v.Coverage < 0.9 || v.Parted == nil || *v.Parted || !strings.HasPrefix(v.Sentence, "In register: ") {
		t.Errorf("%+v", v)
	}
	for i, name := range session.Filters {
		content, err := os.ReadFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		if p := got.Plates[name]; p.File != files[i] || p.SHA256 != fmt.Sprintf("%x", sha256.Sum256(content)) || p.Polarity != "negative" && p.Polarity != "positive" {
			t.Errorf("%s: %+v", name, p)
		}
	}
	for name, want := range map[string][2]float64{"red": {5, -4}, "blue": {-3, 2}} {
		p := got.Plates[name]
		x, y := p.Matrix[0]*180+p.Matrix[1]*150+p.Matrix[2]-180, p.Matrix[3]*180+p.Matrix[4]*150+p.Matrix[5]-150
		if math.Hypot(x-want[0], y-want[1]) > 0.1 || p.Confidence < 0.9 || p.Residual == nil {
			t.Errorf("%s: centre moves by %.2f, %.2f, want %v; %+v", name, x, y, want, p)
		}
	}
}

// The text says by words on which side of its scan a plate's picture lies, from
// centre to centre: a scan with more margin at its right has its picture further
// to the left.
func TestRegisterTextSaysSides(t *testing.T) {
	dir := t.TempDir()
	wide := func(name string, dx, dy, margin int) string {
		f, err := os.Open(plateOfDiscs(t, dir, name, 1, dx, dy))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		img, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		out := image.NewGray16(image.Rect(0, 0, 360+margin, 300))
		draw.Draw(out, img.Bounds(), img, image.Point{}, draw.Src)
		return plateOf(t, dir, "wide "+name, out)
	}
	var out bytes.Buffer
	if err := registerPlates([]string{wide("red.png", 5, -4, 100), wide("green.png", 0, 0, 0), wide("blue.png", -3, 2, 0)}, &out); err != nil {
		t.Fatal(err)
	}
	red, blue, _ := strings.Cut(out.String(), "Blue plate")
	for text, want := range map[string]string{
		red:  `lies +45\.\d\d px to the left and [34]\.\d\d px up in its scan`,
		blue: `lies +[23]\.\d\d px to the left and [12]\.\d\d px down in its scan`,
	} {
		if !regexp.MustCompile(want).MatchString(text) || strings.Contains(text, "clockwise") {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestLiesInWords(t *testing.T) {
	s := session.New()
	for i := range s.Sources {
		s.Sources[i].W, s.Sources[i].H = 101, 81
	}
	m := func(p affine.Parts) affine.Matrix { return affine.Compose(p, 50, 40) }
	for want, m := range map[string]affine.Matrix{
		"0.418° to the left":                    m(affine.Parts{Turn: -0.418, StretchX: 1, StretchY: 1}),
		"0.418° to the right":                   m(affine.Parts{Turn: 0.418, StretchX: 1, StretchY: 1}),
		"turned      0.000°\n":                  m(affine.Parts{Turn: -0.0001, StretchX: 1, StretchY: 1}),
		"+1.000 % across, -2.000 % down":        m(affine.Parts{StretchX: 1.01, StretchY: 0.98}),
		"scanned from the back":                 m(affine.Parts{Turn: 180, StretchX: 1, StretchY: -1}),
		"0.00 px and 0.00 px in":                m(affine.Parts{StretchX: 1, StretchY: 1}),
		"3.50 px to the left and 12.00 px down": m(affine.Parts{DX: -3.5, DY: 12, StretchX: 1, StretchY: 1}),
	} {
		var out bytes.Buffer
		writeLies(&out, &s, 0, m)
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, &out)
		}
	}
}

// A plate of which nothing was measured has no residual.
func TestRegisterKnowsNoResidual(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	if err := registerPlates([]string{"-json", plateOf(t, dir, "red.png", image.NewGray16(image.Rect(0, 0, 360, 300))),
		plateOfDiscs(t, dir, "green.png", 1, 0, 0), plateOfDiscs(t, dir, "blue.png", 1, -3, 2)}, &out); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Plates map[string]struct {
			Confidence float64
			Residual   map[string]*float64 `json:"residual_px"`
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v in %s", err, out.String())
	}
	for name, known := range map[string]bool{"red": false, "blue": true} {
		p := got.Plates[name]
		for _, figure := range []string{"median", "p95", "max"} {
			if v, there := p.Residual[figure]; !there || (v != nil) != known || (p.Confidence > 0.9) != known {
				t.Errorf("%s: %s %v, confidence %g", name, figure, v, p.Confidence)
			}
		}
	}
}

func TestRegisterUsedWrongly(t *testing.T) {
	for _, args := range [][]string{{}, {"-key", "purple", "a"}, {"-layout", "wide", "a"}, {"-layout", "separate", "a", "b"}, {"a", "b"}, {"-colour"}} {
		var wrong usageError
		if err := registerPlates(args, &bytes.Buffer{}); !errors.As(err, &wrong) {
			t.Errorf("%q: %v", args, err)
		}
	}
}
