package strict

import (
	"reflect"
	"strings"
	"sync"
)

// Field is what JSON can give to one field of a struct.
type Field struct {
	Name     string
	Type     reflect.Type
	Optional bool                // marked omitempty or omitzero: the text may leave it out
	Tag      reflect.StructTag   // as written in Go
	In       reflect.StructField // the field itself
}

// Fields lists what JSON can give to a struct, in the order of its fields. The fields
// of an embedded struct count as the struct's own. What it gives is not to be written to.
func Fields(t reflect.Type) []Field {
	if known, ok := listed.Load(t); ok {
		return known.([]Field)
	}
	known, _ := listed.LoadOrStore(t, list(t))
	return known.([]Field)
}

var listed sync.Map // of reflect.Type to []Field

func list(t reflect.Type) []Field {
	var out []Field
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-" || !f.IsExported() && !f.Anonymous:
		case f.Anonymous && name == "" && f.Type.Kind() == reflect.Struct:
			for _, inner := range Fields(f.Type) {
				inner.In.Index = append([]int{i}, inner.In.Index...)
				out = append(out, inner)
			}
		case f.IsExported():
			if name == "" {
				name = f.Name
			}
			optional := strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero")
			out = append(out, Field{Name: name, Type: f.Type, Optional: optional, Tag: f.Tag, In: f})
		}
	}
	return out
}

// field is a Field with the value that it is read into.
type field struct {
	Field
	to    reflect.Value
	given bool
}

func fieldsOf(v reflect.Value) []field {
	var out []field
	for _, f := range Fields(v.Type()) {
		out = append(out, field{Field: f, to: v.FieldByIndex(f.In.Index)})
	}
	return out
}
