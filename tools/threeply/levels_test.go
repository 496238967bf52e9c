package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

// A set of negatives of an invented scene: coloured discs on a coloured ground
// and a card of ten greys, each plate with an exposure and a γ of its own, a toe,
// base and fog, a rebate, grain and a place of its own.
const (
	sceneW, sceneH = 420, 330
	cardX, cardY   = 60, 250 // left upper corner of the card's first step
	cardStep       = 28      // pixels a step
	cardSteps      = 10
)

type emulsion struct {
	base, gamma, stops, toe float64
	dx, dy                  float64
}

var unequalFilms = [3]emulsion{
	{0.30, 0.92, 0.5, 0.16, 3.3, -2.2},
	{0.26, 0.80, 0, 0.15, 0, 0},
	{0.35, 0.68, -0.5, 0.17, -4.1, 1.6},
}

// density behind a linear exposure, the scene's white at 1.
func (e emulsion) density(h float64) float64 {
	x := e.gamma * (math.Log10(max(h, 1e-6)) + e.stops*math.Log10(2) + 1.65)
	return e.base + e.toe*math.Log1p(math.Exp(x/e.toe))
}

type disc struct {
	x, y, r float64
	colour  [3]float64
}

func invented() []disc {
	rnd := rand.New(rand.NewPCG(12, 5))
	var out []disc
	for range 240 {
		d := disc{x: rnd.Float64() * sceneW, y: rnd.Float64() * sceneH, r: 3 + 13*rnd.Float64()}
		for k := range d.colour {
			d.colour[k] = 0.02 + 0.9*math.Pow(rnd.Float64(), 1.6)
		}
		out = append(out, d)
	}
	return out
}

// exposure is what plate k gets at a place of the key.
func exposure(discs []disc, k int, x, y float64) float64 {
	if x >= cardX-6 && x < cardX+cardSteps*cardStep+6 && y >= cardY-6 && y < cardY+cardStep+6 {
		i := math.Floor((x - cardX) / cardStep)
		if i < 0 || i >= cardSteps || y < cardY || y >= cardY+cardStep {
			return 0.7
		}
		return math.Pow(10, -0.05-0.14*i)
	}
	v := [3]float64{0.20, 0.11, 0.06}[k]
	for _, d := range discs {
		if dx, dy := x-d.x, y-d.y; dx*dx+dy*dy < d.r*d.r {
			v = d.colour[k]
		}
	}
	return v
}

// negatives writes the set as linear 16-bit PNG and returns the files, red,
// green, blue.
func negatives(t *testing.T, dir string, films [3]emulsion) []string {
	t.Helper()
	discs := invented()
	var files []string
	for k, e := range films {
		rnd := rand.New(rand.NewPCG(uint64(k), 77))
		const rebate = 14
		img := image.NewGray16(image.Rect(0, 0, sceneW, sceneH))
		for y := range sceneH {
			for x := range sceneW {
				d := e.base
				if x >= rebate && y >= rebate && x < sceneW-rebate && y < sceneH-rebate {
					h := 0.0
					for _, o := range [2]float64{-0.3, 0.3} {
						h += exposure(discs, k, float64(x)-e.dx+o, float64(y)-e.dy+o) / 2
					}
					d = e.density(h)
				}
				d += 0.006 * rnd.NormFloat64()
				img.SetGray16(x, y, color.Gray16{Y: uint16(math.Round(65535 * math.Pow(10, -max(d, 0))))})
			}
		}
		files = append(files, plateOf(t, dir, [3]string{"red.png", "green.png", "blue.png"}[k], img))
	}
	return files
}

// chroma returns the mean chroma in CIELAB of the card's steps in a proof, over
// the middle of each.
func chroma(t *testing.T, file string) (mean float64) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	for i := range cardSteps {
		var rgb [3]float64
		n := 0.0
		for y := cardY + 9; y < cardY+cardStep-9; y++ {
			for x := cardX + i*cardStep + 9; x < cardX+(i+1)*cardStep-9; x++ {
				r, g, b, _ := img.At(x, y).RGBA()
				for k, v := range [3]uint32{r, g, b} {
					rgb[k] += spectrum.DecodeSRGB(float64(v) / 65535)
				}
				n++
			}
		}
		for k := range rgb {
			rgb[k] /= n
		}
		lab := spectrum.SRGBLab(rgb)
		mean += math.Hypot(lab[1], lab[2]) / cardSteps
	}
	return mean
}

// stepsOf names places in the middle of some steps of the card.
func stepsOf(steps ...int) string {
	var out []string
	for _, i := range steps {
		out = append(out, fmt.Sprintf("%d,%d", cardX+i*cardStep+cardStep/2, cardY+cardStep/2))
	}
	return strings.Join(out, ";")
}

// With greys pointed at, a card of ten steps comes out grey, in the reference and
// in the print, though every plate has an exposure and a γ of its own: mean
// chroma 1.0 at most. Without them it does not.
func TestNeutralsComeOutGrey(t *testing.T) {
	dir := t.TempDir()
	files := negatives(t, dir, unequalFilms)
	to := filepath.Join(dir, "proof.png")
	render := func(args ...string) string {
		t.Helper()
		var said bytes.Buffer
		if err := proof(append(append(args, "-overwrite", "-o", to), files...), &said, io.Discard); err != nil {
			t.Fatal(err)
		}
		return said.String()
	}
	const most = 1.0
	for _, c := range []struct {
		name string
		args []string
	}{
		{"all steps", []string{"-neutral", stepsOf(0, 1, 2, 3, 4, 5, 6, 7, 8, 9)}},
		{"five steps", []string{"-neutral", stepsOf(0, 2, 4, 7, 9)}},
		{"a line along the card", []string{"-scale", strings.Join([]string{stepsOf(0), stepsOf(9)}, ";")}},
		{"a line, its steps known", []string{"-scale", strings.Join([]string{stepsOf(9), stepsOf(0)}, ";"), "-step", "1.31,1.17,1.03,0.89,0.75,0.61,0.47,0.33,0.19,0.05"}},
	} {
		said := render(append(c.args, "-reference")...)
		if !strings.Contains(said, "Neutrals:") || !strings.Contains(said, "blue plate") {
			t.Errorf("%s: it does not say what the greys rest on: %s", c.name, said)
		}
		reference := chroma(t, to)
		render(c.args...)
		print := chroma(t, to)
		t.Logf("%s: reference %.2f, print %.2f", c.name, reference, print)
		if reference > most || print > most {
			t.Errorf("%s: mean chroma of the reference %.2f, of the print %.2f", c.name, reference, print)
		}
	}
	render("-reference", "-assume", "none")
	if without := chroma(t, to); without < 4 {
		t.Errorf("without greys the chroma is %.2f: these plates are too easy", without)
	}
}

func TestPlatesReport(t *testing.T) {
	dir := t.TempDir()
	files := negatives(t, dir, unequalFilms)
	var out bytes.Buffer
	if err := plates(append([]string{"-json", "-neutral", stepsOf(0, 2, 4, 6, 8, 9)}, files...), &out); err != nil {
		t.Fatal(err)
	}
	var r struct {
		Key    string
		Plates map[string]struct {
			Base     float64 `json:"base_fog"`
			From     string  `json:"base_fog_from"`
			Film     struct{ White, Black, Gamma float64 }
			Encoding string
		}
		Greys struct {
			Greys  []struct{ X, Y float64 }
			Plates [3]struct{ Slope, Stops float64 }
		}
		Proposed struct{ Steps []any } `json:"scale_proposed"`
		Light    struct {
			Estimates []struct{ ID string }
		}
		Fitness []struct{ About, Weight, Figure, Says string }
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatalf("%v in %s", err, out.String())
	}
	for k, name := range []string{"red", "green", "blue"} {
		p, e := r.Plates[name], unequalFilms[k]
		if math.Abs(p.Base-e.base) > 0.01 || p.From != "rebate" {
			t.Errorf("%s: base and fog %.3f from the %s, made with %.2f", name, p.Base, p.From, e.base)
		}
		// γ is known against the key's, which is assumed 0.8 and was made so
		if math.Abs(p.Film.Gamma-e.gamma) > 0.06 {
			t.Errorf("%s: γ %.3f, made with %.2f", name, p.Film.Gamma, e.gamma)
		}
	}
	if len(r.Greys.Greys) != 6 || len(r.Light.Estimates) != 3 || len(r.Fitness) < 30 {
		t.Errorf("%d greys, %d assumptions, %d findings", len(r.Greys.Greys), len(r.Light.Estimates), len(r.Fitness))
	}
	if n := len(r.Proposed.Steps); n < 9 || n > 10 {
		t.Errorf("a scale of %d steps is proposed", n)
	}
	out.Reset()
	if err := plates(files, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"from the rebate", "γ", "white patch", "grey edge", "-scale \"", "clipped ends", "encoding: linear"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// A file that is named for one filter and given as another is said, and so are
// mixed polarities.
func TestNamesAgainstPlaces(t *testing.T) {
	dir := t.TempDir()
	files := negatives(t, dir, unequalFilms)
	var out bytes.Buffer
	if err := registerPlates([]string{files[1], files[0], files[2]}, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"green.png is given as the red plate, but its name says green", "red.png is given as the green plate, but its name says red"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	out.Reset()
	if err := registerPlates(append([]string{"-json"}, files...), &out); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(out.String(), "is given as") || !strings.Contains(out.String(), `"notes"`) {
		t.Errorf("names that agree: %s", out.String())
	}
}

func TestLevelOptionsRefused(t *testing.T) {
	for _, args := range [][]string{
		{"-neutral", "12"}, {"-neutral", "12,x"}, {"-neutral", ";"}, {"-neutral", "NaN,3"}, {"-scale", "1,2"}, {"-scale", "1,2;3,4;5,6"},
		{"-neutral", "1,2", "-scale", "1,2;3,4"}, {"-step", "0.15"}, {"-scale", "1,2;3,4", "-step", "-1"}, {"-assume", "magic"},
		{"-encoding", "linear,sRGB"},
	} {
		var out, said bytes.Buffer
		if code := run(append(append([]string{"plates"}, args...), "a.tif", "b.tif", "c.tif"), &out, &said); code != 2 || said.Len() == 0 {
			t.Errorf("%q ends with %d and says %q", args, code, said.String())
		}
	}
}
