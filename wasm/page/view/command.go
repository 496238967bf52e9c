package view

import (
	"fmt"
	"maps"
	"reflect"
	"slices"

	"threeply/proof/session"
	"threeply/proof/strict"
)

// Command is one change of how things are looked at. In JSON it names itself as "do";
// everything else is its fields.
type Command interface {
	apply(v *View, on Subject) error
}

// Subject is what is looked at.
type Subject struct {
	*session.State
	Residual *Residual // what the last register left
}

// Do carries a command out. On an error nothing has changed.
func (v *View) Do(c Command, on Subject) error { return c.apply(v, on) }

// kinds are the commands by the names that their JSON has.
var kinds = map[string]kind{
	"station": of[GoToStation](), "stack": of[ShowStack](), "cut": of[ShowCut](), "edit": of[EditTissue](), "select": of[SelectLayer](), "tool": of[TakeTool](),
	"look": of[TakeLook](), "side": of[PutSide](), "blink": of[Blink](), "pause": of[Pause](), "layer": of[ShowLayer](), "other": of[ShowOther](), "edges": of[CompareEdges](), "plates": of[ComparePlates](),
	"divider": of[MoveDivider](), "zoom": of[Zoom](), "pan": of[Pan](), "whole": of[ShowBorders](),
	"left": of[ShowArrows](), "worst": of[GoToWorst](), "point": of[ReadColours](), "goToPoint": of[GoToPoint](), "room": of[ShowRoom](),
	"loupe": of[SetLoupe](), "hover": of[Hover](), "contrast": of[SetContrast](), "rule": of[DrawRule](), "together": of[SetTogether](),
	"markChoose": of[ChooseMark](), "markPlate": of[NextPlate](), "markNext": of[NextMark](), "markGo": of[GoToMark](),
	"noteChoose": of[ChooseNote](), "noteGo": of[GoToNote](), "notesList": of[ListNotes](),
	"sort": of[SortBoard](), "hue": of[TurnHue](), "fill": of[Fill](),
}

// kind makes commands of one type.
type kind struct {
	typ  reflect.Type
	read func(text []byte) (Command, error)
}

func of[C Command]() kind {
	return kind{reflect.TypeFor[C](), func(text []byte) (Command, error) {
		var c C
		err := strict.Read(text, &Head{}, &c)
		return c, err
	}}
}

// Head is what the JSON of every command has beside the command's own fields.
type Head struct {
	Do string `json:"do"`
}

// Names returns the names of all commands, sorted.
func Names() []string { return slices.Sorted(maps.Keys(kinds)) }

// Type returns the struct behind a command's name, to be looked at by reflection, or nil
// where there is no such command.
func Type(name string) reflect.Type { return kinds[name].typ }

// Knows tells whether a name is that of one of the package's commands.
func Knows(name string) bool { return kinds[name].read != nil }

// ReadCommand reads a command from JSON, to the letter. An error names the field that is
// wrong.
func ReadCommand(text []byte) (Command, error) {
	var h Head
	if err := (strict.Reader{PassUnknown: true}).Read(text, &h); err != nil {
		return nil, fmt.Errorf("this is no command: %w", err)
	}
	k, ok := kinds[h.Do]
	if !ok {
		return nil, fmt.Errorf("there is no command “%.40s”", h.Do)
	}
	c, err := k.read(text)
	if err != nil {
		return nil, fmt.Errorf("the command “%s”: %w", h.Do, err)
	}
	return c, nil
}

// point is a point of the stage that may be left out.
type point struct {
	X *float64 `json:"x,omitempty"`
	Y *float64 `json:"y,omitempty"`
}

func (p point) given() bool { return p.X != nil && p.Y != nil }

func layerIndex(name string) (int, error) {
	for i, n := range layerNames {
		if n == name {
			return i, nil
		}
	}
	return 0, fmt.Errorf("no layer “%s”: there are yellow, magenta and cyan", name)
}
