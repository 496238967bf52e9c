// Package command holds what a user can do to a session, and the history of what was
// done: the session's state is changed here and nowhere else. Each command is a small
// struct; its JSON is what the page sends, such as
//
//	{"do": "palette", "id": "earth"}
//	{"do": "nudgeBy", "printer": "cyan", "dxUm": 10, "gesture": "g12"}
package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync"

	"threeply/proof/session"
	"threeply/proof/strict"
)

// Command is one change of a state by the user.
type Command interface {
	// Apply changes the state. After an error the state is not to be used. Slices of
	// the state are never written to in place, for the history shares them.
	// Whether the state is sound afterwards is for State.Check to say.
	Apply(s *session.State) error
	// Words names what changes, a noun for the undo button.
	Words() string
}

// kinds are the commands by the names that their JSON has.
var kinds = sync.OnceValue(func() map[string]kind {
	return map[string]kind{
		"palette": of[Palette](), "order": of[Order](), "paper": of[Paper](), "finish": of[Finish](), "light": of[Light](),
		"dim": of[Dim](), "limit": of[Limit](), "masked": of[Masked](), "way": of[Way](), "shape": of[Shape](), "expose": of[Expose](), "exposeAll": of[ExposeAll](), "unknowns": of[Unknowns](), "exhibition": of[Exhibition](), "fading": of[Fading](), "sight": of[Sight](), "keepSheet": of[KeepSheet](), "readSheet": of[ReadSheet](), "dropSheet": of[DropSheet](), "route": of[Route](),
		"print": of[PrintWidth](), "viewing": of[ViewingDistance](), "tolerance": of[Tolerance](), "grain": of[Grain](), "bench": of[Bench](),
		"negatives": of[Negatives](), "printingFilm": of[PrintingFilm](), "workshop": of[Workshop](), "wedge": of[Wedge](),
		"section": of[Section](), "title": of[Title](),
		"assign": of[Assign](), "exposures": of[Exposures](), "polarity": of[Polarity](), "gamma": of[Gamma](), "film": of[Film](), "films": of[Films](), "dismissScale": of[DismissScale](),
		"key": of[Key](), "registered": of[Registered](), "place": of[Place](), "centre": of[Centre](), "local": of[Local](), "registerBy": of[RegisterBy](),
		"nudge": of[Nudge](), "nudgeBy": of[NudgeBy](), "resetOffset": of[ResetOffset](), "copyOffset": of[CopyOffset](), "lock": of[Lock](), "hide": of[Hide](),
		"pin": of[Pin](), "propose": of[Propose](), "confirm": of[Confirm](), "unpin": of[Unpin](), "weigh": of[Weigh](),
		"tissue": of[Tissue](), "takePalette": of[TakePalette](), "namePalette": of[NamePalette](), "dropPalette": of[DropPalette](),
		"identify": of[Identify](), "identifyPlate": of[IdentifyPlate](), "note": of[Note](), "editNote": of[EditNote](), "moveNote": of[MoveNote](), "dropNote": of[DropNote](),
		"holdPoint": of[HoldPoint](), "dropPoint": of[DropPoint](),
		"showNoted": of[ShowNoted](), "decide": of[Decide](), "showDecided": of[ShowDecided](), "nameFiles": of[NameFiles](),
		"hold": of[Hold](), "nameHeld": of[NameHeld](), "dropHeld": of[DropHeld](), "takeHeld": of[TakeHeld](),
		"takePaper": of[TakePaper](), "dropPaper": of[DropPaper](),
	}
})

// kind makes commands of one type.
type kind struct {
	typ  reflect.Type
	read func(text []byte, head *Head) (Command, error)
}

func of[C Command]() kind {
	return kind{reflect.TypeFor[C](), func(text []byte, head *Head) (Command, error) {
		var c C
		if err := strict.Read(text, head, &c); err != nil {
			return nil, err
		}
		if f, ok := errors.AsType[*session.Fault](session.CheckLike(c)); ok {
			return nil, fmt.Errorf("“%s”: %w", f.Place, f)
		}
		return c, nil
	}}
}

// Head is what the JSON of every command has beside the command's own fields.
type Head struct {
	Do      string `json:"do"`
	Gesture string `json:"gesture,omitempty"` // see History.Do
}

// Names returns the names of all commands, sorted.
func Names() []string {
	var names []string
	for name := range kinds() {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Type returns the struct behind a command's name, to be looked at by reflection, or
// nil where there is no such command.
func Type(name string) reflect.Type { return kinds()[name].typ }

// NameOf returns the name of a command, "" for a type that is none of this package.
func NameOf(c Command) string {
	for name, k := range kinds() {
		if k.typ == reflect.TypeOf(c) {
			return name
		}
	}
	return ""
}

// MostLetters bounds the name of a gesture.
const MostLetters = 100

// Read reads a command, and the gesture that it belongs to ("" for none), from JSON. An
// error names the field that is wrong: one that is missing or not known, of the wrong
// kind or out of its range. Whether a session takes the command is for History.Do to say.
func Read(text []byte) (c Command, gesture string, err error) {
	var head Head
	if err := (strict.Reader{PassUnknown: true}).Read(text, &head); err != nil {
		return nil, "", fmt.Errorf("this is no command: %w", err)
	}
	k, ok := kinds()[head.Do]
	if !ok {
		return nil, "", fmt.Errorf("there is no command “%.40s”", head.Do)
	}
	if c, err = k.read(text, &head); err != nil {
		return nil, "", fmt.Errorf("the command “%s”: %w", head.Do, err)
	}
	if len(head.Gesture) > MostLetters {
		return nil, "", fmt.Errorf("the command “%s”: the name of its gesture is longer than %d letters", head.Do, MostLetters)
	}
	return c, head.Gesture, nil
}

// Write returns a command as the JSON that Read reads.
func Write(c Command, gesture string) ([]byte, error) {
	head, err := json.Marshal(Head{NameOf(c), gesture})
	if err != nil {
		return nil, err
	}
	own, err := json.Marshal(c)
	if err != nil {
		return nil, err
	}
	if len(own) <= len("{}") {
		return head, nil
	}
	return slices.Concat(head[:len(head)-1], []byte(","), own[1:]), nil
}
