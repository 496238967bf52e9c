package model

import (
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/wasm/page/prints"
)

// Section is the cut through the print along the session's line.
type Section struct {
	Version int `json:"sectionVersion"` // changes with the cut, which is fetched by itself
}

// sectionOn is all that the cut stands on.
type sectionOn struct {
	session session.State // see layingOf; with the line, the order and the hidden layers
	print   prints.Print
	masks   *mask.Matrix
	planes  [3]*plane.Plane
}

func onSection(in Input) sectionOn {
	on := sectionOn{session: layingOf(in.Session), print: in.Prints.Likely(), masks: in.Prints.Masks(picture.MaskingChosen)}
	on.session.Section, on.session.Order, on.session.Hidden = in.Session.Section, in.Session.Order, in.Session.Hidden
	if in.Plates.Open() {
		on.planes = in.Plates.Level(0)
	}
	return on
}
