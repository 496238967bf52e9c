package app

import (
	"fmt"
	"maps"
	"reflect"
	"slices"

	"threeply/proof/command"
	"threeply/proof/strict"
)

// kinds are the commands of this package, by the names that their JSON has: those that
// need more than the session or the view alone.
var kinds = map[string]kind{
	"undo": of[Undo](), "redo": of[Redo](),
	"pinAt": of[PinAt](), "pinHere": of[PinHere](), "pinBy": of[PinBy](),
	"greyAt": of[GreyAt](), "scaleAt": of[ScaleAt](), "scaleHere": of[ScaleHere](),
	"noteAt": of[NoteAt](), "noteHere": of[NoteHere](),
	"pointAt": of[PointAt](), "holdBefore": of[HoldBefore](),
}

// kind carries out commands of one type.
type kind struct {
	typ reflect.Type
	do  func(a *App, text []byte) error
}

func of[C interface {
	do(a *App, gesture string) error
}]() kind {
	return kind{reflect.TypeFor[C](), func(a *App, text []byte) error {
		var head command.Head
		var c C
		if err := strict.Read(text, &head, &c); err != nil {
			return fmt.Errorf("the command “%s”: %w", head.Do, err)
		}
		return c.do(a, head.Gesture)
	}}
}

// Names returns the names of the package's commands, sorted.
func Names() []string { return slices.Sorted(maps.Keys(kinds)) }

// Type returns the struct behind a command's name, to be looked at by reflection, or nil
// where there is no such command.
func Type(name string) reflect.Type { return kinds[name].typ }

type (
	// Undo goes a step back in the history.
	Undo struct{}
	// Redo goes a step forth again.
	Redo struct{}
)

func (Undo) do(a *App, _ string) error { return a.goBy(-1) }
func (Redo) do(a *App, _ string) error { return a.goBy(1) }

// goBy goes steps back or forth: in the open document by the desk, for plates may have to
// be read first.
func (a *App) goBy(steps int) error {
	goBy := a.Go
	if a.doc != nil {
		goBy = a.Desk.Go
	}
	if err := goBy(steps); err != nil {
		return err
	}
	return a.update()
}
