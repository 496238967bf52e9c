package export

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"threeply/proof/label"
	"threeply/proof/picture/picturetest"
	"threeply/proof/render"
	"threeply/proof/spectrum"
)

// ink is a picture of letters: 0 for paper, 1 for full ink.
type ink struct {
	w, h int
	at   []float64
}

func newInk(w, h int) ink { return ink{w, h, make([]float64, w*h)} }

func (k ink) sum() (sum float64) {
	for _, v := range k.at {
		sum += v
	}
	return sum
}

// typesetter draws letters from their outlines, by the rule of the winding number at points
// of a fine grid: nothing of it is what draws the margins.
type typesetter struct {
	t    *testing.T
	font *sfnt.Font
	ppem fixed.Int26_6
	buf  sfnt.Buffer
}

func newTypesetter(t *testing.T, ttf []byte, size float64) *typesetter {
	t.Helper()
	f, err := sfnt.Parse(ttf)
	if err != nil {
		t.Fatal(err)
	}
	return &typesetter{t: t, font: f, ppem: fixed.Int26_6(math.Round(64 * size))}
}

// place calls each with the letters of a text and where each begins, and gives its width.
func (y *typesetter) place(s string, each func(i sfnt.GlyphIndex, x float64)) float64 {
	x, last := 0.0, sfnt.GlyphIndex(0)
	for n, r := range []rune(s) {
		i, err := y.font.GlyphIndex(&y.buf, r)
		if err != nil || i == 0 {
			y.t.Fatalf("the font has no “%c” (%v)", r, err)
		}
		if k, err := y.font.Kern(&y.buf, last, i, y.ppem, font.HintingNone); n > 0 && err == nil {
			x += float64(k) / 64
		}
		each(i, x)
		wide, err := y.font.GlyphAdvance(&y.buf, i, y.ppem, font.HintingNone)
		if err != nil {
			y.t.Fatal(err)
		}
		x, last = x+float64(wide)/64, i
	}
	return x
}

// wrap parts a text into lines of a width.
func (y *typesetter) wrap(s string, width int) (lines []string) {
	for _, word := range strings.Fields(s) {
		if n := len(lines); n > 0 && y.place(lines[n-1]+" "+word, func(sfnt.GlyphIndex, float64) {}) <= float64(width) {
			lines[n-1] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// line draws a text; its baseline is at a height of two thirds, and by a part of a pixel below.
func (y *typesetter) line(s string, below float64) ink {
	high := int(2 * float64(y.ppem) / 64)
	out := newInk(int(y.place(s, func(sfnt.GlyphIndex, float64) {}))+2, high)
	base := float64(high*2/3) + below
	y.place(s, func(i sfnt.GlyphIndex, x float64) {
		segments, err := y.font.LoadGlyph(&y.buf, i, y.ppem, nil)
		if err != nil {
			y.t.Fatal(err)
		}
		out.fill(outline(segments, x, base))
	})
	return out
}

// outline is that of a letter, in straight pieces.
func outline(segments sfnt.Segments, x, base float64) (out [][4]float64) {
	at := func(p fixed.Point26_6) [2]float64 {
		return [2]float64{x + float64(p.X)/64, base + float64(p.Y)/64}
	}
	var from, begin [2]float64
	to := func(p [2]float64) {
		out, from = append(out, [4]float64{from[0], from[1], p[0], p[1]}), p
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			to(begin)
			from, begin = at(s.Args[0]), at(s.Args[0])
		case sfnt.SegmentOpLineTo:
			to(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := from, at(s.Args[0]), at(s.Args[1])
			for k := 1.0; k <= 8; k++ {
				u := k / 8
				to([2]float64{(1-u)*(1-u)*a[0] + 2*u*(1-u)*b[0] + u*u*c[0], (1-u)*(1-u)*a[1] + 2*u*(1-u)*b[1] + u*u*c[1]})
			}
		}
	}
	to(begin)
	return out
}

// fill inks what has a winding number other than 0, on a grid of 4 × 4 points a pixel.
func (k ink) fill(edges [][4]float64) {
	const fine = 4
	left, right := float64(k.w), 0.0
	for _, e := range edges {
		if e != ([4]float64{}) && e[2] != 0 {
			left, right = min(left, e[2]), max(right, e[2])
		}
	}
	for row := range k.h * fine {
		y := (float64(row) + 0.5) / fine
		for col := int(fine * max(left-1, 0)); col < min(k.w*fine, int(fine*(right+1))); col++ {
			x, winds := (float64(col)+0.5)/fine, 0
			for _, e := range edges {
				if (e[1] <= y) == (e[3] <= y) || e[0]+(y-e[1])/(e[3]-e[1])*(e[2]-e[0]) <= x {
					continue
				}
				if e[1] < e[3] {
					winds++
				} else {
					winds--
				}
			}
			if winds != 0 {
				k.at[row/fine*k.w+col/fine] += 1.0 / fine / fine
			}
		}
	}
}

// found is the best likeness of a line to what stands in a picture from a column on, 1 where the
// two are the same up to a factor, and how far down it lies: at one of so many rows from a row on.
func (k ink) found(y *typesetter, line string, x, from, rows int) (best float64, at int, letters ink) {
	for below := 0.0; below < 1; below += 0.25 {
		drawn := y.line(line, below)
		for row := max(from, 0); row < min(from+rows, k.h-drawn.h); row++ {
			var ab, aa, bb float64
			for j := drawn.h / 4; j < drawn.h*3/4; j++ { // lines above and below reach in
				for i := range drawn.w {
					a, b := drawn.at[j*drawn.w+i], k.at[(row+j)*k.w+x+i]
					ab, aa, bb = ab+a*b, aa+a*a, bb+b*b
				}
			}
			if like := ab / math.Sqrt(aa*bb); like > best {
				best, at, letters = like, row, drawn
			}
		}
	}
	return best, at, letters
}

// What stands on a proof's margin can be read in the file: its letters are those of the title and
// of all that the file says of itself, line by line, as another hand draws them from the same
// outlines, and no ink lies there beside them.
func TestMarginCanBeRead(t *testing.T) {
	s, planes := picturetest.Patches()
	s.Title, s.Identity.Number = "Quay at noon", "K 1934.7"
	p, err := NewProof(&s, planes, render.Print, spectrum.SRGB, label.Made{Tool: "Threeply"})
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Mount(); err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := p.WritePNG(&file); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	w := p.w
	edge := (img.Bounds().Dx() - w) / 2
	below := image.Rect(0, edge+p.h, img.Bounds().Dx(), img.Bounds().Dy())
	darkest := 255.0
	const more = 20 // rows of paper above, into which the first line's box reaches
	margin := newInk(below.Dx(), more+below.Dy())
	for y := more; y < margin.h; y++ {
		for x := range margin.w {
			r, _, _, _ := img.At(x, below.Min.Y+y-more).RGBA()
			margin.at[y*margin.w+x] = 1 - float64(r>>8)/255
			darkest = min(darkest, float64(r>>8))
		}
	}
	// Web Content Accessibility Guidelines 2.2, 1.4.6: a contrast of 7 to 1; relative luminance as
	// defined there.
	if contrast := 1.05 / (math.Pow((darkest/255+0.055)/1.055, 2.4) + 0.05); contrast < 7 {
		t.Errorf("the letters have a contrast of %.1f to 1", contrast)
	}

	const high = leastLetters // the proof is small
	bold, regular := newTypesetter(t, gobold.TTF, 1.25*high), newTypesetter(t, goregular.TTF, high)
	last, all := -1, 0.0
	read := func(y *typesetter, line string) {
		t.Helper()
		like, at, letters := margin.found(y, line, edge, last+1, 24)
		if like < 0.97 {
			t.Errorf("“%s” is like what stands there by %.3f only", line, like)
		}
		backwards := []rune(line)
		slices.Reverse(backwards)
		if other, _, _ := margin.found(y, string(backwards), edge, at, 1); other > 0.85 {
			t.Errorf("“%s” read backwards is like it too, by %.3f", line, other)
		}
		last, all = at, all+letters.sum()
	}
	about := p.About()
	for _, want := range []string{"Estimate", "Clear arylide"} {
		if !strings.Contains(about, want) {
			t.Errorf("the file does not say %q: %s", want, about)
		}
	}
	for _, line := range bold.wrap("Quay at noon · K 1934.7", w) {
		read(bold, line)
	}
	for _, line := range regular.wrap(about, w) {
		read(regular, line)
	}
	if got, want := margin.sum(), all*(1-inkCode/255.0); math.Abs(got/want-1) > 0.03 {
		t.Errorf("the margin holds ink of %.1f pixels, the words %.1f", got, want)
	}
}
