package flatbed

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"threeply/proof/scan"
	"threeply/proof/setter"
	"threeply/proof/testsheet"
)

// How marks are looked for.
const (
	perMM      = 4.0  // pixels a mm of the picture that is searched
	ringPoints = 24   // about a ring
	mostSeen   = 80   // places that may be marks
	scaleSlack = 0.03 // by which sheet or scanner may be longer than they say
	reachMM    = 1.5  // from where a mark is awaited
	leastMarks = 5    // of eight
	leastRing  = 0.03 // by how much a ring is darker than what lies beside it, as a share of the light
)

// place takes mm of the sheet to pixels of the scan.
type place struct{ a, b, c, d, e, f float64 } // x = a u + b v + c, y = d u + e v + f

func (p place) at(u, v float64) (x, y float64) { return p.a*u + p.b*v + p.c, p.d*u + p.e*v + p.f }

// turned is the place of a sheet of w × h mm that lies upside down where p has it.
func (p place) turned(w, h float64) place {
	return place{-p.a, -p.b, p.c + p.a*w + p.b*h, -p.d, -p.e, p.f + p.d*w + p.e*h}
}

// mirrored is the place of a sheet w mm wide whose left lies right of where p has it.
func (p place) mirrored(w float64) place {
	return place{-p.a, p.b, p.c + p.a*w, -p.d, p.e, p.f + p.d*w}
}

// pixelsPerMM is the scale.
func (p place) pixelsPerMM() float64 { return math.Sqrt(math.Abs(p.a*p.e - p.b*p.d)) }

// locate finds the sheet by its marks. Which way up it lies the marks do not tell: the place is
// one of two.
func locate(s *scan.Scan, sheet testsheet.Sheet) (place, error) {
	if s.PPI <= 0 {
		return place{}, fmt.Errorf("the scan does not say its resolution; save it with the resolution that it was scanned at")
	}
	small := shrunken(s)
	seen := small.rings()
	marks, _ := setter.TestPlaces(sheet)
	var best place
	var found [][2]int // mark, place
	for i := range seen {
		for j := range seen {
			p, ok := small.laid(marks[0], marks[2], seen[i], seen[j])
			if !ok {
				continue
			}
			if pairs := p.pairs(marks, seen); len(pairs) > len(found) {
				best, found = p, pairs
			}
		}
	}
	if len(found) < leastMarks {
		return place{}, fmt.Errorf("only %d of the sheet's %d register marks are found at %.0f pixels an inch, as the file says; if it is the test sheet, and was scanned so, scan the whole sheet, marks and all, flat on the glass, at 150 to 600 pixels an inch", len(found), len(marks), s.PPI)
	}
	// The best affine map of these marks.
	best = solved(marks, seen, found)
	k := small.each
	return place{best.a * k, best.b * k, best.c*k + (k-1)/2, best.d * k, best.e * k, best.f*k + (k-1)/2}, nil
}

// picture is the light of a scan, 0 to 1, made smaller.
type picture struct {
	w, h  int
	each  float64 // pixels of the scan a pixel
	mm    float64 // pixels a mm
	light []float32
}

// shrunken averages the scan's green light over whole blocks.
func shrunken(s *scan.Scan) *picture {
	channel := len(s.Planes) / 2
	n := max(int(s.PPI/25.4/perMM+0.5), 1)
	p := &picture{w: s.W / n, h: s.H / n, each: float64(n), mm: s.PPI / 25.4 / float64(n)}
	p.light = make([]float32, p.w*p.h)
	for y := range p.h {
		row := p.light[y*p.w : (y+1)*p.w]
		for dy := range n {
			for x, code := range s.Planes[channel].Row(y*n + dy)[:p.w*n] {
				row[x/n] += s.Curves[channel][code]
			}
		}
		for x := range row {
			row[x] /= float32(n * n)
		}
	}
	return p
}

// rings are places where a ring of a mark's size is darker than what lies inside and outside
// of it, the clearest first.
func (p *picture) rings() [][2]float64 {
	type ring struct {
		x, y int
		dark float64
	}
	around := func(mm float64) (at []int) {
		for k := range ringPoints {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / ringPoints)
			at = append(at, int(math.Round(mm*p.mm*sin))*p.w+int(math.Round(mm*p.mm*cos)))
		}
		return at
	}
	in, on, out := around(0.68*setter.MarkRing), around(setter.MarkRing), around(1.35*setter.MarkRing)
	edge := int(math.Ceil(1.35*setter.MarkRing*p.mm)) + 1
	score := make([]float64, p.w*p.h)
	var all []ring
	for y := edge; y < p.h-edge; y++ {
		for x := edge; x < p.w-edge; x++ {
			at := y*p.w + x
			var dark, beside float32
			for k := range ringPoints {
				dark += p.light[at+on[k]]
				beside += p.light[at+in[k]] + p.light[at+out[k]]
			}
			score[at] = float64(beside/2-dark) / ringPoints
		}
	}
	for y := edge + 1; y < p.h-edge-1; y++ {
		for x := edge + 1; x < p.w-edge-1; x++ {
			v := score[y*p.w+x]
			if v < leastRing {
				continue
			}
			peak := true
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					peak = peak && score[(y+dy)*p.w+x+dx] <= v
				}
			}
			if peak {
				all = append(all, ring{x, y, v})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b ring) int { return cmp.Compare(b.dark, a.dark) })
	var seen [][2]float64
	for _, r := range all {
		near := slices.ContainsFunc(seen, func(s [2]float64) bool {
			return math.Hypot(s[0]-float64(r.x), s[1]-float64(r.y)) < 1.5*setter.MarkRing*p.mm
		})
		if !near {
			seen = append(seen, [2]float64{float64(r.x), float64(r.y)})
		}
		if len(seen) == mostSeen {
			break
		}
	}
	return seen
}

// laid is the sheet as two of its marks would have it, turned and enlarged only; ok is false
// where they lie too near or too far.
func (p *picture) laid(m, n, at, to [2]float64) (place, bool) {
	u, v := n[0]-m[0], n[1]-m[1]
	x, y := to[0]-at[0], to[1]-at[1]
	scale := math.Hypot(x, y) / math.Hypot(u, v)
	if math.Abs(scale/p.mm-1) > scaleSlack {
		return place{}, false
	}
	square := u*u + v*v
	cos, sin := (x*u+y*v)/square, (y*u-x*v)/square
	return place{cos, -sin, at[0] - cos*m[0] + sin*m[1], sin, cos, at[1] - sin*m[0] - cos*m[1]}, true
}

// pairs are the marks that lie where p has them, each with the nearest place.
func (p place) pairs(marks, seen [][2]float64) (out [][2]int) {
	for i, m := range marks {
		x, y := p.at(m[0], m[1])
		best, far := -1, reachMM*p.pixelsPerMM()
		for j, s := range seen {
			if d := math.Hypot(s[0]-x, s[1]-y); d < far {
				best, far = j, d
			}
		}
		if best >= 0 {
			out = append(out, [2]int{i, best})
		}
	}
	return out
}
