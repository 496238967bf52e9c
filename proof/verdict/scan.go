package verdict

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/words"
)

// Scan is what is thought of three scans as they lie in register: nothing of a print
// counts here, nor any offset on it. Lengths are pixels of the key.
type Scan struct {
	Sign     string // "in", "out" or "unsure", where it cannot be judged
	Sentence string
	Unsure   string // why it cannot be judged, or ""
	Measured bool   // Typical, P95, Largest and the pair hold figures

	Stars   int     // of the guideline, by P95; 0 where it cannot be judged
	Typical float64 // half of the picture lies within this, between any two plates
	P95     float64 // 95 % of it; where nothing was measured, what it may be at most counts
	Largest float64 // at the worst measured place

	First, Second filter.Filter // the two plates of Largest
	X, Y          float64       // its place in the key

	Coverage float64  // share of the picture within reach of a measured place, in both plates, 0..1
	Missing  []string // the parts of the picture where hardly anything was measured, as “in the upper third”
	Parted   bool     // a part of a plate lies elsewhere than the rest
	Pixel    float64  // µm on the plate, by the key's resolution; 0 where the scan has none that was measured

	LeastConfident float64 // of the automatic register, 0..1, where plates lie by it
	Cells          []Cell  // of the picture, row by row
	Across, Down   int     // how many cells there are
	Area           [4]int  // where they lie in the key: x0, y0, x1, y1
}

// Cell is a part of the picture.
type Cell struct {
	Measured bool    // in both plates that lie against the key
	Off      float64 // how far the two plates that lie worst are apart there, pixels of the key
	Within   float64 // and how far they may be, in 95 of 100 cells
	Moved    bool    // one of them lies elsewhere than the rest of its plate

	First, Second filter.Filter // the two plates
}

// InRegister tells whether the plates are in register; ok is false where that cannot be
// judged.
func (v *Scan) InRegister() (in, ok bool) { return v.Sign == "in", v.Sign != "unsure" }

const (
	// inRegister is the misregister, in pixels at 95 % of the picture, below which three
	// scans are in register: the guideline's two stars.
	inRegister = 0.80

	// enoughCovered is the share of the picture that must have been measured before the
	// whole of it is judged by it: three fifths, so that a sky or a dark foreground may
	// be empty, but not half a plate.
	enoughCovered = 0.60
)

// OfScan judges how the three scans lie against each other.
func OfScan(s *session.State) Scan {
	v := Scan{Sign: "unsure", LeastConfident: 1}
	var rests [3]Rest // by filter
	for _, f := range filter.All {
		rests[f] = RestOf(s, s.Assign[f])
		v.LeastConfident = min(v.LeastConfident, rests[f].Confidence)
	}
	if key := s.Sources[s.KeySource()]; key.PPI > 0 && !fitness.Placeholder(key.PPI, key.Scan.PPIDown) {
		v.Pixel = 25400 / key.PPI
	}
	v.survey(s)
	v.Unsure = unsure(s, rests)
	if v.Unsure == "" && !v.Measured {
		v.Unsure = unsurveyed(s, rests)
	}
	if v.Unsure != "" {
		v.Sentence = v.Unsure
		return v
	}
	v.judge(s)
	v.Sentence += alike(s)
	for _, i := range s.Assign {
		if words := Opposed(s, i); words != "" {
			v.Sentence += " But " + words
		}
	}
	return v
}

// survey puts together what was measured of the plates.
func (v *Scan) survey(s *session.State) {
	grid := &survey.Map{}
	for _, i := range s.Assign {
		if m := &s.Survey[i]; i != s.KeySource() && m.Known() {
			grid = m
		}
	}
	if s.Registered != "auto" || !place.LocalFits(s) || !grid.Known() {
		return
	}
	v.Across, v.Down, v.Area = grid.Across, grid.Down, grid.Area
	var places [3][]off // by filter
	for _, f := range filter.All {
		i := s.Assign[f]
		if m := &s.Survey[i]; i != s.KeySource() && (!m.Known() || !m.SameGrid(grid) || s.Found[i].ByHand) {
			return
		}
		if way := place.WayOf(s, i); way == place.WayMarks && apart(s, place.Register(s, i), i).Max > 1 {
			return // marks and register disagree, and nobody can say which is right
		}
		places[f] = offsIn(s, i, grid)
	}
	v.Measured = true
	var may []float64
	for c := range grid.Cells {
		cell := Cell{Measured: true}
		for _, a := range filter.All {
			cell.Measured = cell.Measured && places[a][c].measured
			cell.Moved = cell.Moved || places[a][c].moved
			for b := a + 1; int(b) < len(filter.All); b++ {
				p, q := places[a][c], places[b][c]
				d, within := math.Hypot(p.dx-q.dx, p.dy-q.dy), math.Hypot(p.within, q.within)
				if math.Hypot(d, within) >= math.Hypot(cell.Off, cell.Within) {
					cell.Off, cell.Within, cell.First, cell.Second = d, within, a, b
				}
			}
		}
		if cell.Measured && cell.Off >= v.Largest {
			v.Largest, v.First, v.Second = cell.Off, cell.First, cell.Second
			v.X, v.Y = grid.Centre(c)
		}
		may = append(may, math.Hypot(cell.Off, cell.Within))
		v.Cells = append(v.Cells, cell)
	}
	slices.Sort(may)
	v.Typical, v.P95 = may[len(may)/2], may[len(may)*95/100]
	v.Largest = max(v.Largest, 0)
	v.Coverage = v.share(func(c Cell) bool { return c.Measured })
	v.Missing = v.missing()
	for _, i := range s.Assign {
		v.Parted = v.Parted || register.Parted(&s.Survey[i])
	}
}

// off is how a plate lies in a cell against where it is said to lie.
type off struct {
	dx, dy, within  float64
	measured, moved bool
}

// offsIn is how source i lies in each cell of the picture, against where it is drawn: by
// register, the local one with it, or by marks.
func offsIn(s *session.State, i int, grid *survey.Map) []off {
	out := make([]off, len(grid.Cells))
	m := &s.Survey[i]
	now, found := place.Plate(s, i), s.Found[i].Matrix
	back, ok := now.ToPlate.Inverse()
	for c := range out {
		if !m.Known() {
			out[c].measured = true // the key
			continue
		}
		x, y := grid.Centre(c)
		out[c] = off{m.DX[c], m.DY[c], m.Within[c], m.Has(c), m.Cells[c] == survey.Elsewhere}
		if now.Local != nil {
			dx, dy := now.Local.At(x, y)
			out[c].dx, out[c].dy = out[c].dx-dx, out[c].dy-dy
		}
		if ok && now.ToPlate != found {
			u, w := back.Apply(found.Apply(x+m.DX[c], y+m.DY[c]))
			out[c].dx, out[c].dy = u-x, w-y
		}
	}
	return out
}

// Place is one of the places where two plates lie worst.
type Place struct {
	Cell
	X, Y float64 // in the key, pixels
}

// Worst lists the measured cells that lie worst, at most n, none beside another one that
// is worse.
func (v *Scan) Worst(n int) []Place {
	var all []int
	for i, c := range v.Cells {
		if c.Measured {
			all = append(all, i)
		}
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(v.Cells[b].Off, v.Cells[a].Off) })
	var out []Place
	var taken []int
	grid := survey.Map{Across: v.Across, Down: v.Down, Area: v.Area}
	for _, i := range all {
		beside := slices.ContainsFunc(taken, func(k int) bool {
			dx, dy := i%v.Across-k%v.Across, i/v.Across-k/v.Across
			return max(dx, -dx, dy, -dy) <= 1
		})
		if len(out) < n && !beside {
			x, y := grid.Centre(i)
			out, taken = append(out, Place{v.Cells[i], x, y}), append(taken, i)
		}
	}
	return out
}

func (v *Scan) share(is func(Cell) bool) float64 {
	n := 0
	for _, c := range v.Cells {
		if is(c) {
			n++
		}
	}
	return float64(n) / float64(max(len(v.Cells), 1))
}

// measured95 is what 95 % of the measured cells lie within, by what was measured alone.
func (v *Scan) measured95() float64 {
	var is []float64
	for _, c := range v.Cells {
		if c.Measured {
			is = append(is, c.Off)
		}
	}
	if len(is) == 0 {
		return 0
	}
	slices.Sort(is)
	return is[len(is)*95/100]
}

func (v *Scan) judge(s *session.State) {
	is := v.measured95()
	where := "at the " + v.partAt(v.X, v.Y)
	pair := fmt.Sprintf("the %s and the %s plate", v.First, v.Second)
	nothing := v.notMeasured()
	if nothing != "" {
		nothing = " " + nothing
	}
	switch {
	case v.Parted:
		v.Sign = "out"
		v.Sentence = fmt.Sprintf("Not in register: a part of %s lies elsewhere than the rest, by up to %s, worst %s. These figures do not tell why. Look at the edges there.%s", v.partedPlates(s), v.Length(v.Largest), where, nothing)
	case is > inRegister:
		v.Sign = "out"
		v.Sentence = fmt.Sprintf("Not in register: 95 %% of the picture lies within %s, and %s lie %s apart %s.%s", v.Length(v.P95), pair, v.Length(v.Largest), where, nothing)
	case v.Coverage < enoughCovered:
		v.Unsure = fmt.Sprintf("Cannot be judged: only %.0f %% of the picture could be measured.%s Where it could, 95 %% lies within %s.", 100*v.Coverage, nothing, v.Length(is))
		v.Sentence = v.Unsure
	case v.P95 > inRegister:
		v.Unsure = fmt.Sprintf("Cannot be judged: where it was measured, 95 %% lies within %s, but by these scans up to %s is possible, and in register means %.2f px at most.%s", v.Length(is), v.Length(v.P95), inRegister, nothing)
		v.Sentence = v.Unsure
	default:
		v.Sign = "in"
		v.Sentence = fmt.Sprintf("In register: 95 %% of the picture lies within %s, measured over %.0f %% of it.%s", v.Length(v.P95), 100*v.Coverage, nothing)
	}
	if moved := v.share(func(c Cell) bool { return c.Moved }); moved > 0 && !v.Parted {
		v.Sentence += fmt.Sprintf(" But a small part, %.0f %% of the picture, lies elsewhere, by up to %s, worst %s.", math.Ceil(100*moved), v.Length(v.Largest), where)
	}
	if !v.Parted {
		v.Sentence += v.lost(s)
	}
	if v.Sign != "unsure" {
		v.Stars = Stars(v.P95)
		if v.Parted {
			v.Stars = Stars(v.Largest)
		}
	}
}

// Length is a length in pixels and, where the resolution of the scan is known, on the
// plate.
func (v *Scan) Length(px float64) string {
	if v.Pixel == 0 {
		return fmt.Sprintf("%.2f px", px)
	}
	return fmt.Sprintf("%.2f px (%s on the plate)", px, words.Microns(px*v.Pixel))
}

// partedPlates names the plates of which a part lies elsewhere.
func (v *Scan) partedPlates(s *session.State) string {
	var names []string
	for _, f := range filter.All {
		if register.Parted(&s.Survey[s.Assign[f]]) {
			names = append(names, "the "+f.String()+" plate")
		}
	}
	return listed(names)
}

// unsurveyed says why there is nothing to judge plates by that were found or marked.
func unsurveyed(s *session.State, rests [3]Rest) string {
	for _, f := range filter.All {
		if n := rests[f].Marks; n > 0 {
			return fmt.Sprintf("Cannot be judged: the %s plate lies by %s, which says nothing of what lies between them. They miss each other by %.2f px (root mean square).", f, count(n, "mark"), rests[f].Median)
		}
	}
	return "Cannot be judged: this set was registered before the program kept which parts were measured. Register again."
}
