package relief

// Way is how the layers are printed from their plates. The zero Way is tuned, at the
// normal exposures.
type Way struct {
	Straight bool       `json:"straight"`       // negatives as they are or enlarged, one exposure a layer; else negatives drawn so that neutrals print neutral
	Range    float64    `json:"range"`          // density range that straight negatives are enlarged to; 0: as they are
	AtDepth  bool       `json:"atDepth"`        // straight exposures are set for the black; else for a mid grey
	Stops    [3]float64 `json:"stops"`          // by printer, against the normal exposures
	Shape    Shape      `json:"shape,omitzero"` // of tuned negatives
}

// Third is the step of exposure that prints are compared by, in stops (common practice).
const Third = 1.0 / 3

// Anchor is the tone that straight exposures are set for.
func (w Way) Anchor() float64 {
	if w.AtDepth {
		return 1
	}
	return MidGrey
}

// Exposed is the way with so many stops more of every layer.
func (w Way) Exposed(stops float64) Way {
	for i := range w.Stops {
		w.Stops[i] += stops
	}
	return w
}
