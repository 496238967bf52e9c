package schema

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
	"threeply/proof/strict"
)

var update = flag.Bool("update", false, "write the schemas anew: where a type, a range or a choice was changed on purpose")

const draft = "https://json-schema.org/draft/2020-12/schema"

// of is the schema of a type that stands at a place of a session, or, where known is
// false, elsewhere.
func of(t reflect.Type, place string, known bool) map[string]any {
	switch t.Kind() {
	case reflect.Pointer:
		return of(t.Elem(), place, known)
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Float64:
		return number(t.Kind() == reflect.Int, place, known)
	case reflect.String:
		if c, ok := session.Choices()[place]; ok && known {
			return map[string]any{"enum": c.Of}
		}
		s := map[string]any{"type": "string", "maxLength": session.LettersAt(place)}
		if place == "sources.sha256" {
			s["anyOf"] = []any{map[string]any{"const": ""}, map[string]any{"pattern": session.HashPattern}}
		}
		return s
	case reflect.Array:
		return map[string]any{"type": "array", "items": of(t.Elem(), place, known), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Slice:
		list := map[string]any{"type": "array", "items": of(t.Elem(), place, known)}
		if most, ok := map[string]int{"marks": session.MostMarks, "own_palettes": session.MostOwn, "own_papers": session.MostOwn, "notes": session.MostNotes}[place]; ok {
			list["maxItems"] = most
		}
		return list
	}
	properties, required := map[string]any{}, []string{}
	for _, f := range strict.Fields(t) {
		at, fieldKnown := session.PlaceOf(f, place, known)
		properties[f.Name] = of(f.Type, at, fieldKnown)
		if !f.Optional {
			required = append(required, f.Name)
		}
	}
	return map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

func number(whole bool, place string, known bool) map[string]any {
	n := map[string]any{"type": "number"}
	if whole {
		n["type"] = "integer"
	}
	r, ok := session.RangeAt(place)
	if !ok || !known {
		return n
	}
	n["description"] = r.Name
	if r.Unit != "" {
		n["description"] = r.Name + ", " + r.Unit
	}
	within := map[string]any{"minimum": r.Low, "maximum": r.High}
	if r.Zero != "" {
		n["anyOf"] = []any{within, map[string]any{"const": 0, "description": r.Zero}}
		return n
	}
	n["minimum"], n["maximum"] = r.Low, r.High
	return n
}

func ofSession() map[string]any {
	s := of(reflect.TypeFor[session.State](), "", true)
	s["$schema"], s["title"] = draft, "Threeply session"
	s["properties"].(map[string]any)["written"] = of(reflect.TypeFor[session.Written](), "", false)
	return s
}

func ofCommands() map[string]any {
	var all []any
	for _, name := range command.Names() {
		c := of(command.Type(name), "", false)
		properties := c["properties"].(map[string]any)
		properties["do"] = map[string]any{"const": name}
		properties["gesture"] = map[string]any{"type": "string", "maxLength": command.MostLetters, "description": "commands of one name, one after another, are one step of undo"}
		c["required"] = append([]string{"do"}, c["required"].([]string)...)
		c["title"] = name
		all = append(all, c)
	}
	return map[string]any{"$schema": draft, "title": "Threeply command", "type": "object", "required": []string{"do"}, "oneOf": all}
}

func TestSchemasAreCurrent(t *testing.T) {
	for name, c := range map[string]struct {
		made map[string]any
		kept []byte
	}{
		"session.schema.json":  {ofSession(), Session},
		"commands.schema.json": {ofCommands(), Commands},
	} {
		text, err := json.MarshalIndent(c.made, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		text = append(text, '\n')
		if *update {
			if err := os.WriteFile(name, text, 0o644); err != nil {
				t.Fatal(err)
			}
		} else if !bytes.Equal(text, c.kept) {
			t.Errorf("%s is not what the types and ranges make; if they were changed on purpose: go test ./proof/schema -update", name)
		}
	}
}
