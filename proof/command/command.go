// Package command holds what a user can do to a session, and the history of what was
// done: the session's state is changed here and nowhere else.
package command

import (
	"encoding/json"
	"fmt"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/warp"
)

// Command is one change of a state by the user.
type Command struct {
	Do       string   `json:"do"`
	ID       string   `json:"id,omitempty"`
	Printer  string   `json:"printer,omitempty"`
	Filter   string   `json:"filter,omitempty"`
	Order    string   `json:"order,omitempty"`
	Source   int      `json:"source,omitempty"`
	Polarity string   `json:"polarity,omitempty"`
	Text     string   `json:"text,omitempty"`
	Hidden   bool     `json:"hidden,omitempty"`
	Value    float64  `json:"value,omitempty"`
	DX       *float64 `json:"dxUm,omitempty"`
	DY       *float64 `json:"dyUm,omitempty"`
	Turn     *float64 `json:"turnDeg,omitempty"`
	Stretch  *float64 `json:"stretchPct,omitempty"`
	Width    float64  `json:"widthMm,omitempty"`
	Distance float64  `json:"mm,omitempty"`
	Micron   float64  `json:"um,omitempty"`
	X0       float64  `json:"x0,omitempty"`
	Y0       float64  `json:"y0,omitempty"`
	X1       float64  `json:"x1,omitempty"`
	Y1       float64  `json:"y1,omitempty"`

	On     bool     `json:"on,omitempty"`
	From   string   `json:"from,omitempty"` // the printer that an offset is copied from
	N      int      `json:"n,omitempty"`    // number of a mark
	Across *float64 `json:"acrossPct,omitempty"`

	Tissue  *pigment.Tissue  `json:"tissue,omitempty"`
	Palette *pigment.Palette `json:"palette,omitempty"`
	Paper   *stack.Paper     `json:"paper,omitempty"`
	Spread  *spread.Limits   `json:"spread,omitempty"`
	Pin     *session.Pin     `json:"pin,omitempty"`
	Pins    [3]session.Pin   `json:"pins,omitzero"` // of "propose", by source; those not set stay
	Pose    *session.Pose    `json:"pose,omitempty"`

	Found    [3]session.Found `json:"-"` // of "registered", from the register itself
	Local    [3]warp.Local    `json:"-"`
	Outvoted [3]float64       `json:"-"`
	Tones    [3]float64       `json:"-"`
}

type kind struct {
	what  string // for the undo button, a noun
	fold  bool   // repeated in one gesture, it is one step of undo
	apply func(c Command, s *session.State) error
}

var kinds = map[string]kind{
	"palette":   {what: "palette", apply: func(c Command, s *session.State) error { s.Palette = c.ID; return nil }},
	"order":     {what: "order of the layers", apply: func(c Command, s *session.State) error { s.Order = c.Order; return nil }},
	"light":     {what: "light", apply: func(c Command, s *session.State) error { s.Light = c.ID; return nil }},
	"paper":     {what: "paper", apply: func(c Command, s *session.State) error { s.Paper = c.ID; return nil }},
	"finish":    {what: "finish", apply: func(c Command, s *session.State) error { s.Finish = c.ID; return nil }},
	"route":     {what: "route", apply: func(c Command, s *session.State) error { s.Route = c.ID; return nil }},
	"key":       {what: "key", apply: func(c Command, s *session.State) error { s.Key = c.Filter; return nil }},
	"title":     {what: "title", apply: func(c Command, s *session.State) error { s.Title = c.Text; return nil }},
	"print":     {what: "print width", apply: func(c Command, s *session.State) error { s.PrintWidth = c.Width; return nil }},
	"viewing":   {what: "viewing distance", apply: func(c Command, s *session.State) error { s.ViewingDist = c.Distance; return nil }},
	"tolerance": {what: "tolerance", apply: func(c Command, s *session.State) error { s.Tolerance = c.Micron; return nil }},
	"section": {what: "section line", fold: true, apply: func(c Command, s *session.State) error {
		s.Section = session.Line{X0: c.X0, Y0: c.Y0, X1: c.X1, Y1: c.Y1}
		return nil
	}},
	"hide":        {what: "hidden layer", apply: hide},
	"nudge":       {what: "offset", apply: nudge},
	"nudgeBy":     {what: "offset", fold: true, apply: nudgeBy},
	"resetOffset": {what: "offset", apply: resetOffset},
	"assign":      {what: "plates", apply: assign},
	"exposures":   {what: "plates", apply: exposures},
	"polarity":    {what: "negative or positive", apply: polarity},
	"gamma":       {what: "film contrast", apply: gamma},
	"registered":  {what: "register", apply: registered},
	"place":       {what: "place of a plate", fold: true, apply: placeByHand},
	"local":       {what: "local register", apply: switchLocal},
	"lock":        {what: "lock", apply: lock},
	"copyOffset":  {what: "offset", apply: copyOffset},
	"grain":       {what: "grain of the paper", apply: func(c Command, s *session.State) error { s.Grain = c.ID; return nil }},
	"bench":       {what: "layer to register to", apply: func(c Command, s *session.State) error { s.Bench = c.Printer; return nil }},
	"pin":         {what: "mark", fold: true, apply: pin},
	"propose":     {what: "proposed places", apply: propose},
	"confirm":     {what: "confirmed mark", apply: confirm},
	"unpin":       {what: "mark", apply: unpin},
	"weigh":       {what: "weight of a mark", apply: weigh},
	"registerBy":  {what: "way of registering", apply: registerBy},
	"tissue":      {what: "tissue", fold: true, apply: changeTissue},
	"takePalette": {what: "palette", apply: takePalette},
	"namePalette": {what: "name of the palette", apply: namePalette},
	"dropPalette": {what: "palette", apply: dropPalette},
	"takePaper":   {what: "paper", apply: takePaper},
	"dropPaper":   {what: "paper", apply: dropPaper},
	"dim":         {what: "room", apply: func(c Command, s *session.State) error { s.Dim = c.On; return nil }},
	"limit":       {what: "thickest layer", fold: true, apply: func(c Command, s *session.State) error { s.Limit = c.Value; return nil }},
	"masked":      {what: "way of printing", apply: func(c Command, s *session.State) error { s.Masked = c.On; return nil }},
	"spread":      {what: "spreads", apply: spreads},
}

// Read reads a command from JSON. Whether the state takes it is said by Do.
func Read(text []byte) (Command, error) {
	var c Command
	if err := json.Unmarshal(text, &c); err != nil {
		return Command{}, fmt.Errorf("not a command: %v", err)
	}
	return c, nil
}

// Words names the command's effect, for the undo button.
func (c Command) Words() string { return kinds[c.Do].what }

func (c Command) gesture() string {
	if !kinds[c.Do].fold {
		return ""
	}
	return fmt.Sprint(c.Do, " ", c.Printer, c.Source, " ", c.N)
}

func (c Command) apply(s *session.State) error {
	k, ok := kinds[c.Do]
	if !ok {
		return fmt.Errorf("no command “%s”", c.Do)
	}
	if err := k.apply(c, s); err != nil {
		return err
	}
	return s.Check()
}

func (c Command) layer() (pigment.Printer, error) {
	for p := range pigment.Printer(3) {
		if p.String() == c.Printer {
			return p, nil
		}
	}
	return 0, fmt.Errorf("no layer “%s”: there are yellow, magenta and cyan", c.Printer)
}

func hide(c Command, s *session.State) error {
	p, err := c.layer()
	if err == nil {
		s.Hidden[p] = c.Hidden
	}
	return err
}
