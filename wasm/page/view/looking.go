package view

import (
	"encoding/json"
	"fmt"
	"slices"

	"threeply/proof/session"
)

// What the controls and the pictures as a whole are changed by.
type (
	// GoToStation opens the drawer of a step of the work; "" closes it.
	GoToStation struct {
		ID string `json:"id"`
	}
	// ShowStack opens the drawing of the stack, or closes it.
	ShowStack struct {
		On bool `json:"on"`
	}
	// ShowCut opens the section and the transfers beside it, or closes them.
	ShowCut struct {
		On bool `json:"on"`
	}
	// EditTissue opens the editor of a printer's tissue; "" closes it.
	EditTissue struct {
		Printer string `json:"printer"`
	}
	// ShowRoom leaves the pictures, what they are and the points alone, for a room that
	// looks on; off brings the controls back.
	ShowRoom struct {
		On bool `json:"on"`
	}
	// SelectLayer takes a layer up to be nudged; "" lets go.
	SelectLayer struct {
		Printer string `json:"printer"`
	}
	// TakeTool says what the pointer does.
	TakeTool struct {
		ID string `json:"id"`
	}
	// TakeLook changes the way of looking.
	TakeLook struct {
		ID string `json:"id"`
	}
	// Blink shows the other picture of the looks "blink" and "turns".
	Blink struct{}
	// Pause has the pictures of "blink" and "turns" stand, or turn by themselves again.
	Pause struct {
		On bool `json:"on"`
	}
	// ShowLayer is the layer that the look "layer" shows.
	ShowLayer struct {
		ID string `json:"id"`
	}
	// ShowOther is the palette that the look "palettes" shows beside the session's.
	ShowOther struct {
		ID string `json:"id"`
	}
	// CompareEdges are the two printers of the look "edges", 0 to 2.
	CompareEdges pair
	// ComparePlates are the two printers whose plates the looks "plate" and "turns" show.
	ComparePlates pair
	// ShowBorders shows the whole key plate, or, hidden, the picture within the borders.
	ShowBorders struct {
		Hidden bool `json:"hidden,omitempty"`
	}
	// ShowArrows draws what register leaves in every look.
	ShowArrows struct {
		Hidden bool `json:"hidden,omitempty"`
	}
	// SetContrast draws enlarged plates in full contrast.
	SetContrast struct {
		On bool `json:"on"`
	}
	// DrawRule shows the line that the tool "scale" draws, between two points of the
	// stage.
	DrawRule struct {
		X0     float64 `json:"x0,omitempty"`
		Y0     float64 `json:"y0,omitempty"`
		X1     float64 `json:"x1,omitempty"`
		Y1     float64 `json:"y1,omitempty"`
		Hidden bool    `json:"hidden,omitempty"`
	}
	// SortBoard sorts the board of all palettes, On with the largest first.
	SortBoard struct {
		ID string `json:"id"`
		On bool   `json:"on,omitempty"`
	}
	// TurnHue turns the cut through the reach to an angle in degrees; null has it follow
	// the point that is read.
	TurnHue struct {
		Degrees json.RawMessage `json:"degrees"`
	}
)

type pair struct {
	First  int `json:"first"`
	Second int `json:"second"`
}

// Stations are the steps of the work.
var Stations = []string{"plates", "register", "tissues", "proof", "review", "sheets", "points"}

func (c GoToStation) apply(v *View, _ Subject) error {
	if !isStation(c.ID) {
		return fmt.Errorf("no station “%s”", c.ID)
	}
	if c.ID != v.Station && ofKey(v.Tool) { // elsewhere a click is not meant for greys or notes
		v.Tool, v.Rule, v.From = "pan", nil, nil
	}
	v.Station = c.ID
	return nil
}

func isStation(id string) bool { return id == "" || slices.Contains(Stations, id) }

func (c ShowStack) apply(v *View, _ Subject) error {
	v.Stack = c.On
	if !c.On {
		v.hideCut()
	}
	return nil
}

func (c ShowCut) apply(v *View, _ Subject) error {
	v.Stack = v.Stack || c.On
	if v.Cut = c.On; !c.On {
		v.hideCut()
	}
	return nil
}

func (c ShowRoom) apply(v *View, _ Subject) error {
	v.Room = c.On
	return nil
}

// hideCut closes the section; a click no longer lays its line.
func (v *View) hideCut() {
	v.Cut = false
	if v.Tool == "line" {
		v.Tool = "pan"
	}
}

// Editing goes to the station of the tissues, but for one who is registering: there a
// layer is chosen to be nudged, and its editor waits.
func (c EditTissue) apply(v *View, _ Subject) error {
	if c.Printer != "" {
		if _, err := layerIndex(c.Printer); err != nil {
			return err
		}
		v.Editing.Times++
		if v.Station != "register" {
			v.Station = "tissues"
		}
	}
	v.Editing.Printer = c.Printer
	return nil
}

func (c SelectLayer) apply(v *View, _ Subject) error {
	if c.Printer != "" {
		if _, err := layerIndex(c.Printer); err != nil {
			return err
		}
	}
	v.Selected = c.Printer
	return nil
}

// Tools are what the pointer can do.
var Tools = []string{"pan", "nudge", "line", "pin", "grey", "scale", "note"}

func (c TakeTool) apply(v *View, on Subject) error {
	if !slices.Contains(Tools, c.ID) {
		return fmt.Errorf("no tool “%s”", c.ID)
	}
	if c.ID == "pin" && v.Look != "marks" {
		v.turnTo("marks", on.State) // which takes the tool
		return nil
	}
	if ofKey(c.ID) && (v.Look == "marks" || v.Look == "board") { // places of the key are not seen there
		v.turnTo("beside", on.State)
	}
	if c.ID == "line" {
		v.Stack, v.Cut = true, true
	}
	v.Tool, v.From = c.ID, nil
	return nil
}

// ofGreys tells the tools that point at greys of the scene.
func ofGreys(tool string) bool { return tool == "grey" || tool == "scale" }

// ofKey tells the tools that point at places of the key.
func ofKey(tool string) bool { return ofGreys(tool) || tool == "note" }

func (c TakeLook) apply(v *View, on Subject) error {
	if !isLook(c.ID) {
		return fmt.Errorf("no way of looking “%s”", c.ID)
	}
	v.turnTo(c.ID, on.State)
	return nil
}

func (c Pause) apply(v *View, _ Subject) error {
	v.Paused = c.On
	return nil
}

func (Blink) apply(v *View, _ Subject) error {
	v.Second = !v.Second
	return nil
}

func (c ShowLayer) apply(v *View, _ Subject) error {
	_, err := layerIndex(c.ID)
	if err == nil {
		v.Layer = c.ID
	}
	return err
}

func (c ShowOther) apply(v *View, on Subject) error {
	if _, ok := on.PaletteByID(c.ID); !ok {
		return fmt.Errorf("there is no palette “%.40s”", c.ID)
	}
	v.Other = c.ID
	return nil
}

// OtherPalette is the palette that the look "palettes" shows beside the session's: the
// one that was asked for, or else the first of another era, historic beside modern.
func (v *View) OtherPalette(s *session.State) string {
	if _, ok := s.PaletteByID(v.Other); ok && v.Other != s.Palette {
		return v.Other
	}
	own, _ := s.PaletteByID(s.Palette)
	for _, p := range s.Palettes() {
		if p.Era != own.Era && p.ID != own.ID {
			return p.ID
		}
	}
	return ""
}

func (p pair) put(into *[2]int) error {
	both := [2]int{p.First, p.Second}
	if !isPair(both) {
		return fmt.Errorf("two of the layers 0 to 2 are needed, not %d and %d", p.First, p.Second)
	}
	*into = both
	return nil
}

func (c CompareEdges) apply(v *View, _ Subject) error  { return pair(c).put(&v.Edges) }
func (c ComparePlates) apply(v *View, _ Subject) error { return pair(c).put(&v.Plates) }

func (c ShowBorders) apply(v *View, on Subject) error {
	v.Borders = !c.Hidden
	v.Follow(on.State)
	return nil
}

func (c ShowArrows) apply(v *View, _ Subject) error {
	v.Arrows = !c.Hidden
	return nil
}

func (c SetContrast) apply(v *View, _ Subject) error {
	v.Contrast = c.On
	return nil
}

func (c DrawRule) apply(v *View, _ Subject) error {
	v.Rule = &[4]float64{c.X0, c.Y0, c.X1, c.Y1}
	if c.Hidden {
		v.Rule = nil
	}
	return nil
}

func (c SortBoard) apply(v *View, _ Subject) error { return v.Board.sort(c.ID, c.On) }

func (c TurnHue) apply(v *View, _ Subject) error {
	var degrees *float64
	if err := json.Unmarshal(c.Degrees, &degrees); err != nil {
		return fmt.Errorf("a hue is a number of degrees or null, not %s", c.Degrees)
	}
	if degrees != nil {
		*degrees = turn(*degrees)
	}
	v.Hue = degrees
	return nil
}
