package register

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/plate/platetest"
	"threeply/proof/survey"
)

// The sweeps judge register on many more sets than the other tests, and on others: no
// range or threshold was chosen by them. They take minutes, so `make sweep` runs them.
func sweeps(t *testing.T) {
	t.Helper()
	if os.Getenv("THREEPLY_SWEEP") == "" {
		t.Skip("a sweep over many sets: make sweep runs it")
	}
}

// heldOut draws cuts of the shared photographs at random: of which one, from where, how
// much reduced.
type heldOut struct {
	photos []*scene
	rnd    *rand.Rand
	draw   func(*scene) *scene // makes another picture of a cut; nil for the cut itself

	unequal bool // of the plates that lie by known maps one is soft, and the other is not
}

func newHeldOut(t *testing.T, seed uint64) *heldOut {
	more, _ := strconv.Atoi(os.Getenv("THREEPLY_SWEEP"))
	h := &heldOut{rnd: rand.New(rand.NewPCG(seed, 4020+uint64(more)))}
	for name, by := range map[string]int{
		"astronaut.png": 1, "coffee.png": 1, "Picture_0B_by_freespace.jpg": 2, "Wine_by_Jakkub_Mede.jpg": 3, "seeding_by_Clements_Engelhardt.jpg": 4,
	} {
		h.photos = append(h.photos, photo(t, name, by))
	}
	slices.SortFunc(h.photos, func(a, b *scene) int { return strings.Compare(a.name, b.name) })
	return h
}

// next is the k-th cut of w × h pixels.
func (h *heldOut) next(k, w, ht int) *scene {
	s := h.photos[k%len(h.photos)]
	w, ht = min(w, s.w), min(ht, s.h)
	x0, y0 := h.rnd.IntN(s.w-w+1), h.rnd.IntN(s.h-ht+1)
	out := &scene{name: fmt.Sprintf("%s at %d, %d", s.name, x0, y0), w: w, h: ht}
	for c := range out.rgb {
		for y := range ht {
			out.rgb[c] = append(out.rgb[c], s.rgb[c][(y0+y)*s.w+x0:][:w]...)
		}
	}
	if h.draw != nil {
		return h.draw(out)
	}
	return out
}

func (h *heldOut) between(lo, hi float64) float64 { return lo + (hi-lo)*h.rnd.Float64() }

// anyShot is a plate of any contrast, softness, grain and polarity.
func (h *heldOut) anyShot(m affine.Matrix) shot {
	return shot{
		mix: [3]float64{0.3, 0.5, 0.2}, gamma: h.between(0.55, 1), negative: h.rnd.IntN(2) == 0,
		blur: h.between(0, 1.2), noise: h.between(0.004, 0.018), dust: h.rnd.IntN(30), m: m,
	}
}

// whole registers two plates whose pictures reach to their edges.
func whole(t *testing.T, key, other *plane.Plane, negative [2]bool) Plate {
	t.Helper()
	a, b := [4]int{0, 0, key.W, key.H}, [4]int{0, 0, other.W, other.H}
	got, err := Planes(context.Background(), [3]*plane.Plane{key, other, flatPlane(60, 60)}, Options{Polarity: [3]bool{negative[0], negative[1]}, Area: [3][4]int{a, b}})
	if err != nil {
		t.Fatal(err)
	}
	return got[1]
}

// lines are a survey's cells as they lie in the picture.
func lines(m *survey.Map) string {
	out := ""
	for i := 0; i < len(m.Cells); i += m.Across {
		out += "\n" + m.Cells[i:i+m.Across]
	}
	return out
}

func TestSweepKnownMaps(t *testing.T) {
	sweeps(t)
	const sets = 40
	if m := newHeldOut(t, 1).maps(t, sets); m.median > 0.02 || m.held < sets*19/20 {
		t.Errorf("half of %d plates lie %.3f px off or more, and the range holds the truth of %d", sets, m.median, m.held)
	}
}

// TestSweepUnequal holds that the ranges of plates of which one is soft hold the truth, and tells of
// how many that lie well it is said closely.
func TestSweepUnequal(t *testing.T) {
	sweeps(t)
	const sets = 40
	h := newHeldOut(t, 7)
	h.unequal = true
	m := h.maps(t, sets)
	t.Logf("of %d that lie well to %g px, to %g px and less is said of %d (to reach: 9 of 10)", m.well, sharply, closely, m.close)
	if m.held < sets*19/20 {
		t.Errorf("the range holds the truth of %d of %d", m.held, sets)
	}
}

// offBy95 is what 95 % of the cells lie within, of a plate that truly lies by m.
func offBy95(p *Plate, m affine.Matrix) float64 {
	var all []float64
	for i := range p.Survey.Cells {
		x, y := p.Survey.Centre(i)
		u, v := m.Apply(x, y)
		fu, fv := p.Matrix.Apply(x, y)
		all = append(all, math.Hypot(u-fu, v-fv))
	}
	slices.Sort(all)
	return all[len(all)*95/100]
}

// mapped is what came of plates that lie by known maps.
type mapped struct {
	median float64 // of the root mean squares, pixels
	wrong  int     // plates that are believed and lie more than a pixel off
	held   int     // plates of which the range that is given holds what 95 % of the picture lies within
	well   int     // plates that truly lie within sharply
	close  int     // and of which that is said to within closely
	parted int     // plates that are called parted, though they are whole
}

// sharply and closely are, in pixels, what 95 % of the picture lies within where a plate lies
// well, and what may be said of it at most.
const sharply, closely = 0.05, 0.4

func (h *heldOut) maps(t *testing.T, sets int) (out mapped) {
	var all, worsts, saids []float64
	unfound := 0
	for k := range sets {
		s := h.next(k, 1200, 900)
		key := h.anyShot(affine.Identity)
		other := h.anyShot(about(s.w, s.h, affine.Parts{
			DX: h.between(-20, 20), DY: h.between(-20, 20), Turn: h.between(-1.2, 1.2),
			StretchX: h.between(0.995, 1.005), StretchY: h.between(0.995, 1.005), Shear: h.between(-0.0015, 0.0015),
		}))
		if h.unequal {
			key.blur, other.blur = h.between(0, 0.5), h.between(1.5, 3)
			if h.rnd.IntN(2) == 0 {
				key.blur, other.blur = other.blur, key.blur
			}
		}
		p := whole(t, s.shoot(s.w, s.h, 1, key, uint64(2*k)), s.shoot(s.w, s.h, 1, other, uint64(2*k+1)), [2]bool{key.negative, other.negative})
		rms, worst := errorsOf(p.Matrix, other.m, s.w, s.h)
		switch {
		case p.Outcome != Found:
			unfound++
		case p.Confidence >= believedFrom && rms > 1:
			out.wrong++
		}
		all, worsts = append(all, rms), append(worsts, worst)
		is, said := 0.0, 0.0
		if p.Outcome == Found {
			is, said = offBy95(&p, other.m), within95(&p.Survey)
			saids = append(saids, said)
			if Parted(&p.Survey) {
				out.parted++
			}
			if is <= sharply {
				out.well++
				if said <= closely {
					out.close++
				}
			}
		}
		if is <= said+0.01 {
			out.held++
		}
		t.Logf("%s, contrast %.2f and %.2f, σ %.1f and %.1f px, noise %.3f and %.3f: rms %.3f, worst %.3f px, 95 %% within %.3f, said %.3f, confidence %.2f, %s", s.name,
			key.gamma, other.gamma, key.blur, other.blur, key.noise, other.noise, rms, worst, is, said, p.Confidence, p.Outcome)
	}
	slices.Sort(all)
	slices.Sort(worsts)
	slices.Sort(saids)
	out.median = all[len(all)/2]
	t.Logf("of %d plates: %d not found, %d believed and wrong, the range holds %d; median rms %.3f, largest %.3f px; worst points: median %.3f, 95 %% %.3f, largest %.3f px; said within: median %.2f px, of %d that lie within %.2f px of %d no more than %.2f px; %d are called parted", sets, unfound, out.wrong,
		out.held, out.median, all[len(all)-1], worsts[len(all)/2], worsts[len(all)*95/100], worsts[len(all)-1],
		saids[len(saids)/2], out.well, sharply, out.close, closely, out.parted)
	return out
}

// bends are smooth displacements over a picture whose sides are 1, of about amount
// pixels at most.
func (h *heldOut) bends(amount float64) func(u, v float64) (dx, dy float64) {
	switch a, b, c := h.between(-1, 1), h.between(-1, 1), 2*math.Pi*h.rnd.Float64(); h.rnd.IntN(5) {
	case 0: // shrunken towards the edges, as a barrel or a cushion
		return func(u, v float64) (float64, float64) {
			r := 4 * ((u-0.5)*(u-0.5) + (v-0.5)*(v-0.5)) / 2
			return amount * math.Copysign(1, a) * r * (2*u - 1), amount * math.Copysign(1, a) * r * (2*v - 1)
		}
	case 1: // squares of the place
		return func(u, v float64) (float64, float64) {
			u, v = 2*u-1, 2*v-1
			return amount * (a*u*u + b*u*v), amount * (b*v*v - a*u*v)
		}
	case 2: // a wave aslant, a period or so
		n := h.between(0.5, 1.3)
		return func(u, v float64) (float64, float64) {
			w := math.Sin(2*math.Pi*n*(u*math.Cos(c)+v*math.Sin(c)) + 3*a)
			return amount * w * math.Cos(3*b), amount * w * math.Sin(3*b)
		}
	case 3: // a swelling about one place
		return func(u, v float64) (float64, float64) {
			w := math.Exp(-((u-0.5-0.5*a)*(u-0.5-0.5*a) + (v-0.5-0.5*b)*(v-0.5-0.5*b)) / (2 * 0.25 * 0.25))
			return amount * w * math.Cos(c), amount * w * math.Sin(c)
		}
	default: // one side shrank
		return func(u, v float64) (float64, float64) {
			w := u*math.Cos(c)/2 + v*math.Sin(c)/2 + 0.5
			return amount * w * w * w * a, amount * w * w * b
		}
	}
}

// TestSweepRanges holds that of plates which bend in many ways the range that is given holds
// the truth in 19 of 20.
func TestSweepRanges(t *testing.T) {
	sweeps(t)
	const sets = 100
	if r := newHeldOut(t, 2).ranges(t, sets); r.held < r.found*19/20 || r.found < sets*19/20 {
		t.Errorf("%d of %d plates are found, and the range holds the truth of %d", r.found, sets, r.held)
	}
}

// ranged is of how many plates that bend the range holds the truth, and how many of them are
// called parted: rightly, where a part lies so far off, and as alarms, where hardly any does.
type ranged struct{ found, held, parted, alarms int }

func (h *heldOut) ranges(t *testing.T, sets int) (out ranged) {
	var wide []float64
	for k := range sets {
		s := h.next(k, 520, 400)
		amount := h.between(0, 4)
		bend := h.bends(amount)
		wave := func(x, y float64) (dx, dy float64) { return bend(x/float64(s.w), y/float64(s.h)) }
		key, other := h.anyShot(affine.Identity), h.anyShot(affine.Identity)
		other.bend = wave
		p := whole(t, s.shoot(s.w, s.h, 1, key, uint64(2*k)), s.shoot(s.w, s.h, 1, other, uint64(2*k+1)), [2]bool{key.negative, other.negative})
		if p.Outcome != Found {
			t.Logf("%s, bent by %.2f px: %s", s.name, amount, p.Outcome)
			continue
		}
		out.found++
		is, said := trueWithin95(t, &p, wave), within95(&p.Survey)
		if Parted(&p.Survey) {
			out.parted++
			if is < apart/2 {
				out.alarms++
			}
			t.Logf("%s, bent by %.2f px so that 95 %% lies within %.2f, is called parted:%s", s.name, amount, is, lines(&p.Survey))
		}
		if is <= said+0.01 {
			out.held++
		} else {
			t.Logf("%s, bent by %.2f px: 95 %% lies within %.2f px, said %.2f; coverage %.2f", s.name, amount, is, said, p.Survey.Coverage())
		}
		wide = append(wide, said-is)
	}
	if len(wide) == 0 {
		return out
	}
	slices.Sort(wide)
	t.Logf("%d of %d plates are found, and the range holds the truth of %d, %d are called parted, of which %d hardly bend; it is wider by %.2f px in the median, by %.2f in 95 %%", out.found, sets, out.held, out.parted, out.alarms, wide[len(wide)/2], wide[len(wide)*95/100])
	return out
}

// TestSweepPoses lays the real plates in random poses, and holds that no corner is further
// off than 1.5 px at a confidence above 0.9, against where the plate is found as it lies.
func TestSweepPoses(t *testing.T) {
	sweeps(t)
	h := newHeldOut(t, 5)
	folder := filepath.Join(shared, "plates")
	sure, wrong, n := 0, 0, 0
	for _, set := range platetest.Sure(platetest.Sets(t, folder)) {
		planes := tall(t, filepath.Join(folder, set.File))
		for _, i := range []int{0, 2} {
			known := set.Known[i]
			w, ht := planes[i].W, planes[i].H
			f := h.between(0.9, 1.1)
			pose := about(w, ht, affine.Parts{DX: h.between(-30, 30), DY: h.between(-30, 30), Turn: h.between(-12, 12), StretchX: f, StretchY: f * float64(1-2*h.rnd.IntN(2))})
			back, ok := pose.Inverse()
			if !ok {
				t.Fatal("no pose")
			}
			posed := plane.New(w, ht)
			for y := range ht {
				for x := range w {
					px, py := back.Apply(float64(x), float64(y))
					posed.Pix[y*w+x] = uint16(planes[i].Bilinear(px, py))
				}
			}
			got, err := Planes(context.Background(), [3]*plane.Plane{planes[1], posed, flatPlane(60, 60)}, Options{})
			if err != nil {
				t.Fatal(err)
			}
			want := pose.Mul(known.Map)
			off := 0.0
			for _, at := range [4][2]float64{{0.15, 0.15}, {0.85, 0.15}, {0.15, 0.85}, {0.85, 0.85}} {
				ax, ay := want.Apply(at[0]*known.W, at[1]*known.H)
				bx, by := got[1].Matrix.Apply(at[0]*known.W, at[1]*known.H)
				off = max(off, math.Hypot(ax-bx, ay-by)/f)
			}
			n++
			if got[1].Confidence > 0.9 {
				sure++
				if off > 1.5 {
					wrong++
				}
			}
			t.Logf("%s %d %s: corner %.2f px off, confidence %.2f, %s", set.File, i, known.Grade, off, got[1].Confidence, got[1].Outcome)
		}
	}
	t.Logf("of %d plates in any pose %d have a confidence above 0.9, and %d of those a corner further off than 1.5 px", n, sure, wrong)
	if wrong > 0 {
		t.Errorf("%d plates are believed (above 0.9) with a corner further off than 1.5 px", wrong)
	}
}
