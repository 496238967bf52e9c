package session

import "threeply/proof/affine"

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
