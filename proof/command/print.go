package command

import "threeply/proof/session"

// PrintWidth sets the width of the print, mm.
type PrintWidth struct {
	Width float64 `json:"widthMm" like:"print_width_mm"`
}

func (c PrintWidth) Apply(s *session.State) error { s.PrintWidth = c.Width; return nil }
func (PrintWidth) Words() string                  { return "print width" }

// ViewingDistance sets how far the eye is from the print, mm.
type ViewingDistance struct {
	Distance float64 `json:"mm" like:"viewing_mm"`
}

func (c ViewingDistance) Apply(s *session.State) error { s.ViewingDist = c.Distance; return nil }
func (ViewingDistance) Words() string                  { return "viewing distance" }

// Tolerance sets how far layers may lie apart, µm on the print; 0 stands for what the
// eye can see from the viewing distance.
type Tolerance struct {
	Micron float64 `json:"um" like:"tolerance_um"`
}

func (c Tolerance) Apply(s *session.State) error { s.Tolerance = c.Micron; return nil }
func (Tolerance) Words() string                  { return "tolerance" }

// Grain says which way the paper's grain runs: "upright" or "level".
type Grain struct {
	ID string `json:"id" like:"grain"`
}

func (c Grain) Apply(s *session.State) error { s.Grain = c.ID; return nil }
func (Grain) Words() string                  { return "grain of the paper" }

// Bench chooses the layer that the printmaker lays the others against: "magenta" or "cyan".
type Bench struct {
	Printer string `json:"printer" like:"bench"`
}

func (c Bench) Apply(s *session.State) error { s.Bench = c.Printer; return nil }
func (Bench) Words() string                  { return "layer to register to" }

// Section lays the line of the section, in shares of the key's width and height.
type Section struct {
	X0 float64 `json:"x0" like:"section.x0"`
	Y0 float64 `json:"y0" like:"section.y0"`
	X1 float64 `json:"x1" like:"section.x1"`
	Y1 float64 `json:"y1" like:"section.y1"`
}

func (c Section) Apply(s *session.State) error {
	s.Section = session.Line{X0: c.X0, Y0: c.Y0, X1: c.X1, Y1: c.Y1}
	return nil
}
func (Section) Words() string { return "section line" }

// Title names the session.
type Title struct {
	Text string `json:"text" like:"title"`
}

func (c Title) Apply(s *session.State) error { s.Title = c.Text; return nil }
func (Title) Words() string                  { return "title" }
