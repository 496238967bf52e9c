package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threeply/proof/spectrum"
)

// What is left out: a patch that is off by so much, against the others.
const (
	leastOff, offAgainst = 1.5, 5.0 // ΔE00, and times the median
	leastStray           = 2.5      // standard deviations, over a whole spectrum
	leastOwn, ownAgainst = 0.10, 6.0
	mostOut              = 0.15 // share of the patches; more are no smudges
)

// worstBare is by how many ΔE00 bare patches differ, on the paper and on the dark ground, where
// the same scatter is more of a colour.
var worstBare = [2]float64{1.5, 4}

// smudges leaves out patches that no coat and no reading explains.
func (f *fitted) smudges() {
	p := f.unpack(f.x)
	l := newLook(len(f.at))
	off, own := make([]float64, len(f.seen)), make([]float64, len(f.seen))
	var all, coats []float64
	for i := range f.seen {
		o := &f.seen[i]
		squares, n := 0.0, 0
		f.rows(p, o, f.solver.own[i], l, func(residual float64, _ *row, _ [3]float64) {
			squares += residual * residual
			n++
		})
		off[i] = math.Sqrt(squares/float64(n)) / f.noise // in standard deviations
		if o.kind == nil && off[i] < leastStray {
			off[i] = 0 // the dark is read with little light
		} else if o.kind == nil {
			off[i] = spectrum.DeltaE00(f.labOf(l.r), f.labOf(o.want))
		}
		t := f.amounts(p, o.patch)
		for k, e := range f.solver.own[i] {
			if o.patch.Has[k] && t[k] > leastTold {
				own[i] = max(own[i], math.Abs(e)*t[k])
				coats = append(coats, math.Abs(e)*t[k])
			}
		}
		all = append(all, off[i])
	}
	limit := max(leastOff, offAgainst*median(all))
	if f.Readings.Way != Spectra {
		limit = max(offAgainst, offAgainst*median(all))
	}
	ownLimit := max(leastOwn, ownAgainst*1.4826*median(coats))
	bad := make([]float64, len(f.seen)) // against what is allowed; 0 of what is left out already
	for i := range f.seen {
		if f.weigh[i] > 0 {
			bad[i] = max(off[i]/limit, own[i]/ownLimit)
		}
	}
	for i := range f.seen {
		if f.beside[f.seen[i].patch.ID] && off[i] <= limit/2 && own[i] <= ownLimit/2 {
			f.weigh[i] = 1
			f.letIn(f.seen[i].patch.ID)
		}
	}
	for range 3 { // the worst, for without them others may belong
		worst := 0
		for i, b := range bad {
			if b > bad[worst] {
				worst = i
			}
		}
		if bad[worst] <= 1 || float64(len(f.beside)) >= mostOut*float64(len(f.seen)) {
			return
		}
		f.weigh[worst] = 0
		id := f.seen[worst].patch.ID
		f.leaveOut(id, fmt.Sprintf("%s: off by %.1f times what others are", id, bad[worst]*offAgainst))
		bad[worst] = 0
	}
}

// letIn takes back that a patch was left out.
func (f *fitted) letIn(id string) {
	delete(f.beside, id)
	f.out = slices.DeleteFunc(f.out, func(why string) bool { return strings.HasPrefix(why, id+":") })
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Clone(v)
	slices.Sort(v)
	return v[len(v)/2]
}
