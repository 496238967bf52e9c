package flatbed

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/scan"
	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// How a target is looked for.
const (
	leastPitch, mostPitch = 4.0, 30.0 // mm from patch to patch
	coarseStep            = 3.0       // places a patch
	coarsePatches         = 40        // that a place is first judged by
	insidePatch           = 0.75      // part of a patch's pitch that is alike within
	sureOfTarget          = 0.9       // correlation of light and reference from which on a place is believed,
	clearlyTarget         = 0.04      // where no other place comes as near to it
	besideSheet           = 13.0      // mm about the patches of the sheet, where its marks lie
	leastSeenLight        = 1e-3
	mostGuesses           = 6
	finer                 = 2.5 // pixels a mm where its place is settled; 1 where it is looked for
)

// Found is where a target seems to lie.
type Found struct {
	Corners [3][2]float64 // as Target.Corners
	Like    float64       // correlation of light and reference, 1 at most
	Sure    bool          // it can be believed without asking
}

// Find looks for a target on a scan, outside of the sheet where that is known: the regular grid of
// its rows and columns, upright or turned by quarters and a little askew, on which the light of
// the scan goes most together with the reference values. ok is false where there is no room for it.
func (t *Target) Find(s *scan.Scan, sheet *Lying) (found Found, ok bool) {
	perMM := 25.4
	if s.PPI > 0 {
		perMM = s.PPI
	}
	perMM /= 25.4
	small := densitiesOf(s, max(int(perMM+0.5), 1))
	mm := perMM / small.each
	few := t.few()
	want := t.expected()
	type guess struct {
		g           grid
		like, score float64
	}
	var best []guess
	keep := func(g grid, like float64) {
		near := func(o guess) bool {
			return math.Hypot(o.g.x-g.x, o.g.y-g.y) < 0.7*g.pitch() && o.g.ax*g.ax+o.g.ay*g.ay > 0
		}
		if i := slices.IndexFunc(best, near); i >= 0 {
			if best[i].like >= like {
				return
			}
			best = slices.DeleteFunc(best, near)
		}
		best = append(best, guess{g: g, like: like})
		slices.SortStableFunc(best, func(a, b guess) int { return cmp.Compare(b.like, a.like) })
		best = best[:min(len(best), mostGuesses)]
	}
	side := float64(max(t.Rows, t.Cols))
	for pitch := leastPitch * mm; pitch <= mostPitch*mm; pitch *= 1 + 1/(1.5*side) {
		for _, turn := range [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
			g := grid{ax: pitch * turn[0], ay: pitch * turn[1], dx: -pitch * turn[1], dy: pitch * turn[0]}
			// How far the grid reaches from its first patch.
			w, h := g.ax*float64(t.Cols-1)+g.dx*float64(t.Rows-1), g.ay*float64(t.Cols-1)+g.dy*float64(t.Rows-1)
			half := pitch / 2
			for g.y = half + max(-h, 0); g.y <= float64(small.h)-half-max(h, 0); g.y += pitch / coarseStep {
				for g.x = half + max(-w, 0); g.x <= float64(small.w)-half-max(w, 0); g.x += pitch / coarseStep {
					if sheet != nil && sheet.covers(g, t, small) {
						continue
					}
					if like := small.like(g, t, few, want); len(best) < mostGuesses || like > best[len(best)-1].like {
						keep(g, like)
					}
				}
			}
		}
	}
	if len(best) == 0 {
		return found, false
	}
	small = densitiesOf(s, max(int(perMM/finer+0.5), 1))
	for i := range best {
		best[i].g, best[i].like, best[i].score = small.settled(best[i].g.scaled(mm, perMM/small.each), t, want)
	}
	slices.SortStableFunc(best, func(a, b guess) int { return cmp.Compare(b.score, a.score) })
	g, k := best[0].g, small.each
	at := func(col, row int) [2]float64 {
		x, y := g.at(float64(col), float64(row))
		return [2]float64{x*k + (k-1)/2, y*k + (k-1)/2}
	}
	found = Found{Corners: [3][2]float64{at(0, 0), at(t.Cols-1, 0), at(t.Cols-1, t.Rows-1)}, Like: best[0].like}
	found.Sure = found.Like >= sureOfTarget
	for _, other := range best[1:] {
		apart := math.Hypot(other.g.x-g.x, other.g.y-g.y) > 0.5*g.pitch()
		found.Sure = found.Sure && !(apart && other.like > found.Like-clearlyTarget)
	}
	return found, true
}

// grid is where a target's patches lie in a picture: the first of them, and the ways to the next
// column and to the next row.
type grid struct{ x, y, ax, ay, dx, dy float64 }

func (g grid) at(col, row float64) (x, y float64) {
	return g.x + g.ax*col + g.dx*row, g.y + g.ay*col + g.dy*row
}

// scaled takes the grid from a picture of so many pixels a mm to one of others.
func (g grid) scaled(from, to float64) grid {
	k := to / from
	return grid{(g.x+0.5)*k - 0.5, (g.y+0.5)*k - 0.5, g.ax * k, g.ay * k, g.dx * k, g.dy * k}
}

func (g grid) pitch() float64 { return math.Hypot(g.ax, g.ay) }

// few are patches of a target, by their places in Patches, that a place is first judged by.
func (t *Target) few() (out []int) {
	step := max(float64(len(t.Patches))/coarsePatches, 1)
	for i := 0.0; int(i) < len(t.Patches); i += step {
		out = append(out, int(i))
	}
	return out
}

// expected is the density of each patch where the channels of a scanner see most.
func (t *Target) expected() [3][]float64 {
	var out [3][]float64
	for ch, nm := range bandAt {
		at := int(math.Round((nm - spectrum.First) / spectrum.Step))
		for _, p := range t.Patches {
			out[ch] = append(out[ch], -math.Log10(max(p.R[at], leastSeenLight)))
		}
	}
	return out
}

// densities is a scan made smaller, as densities through its three channels.
type densities struct {
	w, h int
	each float64 // pixels of the scan a pixel
	of   [3][]float32
}

func densitiesOf(s *scan.Scan, n int) *densities {
	d := &densities{w: s.W / n, h: s.H / n, each: float64(n)}
	for ch := range d.of {
		from := min(ch, len(s.Planes)-1)
		d.of[ch] = make([]float32, d.w*d.h)
		for y := range d.h {
			row := d.of[ch][y*d.w : (y+1)*d.w]
			for dy := range n {
				for x, code := range s.Planes[from].Row(y*n + dy)[:d.w*n] {
					row[x/n] += s.Curves[from][code]
				}
			}
			for x, v := range row {
				row[x] = float32(-math.Log10(max(float64(v)/float64(n*n), leastSeenLight)))
			}
		}
	}
	return d
}

// like is the mean correlation, over the channels, of the densities that lie where a grid has some
// patches and of those that they should have.
func (d *densities) like(g grid, t *Target, some []int, want [3][]float64) float64 {
	var places [1024]int
	at := places[:0]
	for _, i := range some {
		x, y := g.at(float64(t.Patches[i].Col), float64(t.Patches[i].Row))
		px, py := int(x+0.5), int(y+0.5)
		if px < 0 || py < 0 || px >= d.w || py >= d.h {
			return -1
		}
		at = append(at, py*d.w+px)
	}
	sum := 0.0
	for ch := range want {
		sum += correlation(len(some), func(i int) (float64, float64) { return float64(d.of[ch][at[i]]), want[ch][some[i]] }) / 3
	}
	return sum
}

// correlation is that of n pairs, 0 where one of them does not vary.
func correlation(n int, pair func(i int) (x, y float64)) float64 {
	var sx, sy, sxx, syy, sxy float64
	for i := range n {
		x, y := pair(i)
		sx, sy, sxx, syy, sxy = sx+x, sy+y, sxx+x*x, syy+y*y, sxy+x*y
	}
	k := float64(n)
	vx, vy := k*sxx-sx*sx, k*syy-sy*sy
	if !(vx > 1e-9*k*k && vy > 1e-9*k*k) {
		return 0
	}
	return (k*sxy - sx*sy) / math.Sqrt(vx*vy)
}

// settled is a grid brought to where each patch is most alike within and light and reference go
// together, by smaller and smaller moves; how well they do, and that less what differs within.
func (d *densities) settled(g grid, t *Target, want [3][]float64) (at grid, like, best float64) {
	cols, rows := float64(max(t.Cols-1, 1)), float64(max(t.Rows-1, 1))
	all := make([]int, len(t.Patches))
	for i := range all {
		all[i] = i
	}
	score := func(g grid) float64 { return d.like(g, t, all, want) - 2*d.within(g, t) }
	// All of it, the last column, the last row, and so on.
	moves := []func(g grid, x, y float64) grid{
		func(g grid, x, y float64) grid { g.x, g.y = g.x+x, g.y+y; return g },
		func(g grid, x, y float64) grid { g.ax, g.ay = g.ax+x/cols, g.ay+y/cols; return g },
		func(g grid, x, y float64) grid { g.dx, g.dy = g.dx+x/rows, g.dy+y/rows; return g },
		func(g grid, x, y float64) grid { // the first column alone
			g.x, g.y, g.ax, g.ay = g.x+x, g.y+y, g.ax-x/cols, g.ay-y/cols
			return g
		},
		func(g grid, x, y float64) grid { // the first row alone
			g.x, g.y, g.dx, g.dy = g.x+x, g.y+y, g.dx-x/rows, g.dy-y/rows
			return g
		},
		func(g grid, x, y float64) grid { // turned as a whole about its first patch
			k := 1 + x/(g.pitch()*cols)
			s := y / (g.pitch() * cols)
			g.ax, g.ay, g.dx, g.dy = k*g.ax-s*g.ay, k*g.ay+s*g.ax, k*g.dx-s*g.dy, k*g.dy+s*g.dx
			return g
		},
	}
	now := score(g)
	for step := g.pitch() / 2; step > 0.1; step /= 1.2 {
		for better := true; better; {
			better = false
			for _, move := range moves {
				for _, way := range [4][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					next := move(g, way[0]*step, way[1]*step)
					if v := score(next); v > now+1e-4 {
						g, now, better = next, v, true
					}
				}
			}
		}
	}
	return g, d.like(g, t, all, want), now
}

// within is how much the density differs within a patch, as a root mean square over all patches.
func (d *densities) within(g grid, t *Target) float64 {
	const n = 4
	sum := 0.0
	for _, p := range t.Patches {
		var s, ss [3]float64
		for i := range n * n {
			u, v := insidePatch*(float64(i%n)/(n-1)-0.5), insidePatch*(float64(i/n)/(n-1)-0.5)
			x, y := g.at(float64(p.Col)+u, float64(p.Row)+v)
			px, py := int(x+0.5), int(y+0.5)
			if px < 0 || py < 0 || px >= d.w || py >= d.h {
				return 1
			}
			for ch := range d.of {
				one := float64(d.of[ch][py*d.w+px])
				s[ch], ss[ch] = s[ch]+one, ss[ch]+one*one
			}
		}
		for ch := range s {
			sum += ss[ch]/(n*n) - s[ch]*s[ch]/(n*n*n*n)
		}
	}
	return math.Sqrt(max(sum, 0) / float64(3*len(t.Patches)))
}

// Lying is where the test sheet lies on a scan.
type Lying struct {
	at   place
	w, h float64 // of its patches, in mm
}

// Locate is where a sheet lies by its marks; nil where too few of them are found.
func Locate(s *scan.Scan, sheet testsheet.Sheet) *Lying {
	at, err := locate(s, sheet)
	if err != nil {
		return nil
	}
	w, h := sheetSize(sheet)
	return &Lying{at, w, h}
}

// covers tells whether a patch of a target on a grid would lie on the sheet or among its marks.
func (l *Lying) covers(g grid, t *Target, small *densities) bool {
	k, det := small.each, l.at.a*l.at.e-l.at.b*l.at.d
	for i := range 9 {
		px, py := g.at(float64(i%3)/2*float64(t.Cols-1), float64(i/3)/2*float64(t.Rows-1))
		x, y := px*k+(k-1)/2-l.at.c, py*k+(k-1)/2-l.at.f
		u, v := (l.at.e*x-l.at.b*y)/det, (l.at.a*y-l.at.d*x)/det
		if u > -besideSheet && v > -besideSheet && u < l.w+besideSheet && v < l.h+besideSheet {
			return true
		}
	}
	return false
}
