// Package flatbedtest makes up a workshop's test sheet and the flatbed that it is scanned on,
// for tests.
package flatbedtest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"threeply/proof/flatbed"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/scan"
	"threeply/proof/setter"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Workshop is one whose tissues differ in shape from a palette's, scatter a third or three
// times as much, and harden along curves of their own.
type Workshop struct {
	layers *stack.Layers
	begins [3]float64
}

// NewWorkshop is that of a palette.
func NewWorkshop(p pigment.Palette) *Workshop {
	r := stack.DefaultRecipe(p)
	r.Paper.R = spectrum.Sample(func(nm float64) float64 { return 0.88 - 0.11*math.Exp(-(nm-380)/45) })
	w := &Workshop{layers: r.Layers(), begins: [3]float64{-1.15, -1.4, -1.3}}
	for i, ci := range []string{"PY83", "PV19", "PB15:3"} {
		g, _ := pigment.PigmentByCI(ci)
		w.layers.K[i] = w.layers.K[i].Scale(0.7).Add(g.K().Scale(0.25))
		w.layers.S[i] = w.layers.S[i].Scale([3]float64{3, 1 / 3.0, 3}[i])
	}
	return w
}

// See is a patch of its sheet.
func (w *Workshop) See(p testsheet.Patch) spectrum.Curve {
	l := *w.layers
	if p.Ground == testsheet.Dark {
		for i := range l.Ground {
			l.Ground[i] = 0.08
		}
	}
	var t [3]float64
	for i, has := range p.Has {
		if u := p.LogE[i]/-w.begins[i] + 1; has && u > 0 { // a toe and a shoulder
			t[i] = u * (0.8 + 0.4*u - 0.2*u*u)
		}
	}
	return l.Reflectance(t)
}

// Glass is a scanner: broad bands that are no bells, leaks between its channels, flare, and a
// curve that is not that of its file.
type Glass struct {
	Fall    float64 // share of the light that is lost from the left of the glass to its right
	Quarter int     // turns of the chart, clockwise

	bands [3]spectrum.Curve
	noise float64
}

// NewGlass is one.
func NewGlass() *Glass {
	g := &Glass{noise: 0.002}
	status, _ := spectrum.StatusByID("T")
	bands := status.Weights()
	for ch, b := range bands {
		sum := 0.0
		for _, v := range b {
			sum += v
		}
		bands[ch] = b.Scale(1 / sum)
	}
	for ch := range g.bands {
		g.bands[ch] = bands[ch].Scale(0.88).Add(bands[(ch+1)%3].Scale(0.05)).Add(bands[(ch+2)%3].Scale(0.07))
	}
	return g
}

// light is what its channels give of a surface, before its curve.
func (g *Glass) light(r spectrum.Curve) (v [3]float64) {
	for ch, band := range g.bands {
		for i, w := range band {
			v[ch] += w * r[i]
		}
		v[ch] = [3]float64{0.9, 1, 0.85}[ch] * (0.985*v[ch] + 0.015)
	}
	return v
}

func (g *Glass) code(v float64) uint16 { return uint16(65535 * math.Pow(min(max(v, 0), 1), 1/2.0)) }

// Chart is a target of 24 patches, made up: greys and colours with smooth spectra.
func Chart() (refs []flatbed.Reference, spectra, labs string) {
	random := rand.New(rand.NewPCG(3, 3))
	light, _ := spectrum.LightByID("D50")
	var a, b strings.Builder
	a.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID")
	for nm := 380; nm <= 730; nm += 10 {
		fmt.Fprintf(&a, " SPECTRAL_NM%d", nm)
	}
	a.WriteString("\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	b.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	for i := range 24 {
		one := flatbed.Reference{ID: testsheet.ID(i/6, i%6), Row: i / 6, Col: i % 6}
		grey := []float64{0.9, 0.6, 0.35, 0.19, 0.09, 0.03}[i%6]
		middle, wide, up := 420+260*random.Float64(), 25+45*random.Float64(), random.IntN(2)
		one.R = spectrum.Sample(func(nm float64) float64 {
			if i >= 18 {
				return grey
			}
			edge := 1 / (1 + math.Exp(-(nm-middle)/wide*2))
			bell := math.Exp(-(nm - middle) * (nm - middle) / 2 / wide / wide)
			return 0.06 + 0.6*[2]float64{edge, bell}[up]
		})
		refs = append(refs, one)
		a.WriteString(one.ID)
		for nm := 380; nm <= 730; nm += 10 {
			fmt.Fprintf(&a, " %.4f", one.R[(nm-380)/5])
		}
		lab := light.Lab(one.R)
		fmt.Fprintf(&b, "%s %.2f %.2f %.2f\n", one.ID, lab[0], lab[1], lab[2])
		a.WriteString("\n")
	}
	a.WriteString("END_DATA\n")
	b.WriteString("END_DATA\n")
	return refs, a.String(), b.String()
}

// Scanned is a scan of the workshop's sheet, turned by an angle, with the chart below it; the
// corners are those of the chart.
func (g *Glass) Scanned(w *Workshop, sheet testsheet.Sheet, refs []flatbed.Reference, ppi, degrees float64) (*scan.Scan, [3][2]float64) {
	random := rand.New(rand.NewPCG(5, 5))
	mm := ppi / 25.4
	const wide, sheetHigh, chartHigh = 190.0, 175.0, 92.0
	s := &scan.Scan{Name: "sheet.tif", Kind: scan.TIFF, W: int(wide * mm), H: int((sheetHigh + chartHigh) * mm), Bits: 16, Channels: 3, PPI: ppi, PPIDown: ppi, Encoding: "gamma 2.2"}
	curve := make(scan.Curve, 65536)
	for i := range curve {
		curve[i] = float32(math.Pow(float64(i)/65535, 2.2))
	}
	for range 3 {
		s.Planes, s.Curves = append(s.Planes, plane.New(s.W, s.H)), append(s.Curves, curve)
	}
	marks, middle := setter.TestPlaces(sheet)
	lights := map[[2]int][3]float64{}
	for _, p := range sheet.Patches {
		lights[[2]int{p.Row, p.Col}] = g.light(w.See(p))
	}
	paper := g.light(w.See(testsheet.Patch{Ground: testsheet.White}))
	black := g.light(w.See(testsheet.Patch{Ground: testsheet.White, Has: [3]bool{true, true, true}}))
	lid := [3]float64{0.8, 0.9, 0.75}
	end := middle(testsheet.Patch{Row: sheet.Rows, Col: sheet.Cols})
	width, height := end[0]-middle(testsheet.Patch{})[0], end[1]-middle(testsheet.Patch{})[1]
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	at := func(x, y float64) [3]float64 { // mm of the scan
		if y > sheetHigh {
			p, q := x/15, (y-sheetHigh)/15
			u, v := [4]float64{p, q, 6 - p, 6 - q}[g.Quarter], [4]float64{q, 4 - p, 4 - q, p}[g.Quarter]
			if i := int(v)*6 + int(u); u >= 0 && v >= 0 && u < 6 && v < 4 && math.Abs(u-math.Floor(u)-0.5) < 0.42 && math.Abs(v-math.Floor(v)-0.5) < 0.42 {
				return g.light(refs[i].R)
			}
			return lid
		}
		x, y = x-wide/2, y-sheetHigh/2
		u, v := cos*x+sin*y+width/2, -sin*x+cos*y+height/2
		if u < -20 || v < -20 || u > width+20 || v > height+20 {
			return lid
		}
		for _, m := range marks {
			du, dv := math.Abs(u-m[0]), math.Abs(v-m[1])
			if r := math.Hypot(du, dv); math.Abs(r-setter.MarkRing) < 0.1 || min(du, dv) < 0.1 && r < setter.MarkArm {
				return black
			}
		}
		row, col := int(math.Floor(v/10)), int(math.Floor(u/10))
		if one, ok := lights[[2]int{row, col}]; ok {
			if m := middle(testsheet.Patch{Row: row, Col: col}); math.Abs(u-m[0]) < setter.PatchSide/2 && math.Abs(v-m[1]) < setter.PatchSide/2 {
				return one
			}
		}
		return paper
	}
	for y := range s.H {
		for x := range s.W {
			// Lines are finer than a pixel: four points of it.
			var sum [3]float64
			lit := 1 - g.Fall*float64(x)/float64(s.W)
			for k := range 4 {
				for ch, v := range at((float64(x)+0.25+0.5*float64(k%2))/mm, (float64(y)+0.25+0.5*float64(k/2))/mm) {
					sum[ch] += v / 4
				}
			}
			for ch, v := range sum {
				s.Planes[ch].Pix[y*s.W+x] = g.code(lit*v + g.noise*random.NormFloat64())
			}
		}
	}
	px := func(col, row float64) [2]float64 {
		u, v := col+0.5, row+0.5
		x, y := [4]float64{u, 4 - v, 6 - u, v}[g.Quarter], [4]float64{v, u, 4 - v, 6 - u}[g.Quarter]
		return [2]float64{15*x*mm - 0.5, (sheetHigh+15*y)*mm - 0.5}
	}
	return s, [3][2]float64{px(0, 0), px(5, 0), px(5, 3)}
}
