package view

import (
	"threeply/proof/picture"
	"threeply/proof/place"
	"threeply/proof/session"
)

// View is how everything is looked at. The fields with a name in JSON are worth
// coming back to after a reload.
type View struct {
	Station  string `json:"station"`  // the step of the work whose drawer is open, "" for none
	Stack    bool   `json:"stack"`    // the drawing of the stack lies open
	Cut      bool   `json:"cut"`      // beside it the section and the transfers; its line is drawn over the pictures
	Look     string `json:"look"`     // one of Looks
	Tool     string `json:"tool"`     // what the pointer does: "pan", one of Tools
	Layer    string `json:"layer"`    // the printer that the look "layer" shows
	Left     string `json:"left"`     // what stands at the left where two are compared, see sides.go
	Right    string `json:"right"`    // and at the right
	Edges    [2]int `json:"edges"`    // the two printers that the look "edges" compares
	Plates   [2]int `json:"plates"`   // the two printers whose plates "plate" and "turns" show
	Other    string `json:"other"`    // the palette beside the session's in the look "palettes"; see OtherPalette
	Selected string `json:"selected"` // the layer that the tool "nudge" moves, "" for none

	Stage   Stage      `json:"-"`
	Centre  [2]float64 `json:"centre"`  // the key's pixel in the middle of each pane
	Zoom    float64    `json:"zoom"`    // device pixels a pixel of the key
	Fitted  bool       `json:"fitted"`  // Zoom and Centre follow the stage
	Divider float64    `json:"divider"` // of the look "divided": the reference's share of the width
	Paused  bool       `json:"-"`       // of "blink" and "turns": they do not turn by themselves
	Second  bool       `json:"-"`       // of "blink" and "turns": the second picture stands

	Borders bool       `json:"borders"` // the whole key plate is shown, its borders too
	Shown   [4]float64 `json:"-"`       // edges of what is shown, in the key's pixels: x0, y0, x1, y1

	Loupe    Loupe   `json:"loupe"`
	Marking  Marking `json:"marking"`
	Noting   Noting  `json:"noting"`
	Contrast bool    `json:"contrast"` // enlarged plates show the tones that stand in them over the whole scale

	Arrows bool  `json:"arrows"` // what register leaves is drawn in all looks, not in "edges" alone
	Worst  Worst `json:"-"`

	names [2]string // of held prints at the left and the right

	Rule    *[4]float64 `json:"-"` // the line that the tool "scale" draws, points of the stage; nil for none
	From    *[2]float64 `json:"-"` // where a line along a scale begins that is drawn by keys, a pixel of the key; nil for none
	Reading *[2]float64 `json:"-"` // the key's pixel that was read last, nil for none
	Room    bool        `json:"-"` // the pictures alone are shown, with what they are, to a room
	Editing Editing     `json:"-"`
	Board   Board       `json:"board"`
	Filled  Filled      `json:"filled,omitempty"`
	Hue     *float64    `json:"hue,omitempty"` // angle of the cut through the reach, degrees; nil for that of Reading
}

// Stage is the table that the pictures lie on, and what lies over it. Lengths are CSS
// pixels.
type Stage struct {
	W, H    float64
	Ratio   float64 // device pixels a CSS pixel
	Right   float64 // covered by a drawer at the right
	Bottom  float64 // covered by one at the bottom
	Caption float64 // height that a caption takes; leastCaption where it says less
}

// Editing is the tissue whose editor is open, and how often one was asked for: the
// page brings it into view each time.
type Editing struct {
	Printer string `json:"printer"` // "" for none
	Times   int    `json:"times"`
}

// New returns how a newcomer looks at things.
func New() *View {
	return &View{
		Stack: true, Look: "beside", Tool: "pan", Layer: "cyan", Left: SideReference, Right: SidePrint, Edges: [2]int{1, 2}, Plates: [2]int{1, 2},
		Stage: Stage{W: 800, H: 500, Ratio: 1}, Zoom: 1, Fitted: true, Divider: 0.5,
		Loupe: Loupe{Zoom: 4}, Marking: Marking{Zoom: 4}, Board: Board{By: "kind"},
	}
}

// Resize takes the stage's size.
func (v *View) Resize(stage Stage) {
	v.Stage = stage
	v.fit()
}

// NewSet forgets the places of the set of plates before, and shows the one that the
// session is now of as a whole.
func (v *View) NewSet(s *session.State) {
	v.Fitted, v.Reading = true, nil
	v.Follow(s)
	v.fit()
}

// leastShown is the smallest part of the key's width and height that is taken for the
// picture within the borders; less is a mistake of the areas.
const leastShown = 0.4

// Follow takes note that the session has changed: it finds what is shown, the picture
// that all three plates hold within their borders or the whole key plate.
func (v *View) Follow(s *session.State) {
	v.followSides(s)
	w, h := s.Frame()
	whole := [4]float64{-0.5, -0.5, float64(w) - 0.5, float64(h) - 0.5}
	shown := whole
	for i, src := range s.Sources {
		back, ok := place.Register(s, i).Inverse()
		if v.Borders || !ok || src.Area[2] <= src.Area[0] || src.Area[3] <= src.Area[1] {
			continue
		}
		in := picture.Within(back, src.Area)
		shown = [4]float64{max(shown[0], in[0]), max(shown[1], in[1]), min(shown[2], in[2]), min(shown[3], in[3])}
	}
	if shown[2]-shown[0] < leastShown*float64(w) || shown[3]-shown[1] < leastShown*float64(h) {
		shown = whole
	}
	if shown != v.Shown {
		v.Shown = shown
		v.fit()
		v.hold()
	}
}

// open tells whether plates are open.
func open(s *session.State) bool { return s.Sources[0].W > 0 }
