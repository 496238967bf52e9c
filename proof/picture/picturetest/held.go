package picturetest

import (
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// Hold gives the session's palette tissues that lose everything thinner than so many dry
// µm to the wash, and nothing else.
func Hold(s *session.State, micron float64) {
	palette, _ := s.PaletteByID(s.Palette)
	for _, printer := range pigment.Printers() {
		tissue := palette.Layer(printer)
		tissue.Hardening.HoldOnMicron = &micron
		palette = palette.WithLayer(printer, tissue)
	}
	palette.ID = "held"
	s.OwnPalettes, s.Palette = []pigment.Palette{palette}, palette.ID
}
