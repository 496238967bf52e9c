package main

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// declarations collects declarations of TypeScript for what encoding/json makes of
// values of Go types.
//
// A struct becomes an interface with the names of its json tags: embedded structs are
// flattened, "omitempty" and "omitzero" make a property optional, a pointer may be
// null. Arrays of up to four become tuples. A string whose property has a list of its
// values becomes the union of these.
type declarations struct {
	lists   map[string][]string // of the values of strings, by the names of properties
	names   map[string]reflect.Type
	waiting []string // names of what is used and not yet declared
	errs    []error
}

func (d *declarations) fail(format string, args ...any) {
	d.errs = append(d.errs, fmt.Errorf(format, args...))
}

// declare gives the declarations of the types of roots and of all that they are made of,
// in the order they are come across.
func (d *declarations) declare(roots ...any) string {
	for _, root := range roots {
		d.use(reflect.TypeOf(root))
	}
	return d.used()
}

// union gives the union of objects of several types: each names itself as "do" and has
// the properties of its type and of a head that all have.
func (d *declarations) union(name string, head any, names []string, types []reflect.Type) string {
	var out strings.Builder
	fmt.Fprintf(&out, "\nexport type %s =\n", name)
	for i, do := range names {
		properties := []string{fmt.Sprintf("do: %q", do)}
		for _, p := range slices.Concat(d.properties(reflect.TypeOf(head)), d.properties(types[i])) {
			if !strings.HasPrefix(p, "do:") {
				properties = append(properties, p)
			}
		}
		end := ""
		if i == len(names)-1 {
			end = ";"
		}
		fmt.Fprintf(&out, "  | { %s }%s\n", strings.Join(properties, "; "), end)
	}
	return out.String()
}

// used gives the declarations of all that has come to be used.
func (d *declarations) used() string {
	var out strings.Builder
	for len(d.waiting) > 0 {
		name := d.waiting[0]
		d.waiting = d.waiting[1:]
		t := d.names[name]
		if t.Kind() == reflect.String {
			var values []string
			for _, v := range d.lists[strings.ToLower(name)] {
				values = append(values, fmt.Sprintf("%q", v))
			}
			fmt.Fprintf(&out, "\nexport type %s = %s;\n", name, strings.Join(values, " | "))
			continue
		}
		fmt.Fprintf(&out, "\nexport interface %s {\n", name)
		for _, p := range d.properties(t) {
			fmt.Fprintf(&out, "  %s;\n", p)
		}
		out.WriteString("}\n")
	}
	return out.String()
}

// use gives the name of a struct that is to be declared.
func (d *declarations) use(t reflect.Type) string { return d.called(capital(t.Name()), t) }

func (d *declarations) called(name string, t reflect.Type) string {
	if d.names == nil {
		d.names = map[string]reflect.Type{}
	}
	if other, taken := d.names[name]; !taken {
		d.names[name] = t
		d.waiting = append(d.waiting, name)
	} else if other != t {
		d.fail("%v and %v would both be declared as %s: give one of them another name", other, t, name)
	}
	return name
}

var (
	marshaler     = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

// typeOf gives the type that values of t have in JSON.
func (d *declarations) typeOf(t reflect.Type) string {
	if t == reflect.TypeFor[json.RawMessage]() {
		return "unknown"
	}
	for _, own := range []reflect.Type{marshaler, textMarshaler} {
		if t.Kind() != reflect.Pointer && (t.Implements(own) || reflect.PointerTo(t).Implements(own)) {
			d.fail("%v writes JSON of its own, which cannot be told from its type", t)
			return "never"
		}
	}
	switch t.Kind() {
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64,
		reflect.Float32, reflect.Float64:
		return "number"
	case reflect.String:
		return "string"
	case reflect.Pointer:
		return d.typeOf(t.Elem()) + " | null"
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Uint8 {
			return "string" // in base 64
		}
		return listOf(d.typeOf(t.Elem()))
	case reflect.Array:
		elem := d.typeOf(t.Elem())
		if t.Len() > 4 {
			return listOf(elem)
		}
		return "[" + strings.Join(slices.Repeat([]string{elem}, t.Len()), ", ") + "]"
	case reflect.Map:
		if t.Key().Kind() == reflect.String {
			return "{ [name: string]: " + d.typeOf(t.Elem()) + " }"
		}
	case reflect.Interface:
		return "unknown"
	case reflect.Struct:
		if t.Name() != "" {
			return d.use(t)
		}
		return "{ " + strings.Join(d.properties(t), "; ") + " }"
	}
	d.fail("%v cannot be told in JSON", t)
	return "never"
}

// properties gives the properties of a struct's JSON object, "name: type" or
// "name?: type".
func (d *declarations) properties(t reflect.Type) []string {
	var all []string
	seen := map[string]bool{}
	for i := range t.NumField() {
		f := t.Field(i)
		tag, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if tag == "-" && options == "" {
			continue
		}
		found := []string{}
		if embedded := structOf(f.Type); f.Anonymous && tag == "" && embedded != nil {
			found = d.properties(embedded)
		} else if f.IsExported() {
			found = append(found, d.property(f, tag, strings.Split(options, ",")))
		}
		for _, p := range found {
			name, _, _ := strings.Cut(strings.Replace(p, "?", "", 1), ":")
			if seen[name] {
				d.fail("%v has two properties %q", t, name)
			}
			seen[name] = true
		}
		all = append(all, found...)
	}
	return all
}

func (d *declarations) property(f reflect.StructField, tag string, options []string) string {
	name, optional, as := tag, "", ""
	if name == "" {
		name = f.Name
	}
	for _, option := range options {
		switch option {
		case "omitempty", "omitzero":
			optional = "?"
		case "string":
			as = "string"
		}
	}
	if as == "" {
		t := f.Type
		if optional != "" && t.Kind() == reflect.Pointer {
			t = t.Elem() // left out where it is nil
		}
		if as = d.typeOf(t); as == "string" && d.lists[name] != nil {
			as = d.called(capital(name), t)
		}
	}
	return name + optional + ": " + as
}

// structOf gives the struct that t is or points to, else nil.
func structOf(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return nil
	}
	return t
}

func capital(name string) string { return strings.ToUpper(name[:1]) + name[1:] }

func listOf(elem string) string {
	if strings.Contains(elem, "|") {
		return "(" + elem + ")[]"
	}
	return elem + "[]"
}
