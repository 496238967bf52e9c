package session

import (
	"fmt"
	"math"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/register"
)

// Found is where a plate lies, against the frame of the first key.
type Found struct {
	Matrix     affine.Matrix `json:"matrix"` // pixel of the found frame → pixel of this source
	Confidence float64       `json:"confidence"`
	Words      string        `json:"words"`
	Median     float64       `json:"median_px"`
	P95        float64       `json:"p95_px"`
	Max        float64       `json:"max_px"`
	ByHand     bool          `json:"by_hand"`         // the user placed it, against what was found
	Twin       bool          `json:"twin,omitempty"`  // the same scan, pixel for pixel, as another plate
	Alike      bool          `json:"alike,omitempty"` // it shows the very tones of another plate
}

// Offset is how far a layer lies on the print from where register puts it:
// micrometres, degrees clockwise, per cent of stretch both ways, and per cent
// of stretch across the grain alone, about the centre of the picture.
type Offset struct {
	DX      float64 `json:"dx_um"`
	DY      float64 `json:"dy_um"`
	Turn    float64 `json:"turn_deg"`
	Stretch float64 `json:"stretch_pct"`
	Across  float64 `json:"across_pct"`
}

// Pose is how a person places a plate by hand: pixels that the key's centre is
// moved by, degrees clockwise, per cent of stretch, and whether it lies with
// its other side up: then it is mirrored left to right before it is turned.
type Pose struct {
	DX       float64 `json:"dxPx"`
	DY       float64 `json:"dyPx"`
	Turn     float64 `json:"turnDeg"`
	Stretch  float64 `json:"stretchPct"`
	Mirrored bool    `json:"mirrored"`
}

// Place is the way from a key pixel to a pixel of a plate: ToKey undoes the
// layer's offset, where it has one, Local, where it is not nil, adds what is left
// smoothly of register, and ToPlate is register's matrix.
type Place struct {
	ToKey   affine.Matrix
	Local   *register.Local
	ToPlate affine.Matrix
}

// Apply returns the plate's pixel.
func (p Place) Apply(x, y float64) (float64, float64) {
	x, y = p.ToKey.Apply(x, y)
	if p.Local != nil {
		dx, dy := p.Local.At(x, y)
		x, y = x+dx, y+dy
	}
	return p.ToPlate.Apply(x, y)
}

// Affine is Place without the local part.
func (p Place) Affine() affine.Matrix { return p.ToPlate.Mul(p.ToKey) }

// found returns where the automatic register, or the user's hand, puts source
// i: key pixel → pixel of the source. A key other than the one that was
// registered to is gone through by its inverse.
func (s *State) found(i int) affine.Matrix {
	back, ok := s.Found[s.KeySource()].Matrix.Inverse()
	if !ok {
		return s.Found[i].Matrix
	}
	return s.Found[i].Matrix.Mul(back)
}

// Register returns where source i lies by the chosen way of registering: key
// pixel → pixel of the source. Where the marks do not suffice for that, it is
// what was found.
func (s *State) Register(i int) affine.Matrix {
	if s.By != ByRegister && i != s.KeySource() {
		if fit, err := s.MarkFit(i); err == nil {
			return fit.Matrix
		}
	}
	return s.found(i)
}

// OffsetMatrix returns the offset of a layer as a map of key pixels: where the
// layer moves to.
func (s *State) OffsetMatrix(p pigment.Printer) affine.Matrix {
	o, um := s.Offsets[p], s.PixelMicrons()
	w, h := s.Frame()
	kx := 1 + o.Stretch/100
	ky := kx
	if s.Grain == "level" {
		ky *= 1 + o.Across/100
	} else {
		kx *= 1 + o.Across/100
	}
	return affine.Compose(affine.Parts{DX: o.DX / um, DY: o.DY / um, Turn: o.Turn, StretchX: kx, StretchY: ky},
		float64(w-1)/2, float64(h-1)/2)
}

// PlatePlace returns the way from the key's pixel to source i in register: where
// its layer lies if nothing slips.
func (s *State) PlatePlace(i int) Place {
	return Place{ToKey: affine.Identity, Local: s.LocalOf(i), ToPlate: s.Register(i)}
}

// LayerPlace returns the way from the key's pixel to the plate of a printer, its
// offset on the print with it. A layer moved to the right shows at x what register
// has at x less the move.
func (s *State) LayerPlace(p pigment.Printer) Place {
	place := s.PlatePlace(s.SourceOf(p))
	if inv, ok := s.OffsetMatrix(p).Inverse(); ok {
		place.ToKey = inv
	}
	return place
}

// LayerMatrix is LayerPlace without the local part.
func (s *State) LayerMatrix(p pigment.Printer) affine.Matrix { return s.LayerPlace(p).Affine() }

// PoseOf returns how source i lies against the key, as a person would place it.
func (s *State) PoseOf(i int) Pose {
	w, h := s.Frame()
	return PoseIn(s.found(i).Decompose(float64(w-1)/2, float64(h-1)/2))
}

// PoseIn is what a person reads in the parts of a map.
func PoseIn(p affine.Parts) Pose {
	pose := Pose{p.DX, p.DY, p.Turn, 100 * (math.Sqrt(math.Abs(p.StretchX*p.StretchY)) - 1), p.StretchY < 0}
	if pose.Mirrored { // top to bottom is left to right after half a turn
		pose.Turn = halfTurn(pose.Turn)
	}
	return pose
}

// halfTurn adds 180° and stays within -180 … 180°.
func halfTurn(turn float64) float64 {
	if turn > 0 {
		return turn - 180
	}
	return turn + 180
}

// placeByHand puts a plate where the user wants it, against what was found.
// What a hand does not set, a shear and an uneven stretch, stays as it was found
// with some confidence. The id "centre" lays the plate as it was scanned, its
// centre on the key's.
func placeByHand(c Command, s *State) error {
	i := c.Source
	centre := c.ID == "centre"
	if i < 0 || i > 2 || (c.Pose == nil && !centre) {
		return fmt.Errorf("no source %d to place, or no place given", i)
	}
	if i == s.KeySource() {
		return fmt.Errorf("the key plate lies still: the others are placed against it")
	}
	w, h := s.Frame()
	cx, cy := float64(w-1)/2, float64(h-1)/2
	p := Pose{DX: float64(s.Sources[i].W-w) / 2, DY: float64(s.Sources[i].H-h) / 2}
	if !centre {
		p = *c.Pose
	}
	if !within(p.DX, -2*float64(w), 2*float64(w)) || !within(p.DY, -2*float64(h), 2*float64(h)) || !within(p.Turn, -180, 180) || !within(p.Stretch, -75, 300) {
		return fmt.Errorf("a plate placed %g, %g px off, turned by %g° and stretched by %g %%: that lies off the picture", p.DX, p.DY, p.Turn, p.Stretch)
	}
	k := 1 + p.Stretch/100
	parts := affine.Parts{DX: p.DX, DY: p.DY, Turn: p.Turn, StretchX: k, StretchY: k}
	if !centre && (s.Found[i].ByHand || s.Found[i].Confidence >= FoundFrom) {
		was := s.found(i).Decompose(cx, cy)
		if uneven := math.Sqrt(math.Abs(was.StretchX / was.StretchY)); within(uneven, 0.5, 2) {
			parts.StretchX, parts.StretchY, parts.Shear = k*uneven, k/uneven, was.Shear
			if was.StretchY < 0 != p.Mirrored {
				parts.Shear = -was.Shear
			}
		}
	}
	if p.Mirrored {
		parts.StretchY, parts.Turn = -parts.StretchY, halfTurn(parts.Turn)
	}
	m := affine.Compose(parts, cx, cy)
	s.Found[i] = Found{Matrix: m.Mul(s.Found[s.KeySource()].Matrix), Words: "placed by hand", ByHand: true, Twin: s.Found[i].Twin, Alike: s.Found[i].Alike}
	s.Local[i] = register.Local{}
	s.Registered = "auto"
	return nil
}

func lock(c Command, s *State) error {
	p, err := c.layer()
	if err == nil {
		s.Locked[p] = c.On
	}
	return err
}

// copyOffset lays the printer's layer as another one lies.
func copyOffset(c Command, s *State) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	c.Printer = c.From
	from, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	s.Offsets[p] = s.Offsets[from]
	return nil
}

func errLocked(p pigment.Printer) error {
	return fmt.Errorf("the %s layer is locked where it lies; unlock it to move it", p)
}
