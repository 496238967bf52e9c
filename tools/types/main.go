// Types writes what the scripts of the page send to its programs and read from them, as
// declarations of TypeScript: web/types/*.d.ts, but for those there that are kept by hand.
//
//	go run ./tools/types
//
// The declarations are committed; a test fails where they are stale.
package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"

	"threeply/proof/audit"
	"threeply/proof/command"
	"threeply/proof/desk"
	"threeply/proof/figures"
	"threeply/proof/fit"
	"threeply/proof/picture"
	"threeply/wasm/page/app"
	"threeply/wasm/page/model"
	"threeply/wasm/page/view"
)

func main() {
	if err := write(filepath.Join("web", "types")); err != nil {
		fmt.Fprintln(os.Stderr, "types:", err)
		os.Exit(1)
	}
}

func write(folder string) error {
	if _, err := os.Stat(folder); err != nil {
		return fmt.Errorf("run it from the top of the checkout: %w", err)
	}
	files, err := declared()
	if err != nil {
		return err
	}
	for name, text := range files {
		err = errors.Join(err, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	return err
}

const head = "// Written by go run ./tools/types from the program; do not edit.\n"

// declared gives the text of each file by its name.
func declared() (map[string]string, error) {
	commands := &declarations{}
	text := "\n/** What the user does: to the session, to how it is looked at, and what needs both. */\n" +
		"export type Command = SessionCommand | ViewCommand | PageCommand;\n"
	text += commands.union("SessionCommand", command.Head{}, command.Names(), each(command.Names(), command.Type))
	text += commands.union("ViewCommand", view.Head{}, view.Names(), each(view.Names(), view.Type))
	text += commands.union("PageCommand", command.Head{}, app.Names(), each(app.Names(), app.Type))
	text += commands.used()

	outside := &declarations{}
	names, values := desk.Hears()
	told := "\n/** What the desk is told. */" + outside.union("Heard", view.Head{}, names, types(values))
	names, values = desk.AllOrders()
	told += "\n/** What the desk wants done. */" + outside.union("Order", view.Head{}, names, within("with", types(values)))
	told += outside.used()

	figured := &declarations{}
	figures := figured.declare(figures.Figures{}, figures.Sureness{}, picture.MaskTrial{}, picture.WayTrial{})

	audited := &declarations{}
	audits := audited.declare(audit.Audit{})

	fitted := &declarations{}
	fits := fitted.declare(fit.Shown{})

	shown := &declarations{lists: map[string][]string{
		"look": looks(), "tool": view.Tools, "station": append([]string{""}, view.Stations...),
	}}
	model := shown.declare(model.Model{}, app.PigmentFacts{})

	return map[string]string{
		"audit.d.ts": head + audits, "command.d.ts": head + text, "desk.d.ts": head + told, "figures.d.ts": head + figures, "fit.d.ts": head + fits, "model.d.ts": head + model,
	}, errors.Join(slices.Concat(audited.errs, fitted.errs, commands.errs, outside.errs, figured.errs, shown.errs)...)
}

// each gives the type behind each name.
func each(names []string, typeOf func(string) reflect.Type) []reflect.Type {
	var out []reflect.Type
	for _, name := range names {
		out = append(out, typeOf(name))
	}
	return out
}

// types gives the type of each value.
func types(values []any) []reflect.Type {
	var out []reflect.Type
	for _, v := range values {
		out = append(out, reflect.TypeOf(v))
	}
	return out
}

// within gives for each type that of an object that has it as a property.
func within(property string, inner []reflect.Type) []reflect.Type {
	var out []reflect.Type
	for _, t := range inner {
		field := reflect.StructField{Name: "Inner", Type: t, Tag: reflect.StructTag(fmt.Sprintf("json:%q", property))}
		out = append(out, reflect.StructOf([]reflect.StructField{field}))
	}
	return out
}

func looks() []string {
	var ids []string
	for _, look := range view.Looks {
		ids = append(ids, look.ID)
	}
	return ids
}
