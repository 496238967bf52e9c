package plate

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"threeply/proof/density"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// sceneCodes paints an invented landscape as density codes of a positive: a
// bright smooth sky, a dark rough ground, a house with a white wall. seed
// moves the house and changes the noise.
func sceneCodes(w, h int, seed uint64) *plane.Plane {
	r := rand.New(rand.NewPCG(seed, 7))
	p := plane.New(w, h)
	houseX := w/4 + r.IntN(w/4)
	for y := range h {
		for x := range w {
			sky := float64(y) / float64(h)
			t := 0.75 - 0.3*sky
			if sky > 0.45+0.05*math.Sin(float64(x)/25) {
				t = 0.16 * math.Exp(0.7*r.NormFloat64())
			}
			if x > houseX && x < houseX+w/5 && y > h/3 && y < h*2/3 {
				t = 0.9
				if (x/9+y/9)%5 == 0 {
					t = 0.03
				}
			}
			p.Pix[y*w+x] = density.Code(-math.Log10(min(max(t, 0.002), 1)))
		}
	}
	return p
}

// filmed gives the negative that a film makes of a positive's densities: a
// straight line of slope gamma with a toe, on base and fog.
//
//	D = fog + γ · log10(1 + (H·10^speed)³) / 3
func filmed(p *plane.Plane, gamma, fog, speed float64) *plane.Plane {
	return mapped(p, func(d float64) float64 {
		logH := math.Log10(math.Pow(10, -d)+0.003) + speed
		return fog + gamma*math.Log10(1+math.Pow(10, 3*logH))/3
	})
}

// mapped puts every density of p through f, to the nearest 16th code.
func mapped(p *plane.Plane, f func(density float64) float64) *plane.Plane {
	var table [4096]uint16
	for i := range table {
		table[i] = density.Code(f(density.Of(uint16(16*i + 8))))
	}
	q := plane.New(p.W, p.H)
	for i, code := range p.Pix {
		q.Pix[i] = table[code>>4]
	}
	return q
}

// framed puts a border of the given density around p, and a margin of density
// 0.01 around that.
func framed(p *plane.Plane, left, top, right, bottom int, around float64) *plane.Plane {
	q := plane.New(p.W+left+right, p.H+top+bottom)
	for y := range q.H {
		for x := range q.W {
			code := density.Code(around)
			if x < left/3 || y < top/3 || x >= q.W-right/3 || y >= q.H-bottom/3 {
				code = density.Code(0.01)
			}
			if x >= left && y >= top && x < left+p.W && y < top+p.H {
				code = p.At(x-left, y-top)
			}
			q.Pix[y*q.W+x] = code
		}
	}
	return q
}

// pngOf writes a density plane as a linear 16-bit grey PNG.
func pngOf(t *testing.T, p *plane.Plane) scan.Bytes {
	t.Helper()
	img := image.NewGray16(image.Rect(0, 0, p.W, p.H))
	for i, code := range p.Pix {
		img.SetGray16(i%p.W, i/p.W, color.Gray16{Y: uint16(math.Round(65535 * math.Pow(10, -density.Of(code))))})
	}
	return encoded(t, img)
}

func encoded(t *testing.T, img image.Image) scan.Bytes {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// shared returns the pictures of a folder of the plates and photographs that
// lie beside the checkout, or skips.
func shared(t *testing.T, folder string) []string {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", folder, "*.*g"))
	if len(files) == 0 {
		t.Skipf("SKIPPED: no pictures in ../shared/%s beside the checkout; this test needs them", folder)
	}
	return files
}

// openedFiles are the files of sets that tests have opened, each once.
var openedFiles = map[string]*Set{}

// openFile opens a set of one file and reduces its planes.
func openFile(t *testing.T, file string, opt Options) *Set {
	t.Helper()
	if set := openedFiles[file]; set != nil {
		return set
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	set, err := Open([]File{{Name: filepath.Base(file), Data: scan.Bytes(data)}}, opt, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range set.Density {
		set.Density[i] = reduced(p)
	}
	openedFiles[file] = set
	return set
}

// reduced gives a plane of at most 640 pixels across.
func reduced(p *plane.Plane) *plane.Plane {
	levels := p.Pyramid(640)
	return levels[len(levels)-1]
}
