package session

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/register"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/transfer"
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
	Pin     *Pin             `json:"pin,omitempty"`
	Pins    [3]Pin           `json:"pins,omitzero"` // of "propose", by source; those not set stay
	Pose    *Pose            `json:"pose,omitempty"`

	Found    [3]Found          `json:"-"` // of "registered", from the register itself
	Local    [3]register.Local `json:"-"`
	Outvoted [3]float64        `json:"-"`
	Tones    [3]float64        `json:"-"`
}

type kind struct {
	what  string // for the undo button, a noun
	fold  bool   // repeated in one gesture, it is one step of undo
	apply func(c Command, s *State) error
}

var kinds = map[string]kind{
	"palette":     {what: "palette", apply: func(c Command, s *State) error { s.Palette = c.ID; return nil }},
	"order":       {what: "order of the layers", apply: func(c Command, s *State) error { s.Order = c.Order; return nil }},
	"light":       {what: "light", apply: func(c Command, s *State) error { s.Light = c.ID; return nil }},
	"paper":       {what: "paper", apply: func(c Command, s *State) error { s.Paper = c.ID; return nil }},
	"finish":      {what: "finish", apply: func(c Command, s *State) error { s.Finish = c.ID; return nil }},
	"route":       {what: "route", apply: func(c Command, s *State) error { s.Route = c.ID; return nil }},
	"key":         {what: "key", apply: func(c Command, s *State) error { s.Key = c.Filter; return nil }},
	"title":       {what: "title", apply: func(c Command, s *State) error { s.Title = c.Text; return nil }},
	"print":       {what: "print width", apply: func(c Command, s *State) error { s.PrintWidth = c.Width; return nil }},
	"viewing":     {what: "viewing distance", apply: func(c Command, s *State) error { s.ViewingDist = c.Distance; return nil }},
	"tolerance":   {what: "tolerance", apply: func(c Command, s *State) error { s.Tolerance = c.Micron; return nil }},
	"section":     {what: "section line", fold: true, apply: func(c Command, s *State) error { s.Section = Line{c.X0, c.Y0, c.X1, c.Y1}; return nil }},
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
	"grain":       {what: "grain of the paper", apply: func(c Command, s *State) error { s.Grain = c.ID; return nil }},
	"bench":       {what: "layer to register to", apply: func(c Command, s *State) error { s.Bench = c.Printer; return nil }},
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
	"dim":         {what: "room", apply: func(c Command, s *State) error { s.Dim = c.On; return nil }},
	"limit":       {what: "thickest layer", fold: true, apply: func(c Command, s *State) error { s.Limit = c.Value; return nil }},
	"masked":      {what: "way of printing", apply: func(c Command, s *State) error { s.Masked = c.On; return nil }},
	"spread":      {what: "spreads", apply: spreads},
}

// Parse reads a command from JSON. Whether the state takes it is said by Do.
func Parse(text []byte) (Command, error) {
	var c Command
	if err := json.Unmarshal(text, &c); err != nil {
		return Command{}, fmt.Errorf("not a command: %v", err)
	}
	return c, nil
}

// What names the command's effect, for the undo button.
func (c Command) What() string { return kinds[c.Do].what }

func (c Command) gesture() string {
	if !kinds[c.Do].fold {
		return ""
	}
	return fmt.Sprint(c.Do, " ", c.Printer, c.Source, " ", c.N)
}

func (c Command) apply(s *State) error {
	k, ok := kinds[c.Do]
	if !ok {
		return fmt.Errorf("no command “%s”", c.Do)
	}
	if err := k.apply(c, s); err != nil {
		return err
	}
	return s.check()
}

func (c Command) layer() (pigment.Printer, error) {
	for p := range pigment.Printer(3) {
		if p.String() == c.Printer {
			return p, nil
		}
	}
	return 0, fmt.Errorf("no layer “%s”: there are yellow, magenta and cyan", c.Printer)
}

func hide(c Command, s *State) error {
	p, err := c.layer()
	if err == nil {
		s.Hidden[p] = c.Hidden
	}
	return err
}

// nudge sets the fields that the command names, nudgeBy adds to them.
func nudge(c Command, s *State) error {
	return c.move(s, func(field *float64, v float64) { *field = v })
}

func nudgeBy(c Command, s *State) error {
	return c.move(s, func(field *float64, v float64) { *field += v })
}

func (c Command) move(s *State, change func(field *float64, v float64)) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	o := &s.Offsets[p]
	for field, v := range map[*float64]*float64{&o.DX: c.DX, &o.DY: c.DY, &o.Turn: c.Turn, &o.Stretch: c.Stretch, &o.Across: c.Across} {
		if v != nil {
			change(field, *v)
		}
	}
	return nil
}

func resetOffset(c Command, s *State) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	s.Offsets[p] = Offset{}
	return nil
}

// assign gives a filter another source; the plate that had it takes the
// filter's old one.
func assign(c Command, s *State) error {
	f := FilterIndex(c.Filter)
	if f < 0 || c.Source < 0 || c.Source > 2 {
		return fmt.Errorf("no plate “%s” or no source %d", c.Filter, c.Source)
	}
	other := slices.Index(s.Assign[:], c.Source)
	s.Assign[f], s.Assign[other] = s.Assign[other], s.Assign[f]
	return nil
}

// exposures says which exposure of a tall file is which plate: an order of r, g
// and b from the top.
func exposures(c Command, s *State) error {
	var of [3]int
	for i, filter := range "rgb" {
		of[i] = strings.IndexRune(c.Order, filter)
	}
	if len(c.Order) != 3 || slices.Min(of[:]) < 0 {
		return fmt.Errorf("no order “%s” of the exposures: give r, g and b from the top, such as bgr", c.Order)
	}
	s.Assign = of
	return nil
}

// polarity turns a film over: what was its white becomes its black.
func polarity(c Command, s *State) error {
	if c.Source < 0 || c.Source > 2 || (c.Polarity != "negative" && c.Polarity != "positive") {
		return fmt.Errorf("source %d cannot be “%s”: there are negative and positive", c.Source, c.Polarity)
	}
	s.Split = false
	f := &s.Sources[c.Source].Film
	if negative := c.Polarity == "negative"; negative != f.Negative {
		f.Negative = negative
		f.White, f.Black = f.Black, f.White
		f.Gamma = DefaultGamma(negative)
		s.Sources[c.Source].Overruled = !s.Sources[c.Source].Overruled
	}
	return nil
}

// DefaultGamma is the slope that a film is given until it is known: 0.8 is the
// middle of what separation negatives were developed to (0.7 … 0.9, from
// memory); a positive scan is taken as light.
func DefaultGamma(negative bool) float64 {
	if negative {
		return 0.8
	}
	return 1
}

func gamma(c Command, s *State) error {
	if c.Source < 0 || c.Source > 2 {
		return fmt.Errorf("no source %d", c.Source)
	}
	s.Sources[c.Source].Film.Gamma = c.Value
	return nil
}

func registered(c Command, s *State) error {
	s.Found, s.Local, s.Registered = c.Found, c.Local, "auto"
	s.Outvoted, s.Tones = c.Outvoted, c.Tones
	return nil
}

func spreads(c Command, s *State) error {
	if c.Spread == nil {
		return fmt.Errorf("no spreads are given")
	}
	s.Spread = *c.Spread
	return nil
}

// check holds a state to what the rest of the program relies on.
func (s *State) check() error {
	if err := s.checkOwn(); err != nil {
		return err
	}
	if _, ok := s.PaletteByID(s.Palette); !ok {
		return fmt.Errorf("no palette “%s”", s.Palette)
	}
	if _, err := stack.ParseOrder(s.Order); err != nil {
		return err
	}
	if _, ok := s.PaperByID(s.Paper); !ok {
		return fmt.Errorf("no paper “%s”", s.Paper)
	}
	if _, ok := stack.FinishByID(s.Finish); !ok {
		return fmt.Errorf("no finish “%s”", s.Finish)
	}
	if _, ok := spectrum.LightByID(s.Light); !ok {
		return fmt.Errorf("no light “%s”", s.Light)
	}
	if _, ok := transfer.RouteByID(s.Route); !ok {
		return fmt.Errorf("no route “%s”", s.Route)
	}
	if FilterIndex(s.Key) < 0 {
		return fmt.Errorf("no plate “%s” to be the key", s.Key)
	}
	seen := [3]bool{}
	for _, a := range s.Assign {
		if a < 0 || a > 2 || seen[a] {
			return fmt.Errorf("the three plates need three different sources, not %v", s.Assign)
		}
		seen[a] = true
	}
	if s.Grain != "upright" && s.Grain != "level" {
		return fmt.Errorf("the grain cannot run “%s”: there are upright and level", s.Grain)
	}
	if s.Bench != "magenta" && s.Bench != "cyan" {
		return fmt.Errorf("nobody can lay layers against %s: it is too faint to be seen; there are magenta and cyan", s.Bench)
	}
	if err := s.checkMarks(); err != nil {
		return err
	}
	return s.checkRanges()
}

func (s *State) checkRanges() error {
	if err := s.checkLengths(); err != nil {
		return err
	}
	if !within(s.Limit, 0.2, cube.Max) {
		return fmt.Errorf("layers up to %g of their coat: 0.2 to %g can be set", s.Limit, cube.Max)
	}
	for i, o := range s.Offsets {
		name := pigment.Printer(i)
		if limit := s.PrintWidth * 1000; !within(o.DX, -limit, limit) || !within(o.DY, -limit, limit) {
			return fmt.Errorf("%s would lie off the print", name)
		}
		if !within(o.Turn, -45, 45) || !within(o.Stretch, -20, 20) || !within(o.Across, -20, 20) {
			return fmt.Errorf("%s turned by %g° and stretched by %g %%, %g %% across the grain: up to 45° and 20 %% can be set", name, o.Turn, o.Stretch, o.Across)
		}
	}
	for _, src := range s.Sources {
		if src.File != "" && !within(src.Film.Gamma, 0.2, 5) {
			return fmt.Errorf("%s: a film contrast (γ) of %g: 0.2 to 5 can be set", src.File, src.Film.Gamma)
		}
	}
	for i := range s.Local {
		if l := &s.Local[i]; l.W != 0 && l.Folds() {
			return fmt.Errorf("a local register of %s that folds the picture", s.Sources[i].File)
		}
	}
	for _, f := range s.Found {
		if _, ok := f.Matrix.Inverse(); !ok {
			return fmt.Errorf("a register matrix that cannot be undone: %v", f.Matrix)
		}
	}
	l := s.Section
	if !within(l.X0, 0, 1) || !within(l.X1, 0, 1) || !within(l.Y0, 0, 1) || !within(l.Y1, 0, 1) || math.Hypot(l.X1-l.X0, l.Y1-l.Y0) < 0.01 {
		return fmt.Errorf("the section's line must lie on the picture and be longer than a hundredth of it")
	}
	return nil
}

// within is false for a NaN.
func within(v, low, high float64) bool { return v >= low && v <= high }
