package view

import (
	"fmt"
	"image"
	"math"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/verdict"
)

// Residual is what a register left over at places of the picture. It counts only while
// the session has what that register found.
type Residual struct {
	Found  [3]session.Found     // by source
	Fields [3][]register.Offset // by source, in pixels of the plate that was registered to
}

// In is what is left, by source, as the picture is drawn: at the places that were
// measured while they are at hand, else, as after a reload, by the survey that the session
// keeps.
func (r *Residual) In(s *session.State) [3][]register.Offset {
	fields := r.Fields
	if r.Found != s.Found || registration.ArrowScale(fields, longArrow) == 0 {
		fields = registration.Surveyed(s)
	}
	return registration.Rests(s, fields)
}

// Known tells whether anything is known of what is left.
func (r *Residual) Known(s *session.State) bool { return open(s) && r.ArrowScale(s) > 0 }

// longArrow is the length that most arrows keep within, and cutArrow that of those
// that are cut short, CSS pixels.
const (
	longArrow = 36
	cutArrow  = 72
)

// Arrows draws residuals in a pane, points of the stage.
type Arrows struct {
	Arrows []Arrow      `json:"arrows"`
	Blank  [][4]float64 `json:"blank"`  // parts of the picture where nothing was measured: x, y, width, height
	Ring   *[2]float64  `json:"ring"`   // about the worst place
	BarPx  float64      `json:"barPx"`  // the scale: this many pixels of the scan
	BarCSS float64      `json:"barCss"` // are this long; both 0 where no arrows are drawn
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

// ArrowScale is how many CSS pixels an offset of one pixel of the key is drawn long; 0
// where nothing is left to draw.
func (r *Residual) ArrowScale(s *session.State) float64 {
	return registration.ArrowScale(r.In(s), longArrow)
}

// ArrowsIn draws what register leaves in a pane, scale CSS pixels to the pixel of the key,
// and the parts of the picture where nothing was measured. Where arrows are not shown
// (ArrowsShown) it draws only the ring about the worst place that the user has gone to.
func (v *View) ArrowsIn(s *session.State, p Pane, r *Residual, scale float64) Arrows {
	out := Arrows{Arrows: []Arrow{}, Blank: [][4]float64{}}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return out
	}
	key := fromFound(s)
	covered := v.Covered(p)
	if at := v.WorstAt(s); at != nil {
		x, y := key.Apply(at.X, at.Y)
		if p.OwnFrame {
			x, y = BestPlace(s, s.Assign[filter.Of(p.Plate)]).Apply(x, y)
		}
		if x, y = toStage.Apply(x, y); within(covered, x, y) {
			x, y = v.OnStage(x, y)
			out.Ring = &[2]float64{tenth(x), tenth(y)}
		}
	}
	if !v.ArrowsShown() {
		return out
	}
	fields := r.In(s)
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
	out.Blank = v.blank(s, covered, toStage)
	out.BarPx = registration.RoundDown(60 / scale)
	out.BarCSS = out.BarPx * scale
	return out
}

// blank are the parts of a pane that show parts of the picture where not both plates were
// measured; neighbours in a row are joined. toStage takes pixels of the key to the canvas.
func (v *View) blank(s *session.State, covered image.Rectangle, toStage affine.Matrix) [][4]float64 {
	out := [][4]float64{}
	scan := verdict.OfScan(s)
	grid := survey.Map{Across: scan.Across, Down: scan.Down, Area: scan.Area}
	w, h := grid.Sides()
	for i := 0; i < len(scan.Cells); i++ {
		if scan.Cells[i].Measured {
			continue
		}
		first := i
		for i+1 < len(scan.Cells) && (i+1)%grid.Across > 0 && !scan.Cells[i+1].Measured {
			i++
		}
		ax, ay := grid.Centre(first)
		bx, by := grid.Centre(i)
		ax, ay = toStage.Apply(ax-w/2, ay-h/2)
		bx, by = toStage.Apply(bx+w/2, by+h/2)
		ax, ay = max(ax, float64(covered.Min.X)-0.5), max(ay, float64(covered.Min.Y)-0.5)
		bx, by = min(bx, float64(covered.Max.X)-0.5), min(by, float64(covered.Max.Y)-0.5)
		if bx > ax && by > ay {
			ax, ay = v.OnStage(ax, ay)
			bx, by = v.OnStage(bx, by)
			out = append(out, [4]float64{tenth(ax), tenth(ay), tenth(bx - ax), tenth(by - ay)})
		}
	}
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
// plates were registered, or where it was ended.
func (v *View) WorstAt(s *session.State) *WorstPlace {
	if v.Worst.of != s.Found {
		return nil
	}
	return v.Worst.at
}

// goToWorst brings the place where most is left into the middle, and when it is called
// again the next; what shows two plates shows those that lie apart there. Looking at the
// whole picture ends the walk.
func (v *View) goToWorst(s *session.State, r *Residual) error {
	if !r.Known(s) {
		return fmt.Errorf("what register leaves is not known yet; register the plates first")
	}
	all := registration.Worst(s, r.In(s))
	if len(all) == 0 {
		return fmt.Errorf("no place was measured with certainty; look at the edges, or pin marks")
	}
	if v.Worst.of != s.Found {
		v.Worst = Worst{of: s.Found}
	}
	n := v.Worst.next % len(all)
	at := &WorstPlace{all[n], n + 1, len(all)}
	v.Worst.next, v.Worst.at = n+1, at
	pair := [2]int{int(at.First.Printer()), int(at.Second.Printer())}
	v.Edges, v.Plates = pair, pair
	x, y := fromFound(s).Apply(at.X, at.Y)
	v.goTo(x, y)
	if v.Look == "marks" {
		v.meetAt(s, v.Centre[0], v.Centre[1])
	}
	return nil
}
