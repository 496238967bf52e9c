package view

import (
	"fmt"
	"math"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// Residual is what a register left over at places of the picture. It counts only while
// the session has what that register found.
type Residual struct {
	Found  [3]session.Found     // by source
	Fields [3][]register.Offset // by source, in pixels of the plate that was registered to
}

// Fits tells whether the fields belong to the register as it stands and hold places
// that agree.
func (r *Residual) Fits(s *session.State) bool {
	return open(s) && r.Found == s.Found && registration.ArrowScale(r.Fields, longArrow) > 0
}

// longArrow is the length that most arrows keep within, and cutArrow that of those
// that are cut short, CSS pixels.
const (
	longArrow = 36
	cutArrow  = 72
)

// Arrows draws residuals in a pane.
type Arrows struct {
	Arrows []Arrow     `json:"arrows"`
	Ring   *[2]float64 `json:"ring"`   // about the worst place
	BarPx  float64     `json:"barPx"`  // the scale: this many pixels of the scan
	BarCSS float64     `json:"barCss"` // are this long
}

// Arrow is one place: where it lies on the stage, and which way the plate lies off.
type Arrow struct {
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	DX       float64 `json:"dx"`
	DY       float64 `json:"dy"`
	Printer  string  `json:"printer"`
	Outvoted bool    `json:"outvoted"`
	Sure     bool    `json:"sure"` // measured with certainty
	Cut      bool    `json:"cut"`  // drawn shorter than it is
}

// ArrowsShown tells whether arrows are drawn in the look.
func (v *View) ArrowsShown() bool { return (v.Arrows || v.Look == "edges") && v.Look != "marks" }

// ArrowScale is how many CSS pixels an offset of one pixel of the key is drawn long.
func (r *Residual) ArrowScale(s *session.State) float64 {
	return registration.ArrowScale(registration.Rests(s, r.Fields), longArrow)
}

// ArrowsIn draws what register leaves in a pane of the key's pixels, scale CSS pixels to
// the pixel; the local register, where it is on, is taken off.
func (v *View) ArrowsIn(s *session.State, p Pane, r *Residual, scale float64) Arrows {
	out := Arrows{Arrows: []Arrow{}}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return out
	}
	key := fromFound(s)
	fields := registration.Rests(s, r.Fields)
	covered := v.Covered(p)
	for f := range session.Filters {
		for _, o := range fields[s.Assign[f]] {
			kx, ky := key.Apply(o.X, o.Y)
			x, y := toStage.Apply(kx, ky)
			if !within(covered, x, y) {
				continue
			}
			tx, ty := key.Apply(o.X+o.DX, o.Y+o.DY)
			dx, dy := scale*(tx-kx), scale*(ty-ky)
			long := math.Hypot(dx, dy)
			cut := long > cutArrow
			if cut {
				dx, dy = dx*cutArrow/long, dy*cutArrow/long
			}
			x, y = v.OnStage(x, y)
			out.Arrows = append(out.Arrows, Arrow{tenth(x), tenth(y), tenth(dx), tenth(dy), filter.Filter(f).Printer().String(), o.Outvoted, o.Sure(), cut})
		}
	}
	if at := v.WorstAt(s); at != nil {
		x, y := v.OnStage(toStage.Apply(key.Apply(at.Offset.X, at.Offset.Y)))
		out.Ring = &[2]float64{tenth(x), tenth(y)}
	}
	out.BarPx = registration.RoundDown(60 / scale)
	out.BarCSS = out.BarPx * scale
	return out
}

func tenth(v float64) float64 { return math.Round(10*v) / 10 }

// fromFound takes a pixel of the plate that was registered to, to the key's of now.
func fromFound(s *session.State) affine.Matrix { return s.Found[s.KeySource()].Matrix }

// Worst is the walk over the places where register leaves most.
type Worst struct {
	of   [3]session.Found // the register that it walks over
	next int
	at   *WorstPlace
}

// WorstPlace is one of the places where most is left: number N of Of, the worst first.
type WorstPlace struct {
	registration.WorstPlace
	N, Of int
}

// WorstAt is the place where the walk stands, nil where it was not begun since the
// plates were registered.
func (v *View) WorstAt(s *session.State) *WorstPlace {
	if v.Worst.of != s.Found {
		return nil
	}
	return v.Worst.at
}

// goToWorst brings the place where most is left into the middle, and when it is called
// again the next: of all that were measured with certainty, those that lie elsewhere
// first.
func (v *View) goToWorst(s *session.State, r *Residual) error {
	if !r.Fits(s) {
		return fmt.Errorf("what register leaves is not known yet; register the plates first")
	}
	all := registration.Worst(registration.Rests(s, r.Fields))
	if len(all) == 0 {
		return fmt.Errorf("no place was measured with certainty; look at the edges, or pin marks")
	}
	if v.Worst.of != s.Found {
		v.Worst = Worst{of: s.Found}
	}
	n := v.Worst.next % len(all)
	at := &WorstPlace{all[n], n + 1, len(all)}
	v.Worst.next, v.Worst.at = n+1, at
	x, y := fromFound(s).Apply(at.Offset.X, at.Offset.Y)
	v.goTo(x, y)
	if v.Look == "marks" {
		v.meetAt(s, v.Centre[0], v.Centre[1])
	}
	return nil
}
