package register

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestSweepMovedParts moves a part of thirty photographs by 3 to 60 pixels, half of them a
// strip at an edge.
func TestSweepMovedParts(t *testing.T) {
	sweeps(t)
	const sets = 30
	if m := newHeldOut(t, 3).movedParts(t, sets); m.unsaid > 0 || m.said < sets*19/20 || m.alarms > 0 {
		t.Errorf("of %d plates with a moved part %d are called parted and %d pass for whole; of as many whole ones %d are called parted", sets, m.said, m.unsaid, m.alarms)
	}
}

// parted is what is said of plates with a moved part, and of as many whole ones.
type parted struct {
	said, spots, unsure int // called parted; told of as a small part, or as lost; not found, or not believed, which is said too
	unsaid, wrong       int // they pass for whole; they do, and lie more than a pixel off
	alarms, losses      int // whole ones that are called parted, or are told to have a lost part
	specks              int // whole ones of which a small part is said to lie elsewhere
}

// movedSet is two plates of a cut, a part of one of which moved.
type movedSet struct {
	*scene
	key, other *plane.Plane // other as it was before
	shots      [2]shot
	at         [4]float64 // of the part: x0, y0, x1, y1, shares of the sides
	dx, dy     int        // pixels
}

// movedSet draws the k-th of them: a strip at an edge, or a part anywhere.
func (h *heldOut) movedSet(k int) (m movedSet) {
	m.scene = h.next(k, 700, 500)
	m.shots = [2]shot{h.anyShot(affine.Identity), h.anyShot(about(m.w, m.h, affine.Parts{DX: h.between(-6, 6), DY: h.between(-6, 6), Turn: h.between(-0.4, 0.4), StretchX: 1.001, StretchY: 1.002}))}
	m.key, m.other = m.shoot(m.w, m.h, 1, m.shots[0], uint64(2*k)), m.shoot(m.w, m.h, 1, m.shots[1], uint64(2*k+1))
	m.at = [4]float64{0, 0, 1, 1}
	deep := h.between(0.1, 0.22)
	switch k % 8 {
	case 0:
		m.at[2] = deep
	case 2:
		m.at[0] = 1 - deep
	case 4:
		m.at[3] = deep
	case 6:
		m.at[1] = 1 - deep
	default:
		m.at[0], m.at[1] = h.between(0, 0.65), h.between(0, 0.65)
		m.at[2], m.at[3] = min(m.at[0]+h.between(0.3, 0.5), 1), min(m.at[1]+h.between(0.3, 0.5), 1)
	}
	size, turn := 3*math.Pow(20, h.rnd.Float64()), 2*math.Pi*h.rnd.Float64()
	m.dx, m.dy = int(math.Round(size*math.Cos(turn))), int(math.Round(size*math.Sin(turn)))
	if m.dx*m.dx+m.dy*m.dy < 9 {
		m.dx = 3
	}
	return m
}

// register registers the plates with the part moved, and before.
func (m *movedSet) register(t *testing.T) (moved, still Plate) {
	negative := [2]bool{m.shots[0].negative, m.shots[1].negative}
	return whole(t, m.key, square(m.other, m.at[0], m.at[1], m.at[2], m.at[3], m.dx, m.dy), negative), whole(t, m.key, m.other, negative)
}

func (h *heldOut) movedParts(t *testing.T, sets int) (out parted) {
	for k := range sets {
		m := h.movedSet(k)
		p, still := m.register(t)
		rms, _ := errorsOf(p.Matrix, m.shots[1].m, m.w, m.h)
		t.Logf("%d: %s, [%.2f %.2f %.2f %.2f] by %d, %d: said %v, %.3f of %.3f elsewhere, largest %.1f px, confidence %.2f, map off by %.2f px, %s; unmoved: said %v, %s", k, m.name, m.at[0], m.at[1], m.at[2], m.at[3], m.dx, m.dy,
			Parted(&p.Survey), p.Outvoted, (m.at[2]-m.at[0])*(m.at[3]-m.at[1]), p.Residual.Max, p.Confidence, rms, p.Outcome, Parted(&still.Survey), still.Outcome)
		switch {
		case Parted(&p.Survey) && p.Outcome == Found:
			out.said++
		case p.Confidence < believedFrom:
			out.unsure++
		case p.Outvoted > 0 || Lost(&p.Survey) != nil:
			out.spots++ // too little to call the plate parted, or lost, and the verdict tells of it
		default:
			out.unsaid++
			t.Log("it passes for whole:" + lines(&p.Survey))
			if rms > 1 {
				out.wrong++
			}
		}
		if Lost(&still.Survey) != nil {
			out.losses++
		}
		if still.Outvoted > 0 && !Parted(&still.Survey) {
			out.specks++
		}
		if Parted(&still.Survey) {
			out.alarms++
			t.Log("whole, it is called parted:" + lines(&still.Survey))
		}
	}
	t.Logf("of %d plates with a moved part %d are called parted, of %d a part is told of as small or lost, %d are not found or not believed, %d pass for whole; of as many whole ones %d are called parted, of %d a part is told of as small, of %d as lost", sets,
		out.said, out.spots, out.unsure, out.unsaid, out.alarms, out.specks, out.losses)
	return out
}

// TestSweepQuarters moves a quarter of plates of many sharpnesses by 4 to 6 pixels.
func TestSweepQuarters(t *testing.T) {
	sweeps(t)
	h := newHeldOut(t, 4)
	const sets = 20
	said := 0
	for k := range sets {
		s := h.next(k, 700+500*(k%2), 500+400*(k%2))
		key, other := h.anyShot(affine.Identity), h.anyShot(about(s.w, s.h, affine.Parts{DX: 3.2, DY: -2.1, Turn: 0.2, StretchX: 1.001, StretchY: 1.002}))
		key.blur, other.blur = float64(k%5), float64(k%5)*h.between(0.8, 1.2)
		x, y := 0.5*float64(h.rnd.IntN(2)), 0.5*float64(h.rnd.IntN(2))
		size, turn := h.between(4, 6), 2*math.Pi*h.rnd.Float64()
		dx, dy := int(math.Round(size*math.Cos(turn))), int(math.Round(size*math.Sin(turn)))
		p := whole(t, s.shoot(s.w, s.h, 1, key, uint64(2*k)), square(s.shoot(s.w, s.h, 1, other, uint64(2*k+1)), x, y, x+0.5, y+0.5, dx, dy), [2]bool{key.negative, other.negative})
		if Parted(&p.Survey) || p.Confidence < believedFrom { // which is said too: it is not sure where the plate lies
			said++
		}
		t.Logf("%s, σ %.1f px, quarter %.1f, %.1f by %d, %d: said %v, %.3f elsewhere, largest %.1f px, confidence %.2f, %s", s.name, key.blur, x, y, dx, dy, Parted(&p.Survey), p.Outvoted, p.Residual.Max, p.Confidence, p.Outcome)
	}
	if said < sets {
		t.Errorf("%d of %d moved quarters are said", said, sets)
	}
}
