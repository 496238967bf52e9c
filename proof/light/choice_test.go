package light

import (
	"image"
	"image/draw"
	_ "image/jpeg"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/overlay"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/plate/platetest"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// shared holds real plates and photographs on some machines; tests that read
// it skip where it is missing.
const shared = "../../../shared"

// crops are the whole of a picture, its quarters and its middle.
func crops(p *Picture) []*Picture {
	out := []*Picture{p}
	w, h := p.W/2, p.H/2
	for _, at := range [5][2]int{{0, 0}, {w, 0}, {0, h}, {w, h}, {w / 2, h / 2}} {
		q := &Picture{W: w, H: h}
		for y := range h {
			from := (at[1]+y)*p.W + at[0]
			q.Use = append(q.Use, p.Use[from:from+w]...)
			for i := range q.Exposure {
				q.Exposure[i] = append(q.Exposure[i], p.Exposure[i][from:from+w]...)
			}
		}
		out = append(out, q)
	}
	return out
}

// apart is the root mean square difference of two lights on the red and the
// blue plate, in stops.
func apart(a, b Light) float64 {
	s, t := a.Stops(), b.Stops()
	return math.Sqrt(((s[0]-t[0])*(s[0]-t[0]) + (s[2]-t[2])*(s[2]-t[2])) / 2)
}

// development is how a photograph is made into negatives: what each plate gets
// of the light, and its γ. The estimate knows of neither.
type development struct {
	light Light
	gamma [3]float64
}

var developments = []development{
	{Light{1, 1, 1}, [3]float64{0.8, 0.8, 0.8}},
	{Light{1.5, 1, 0.7}, [3]float64{0.8, 0.8, 0.8}},
	{Light{1.5, 1, 0.7}, [3]float64{0.88, 0.8, 0.72}},
	{Light{0.7, 1, 1.6}, [3]float64{0.74, 0.8, 0.84}},
}

// photoErrors is how far the estimates lie from the light that photographs were
// developed in: those of a photograph that is balanced by its camera, put
// through unequal films. By γ unknown a light is right for one tone only, here
// for 18 % grey.
func photoErrors(t *testing.T, a []Assumption) []float64 {
	names, err := filepath.Glob(filepath.Join(shared, "photos", "*.*"))
	if err != nil || len(names) == 0 {
		t.Skip("the shared photographs are not on this machine, nothing is tested here")
	}
	sum, n := make([]float64, len(a)), 0.0
	for _, name := range names {
		linear := photo(t, name)
		for _, d := range developments {
			p := &overlay.Plates{Key: 1, Ways: [3]overlay.Way{affine.Identity.Apply, affine.Identity.Apply, affine.Identity.Apply}}
			var films [3]tone.Film
			var truth Light
			for i := range p.Planes {
				dense := func(v float64) float64 { return 0.3 + max(d.gamma[i]*(math.Log10(max(v*d.light[i], 1e-5))+1.9), 0) }
				p.Planes[i] = plane.New(linear.w, linear.h)
				for j, v := range linear.pix[i] {
					p.Planes[i].Pix[j] = density.Code(dense(v))
					if v > 0.98 { // the photograph clips: let the scan do so too
						p.Planes[i].Pix[j] = 65535
					}
				}
				var s plate.Source
				s.Measure(p.Planes[i])
				films[i] = tone.Film{Negative: true, White: s.Max, Black: 0.3, Gamma: 0.8}
				truth[i] = math.Pow(10, films[i].LogExposure(dense(0.18)))
			}
			for _, c := range crops(Gather(p, films, [3]float64{0.3, 0.3, 0.3})) {
				n++
				for k := range a {
					if l, ok := a[k].Estimate(c); ok {
						sum[k] += apart(l, truth)
					} else {
						sum[k] += 1
					}
				}
			}
		}
	}
	for k := range sum {
		sum[k] /= n
	}
	return sum
}

type picture struct {
	w, h int
	pix  [3][]float64 // linear
}

// photo reads a photograph, reduced by whole blocks to Side and less.
func photo(t *testing.T, name string) picture {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	var table [256]float64
	for i := range table {
		table[i] = spectrum.DecodeSRGB(float64(i) / 255)
	}
	b := img.Bounds()
	plain := image.NewRGBA(b)
	draw.Draw(plain, b, img, b.Min, draw.Src)
	step := (max(b.Dx(), b.Dy()) + Side - 1) / Side
	out := picture{w: b.Dx() / step, h: b.Dy() / step}
	for y := range out.h {
		for x := range out.w {
			var sum [3]float64
			for j := range step {
				for i := range step {
					c := plain.RGBAAt(b.Min.X+x*step+i, b.Min.Y+y*step+j)
					for k, v := range [3]uint8{c.R, c.G, c.B} {
						sum[k] += table[v]
					}
				}
			}
			for k, v := range sum {
				out.pix[k] = append(out.pix[k], v/float64(step*step))
			}
		}
	}
	return out
}

// plateErrors is how far the estimates from parts of real plates lie from those
// of the whole: c. 1905 to 1915, Library of Congress, Prints & Photographs
// Division, Prokudin-Gorskii Collection, in the register of
// shared/plates/registration.csv.
func plateErrors(t *testing.T, a []Assumption) []float64 {
	folder := filepath.Join(shared, "plates")
	sum, n := make([]float64, len(a)), 0.0
	for _, real := range platetest.Sure(platetest.Sets(t, folder)) {
		set := real.Open(t, folder)
		p := &overlay.Plates{Key: 1, Ways: [3]overlay.Way{real.Known[filter.Red].Map.Apply, affine.Identity.Apply, real.Known[filter.Blue].Map.Apply}}
		var films [3]tone.Film
		for _, f := range filter.All {
			source, density := set.Plate(f)
			p.Planes[f], p.Areas[f] = density, source.Area
			films[f] = tone.Film{White: source.Base, Black: source.Max, Gamma: 1}
		}
		parts := crops(Gather(p, films, [3]float64{-1, -1, -1}))
		for k := range a {
			whole, ok := a[k].Estimate(parts[0])
			for _, c := range parts[1:] {
				l, fits := a[k].Estimate(c)
				if ok && fits {
					sum[k] += apart(l, whole) / 5
				} else {
					sum[k] += 1.0 / 5
				}
			}
		}
		n++
	}
	for k := range sum {
		sum[k] /= n
	}
	t.Logf("%.0f sets of plates", n)
	return sum
}

// TestWhichAssumption decides the default by two figures, both in stops of one
// plate against the green one: how far an assumption lies from the light that
// is known of photographs (and of their quarters and middles) made into
// negatives of unequal exposure and γ, and how far what it makes of parts of real
// plates lies from what it makes of the whole. The smaller sum is the default.
func TestWhichAssumption(t *testing.T) {
	all := Assumptions()
	photos, plates := photoErrors(t, all), plateErrors(t, all)
	best := 0
	for k, a := range all {
		t.Logf("%-12s photographs %.3f, plates %.3f, together %.3f", a.Name, photos[k], plates[k], photos[k]+plates[k])
		if photos[k]+plates[k] < photos[best]+plates[best] {
			best = k
		}
	}
	if all[best].ID != Default {
		t.Errorf("%s does best here, and the default is %s", all[best].Name, Default)
	}
}
