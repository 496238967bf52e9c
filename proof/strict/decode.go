package strict

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
)

type decoder struct {
	*json.Decoder
	Reader
}

var rawType = reflect.TypeFor[json.RawMessage]()

// closed tells a struct that shows none of its fields and reads itself.
func closed(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && reflect.PointerTo(t).Implements(unmarshaler) && len(Fields(t)) == 0
}

var unmarshaler = reflect.TypeFor[json.Unmarshaler]()

// fields reads the rest of an object whose brace was read.
func (d *decoder) fields(fields []field, place string) error {
	for d.More() {
		token, err := d.Token()
		if err != nil {
			return &Error{place, err.Error()}
		}
		key, _ := token.(string)
		at := under(place, key)
		i := slices.IndexFunc(fields, func(f field) bool { return f.Name == key })
		switch {
		case i < 0 && d.PassUnknown:
			var skipped json.RawMessage
			err = d.Decode(&skipped)
		case i < 0:
			return &Error{at, "is not known here; remove it or correct its spelling"}
		case fields[i].given:
			return &Error{at, "is given twice"}
		default:
			fields[i].given = true
			err = d.value(fields[i].to, at)
		}
		if err != nil {
			return err
		}
	}
	if _, err := d.Token(); err != nil {
		return &Error{place, err.Error()}
	}
	for _, f := range fields {
		if !f.given && !f.Optional && !d.KeepMissing {
			return &Error{under(place, f.Name), "is missing"}
		}
	}
	return nil
}

// value reads the next value of the text into v.
func (d *decoder) value(v reflect.Value, place string) error {
	if v.Type() == rawType || closed(v.Type()) {
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return &Error{place, err.Error()}
		}
		if v.Type() == rawType {
			v.SetBytes(raw)
		} else if err := json.Unmarshal(raw, v.Addr().Interface()); err != nil {
			return &Error{place, fmt.Sprintf("cannot be read: %v", err)}
		}
		return nil
	}
	token, err := d.Token()
	if err != nil {
		return &Error{place, err.Error()}
	}
	return d.begun(v, token, place)
}

// begun reads a value of which the first token was read.
func (d *decoder) begun(v reflect.Value, token json.Token, place string) error {
	switch v.Kind() {
	case reflect.Pointer:
		if token == nil { // null would leave it nil: leave the key out instead
			return wrongKind(place, token, kindWords(v.Type().Elem()))
		}
		to := reflect.New(v.Type().Elem())
		v.Set(to)
		return d.begun(to.Elem(), token, place)
	case reflect.Struct:
		if token == json.Delim('{') {
			return d.fields(fieldsOf(v), place)
		}
	case reflect.Array, reflect.Slice:
		if token == json.Delim('[') {
			return d.list(v, place)
		}
	case reflect.String:
		if s, ok := token.(string); ok {
			v.SetString(s)
			return nil
		}
	case reflect.Bool:
		if b, ok := token.(bool); ok {
			v.SetBool(b)
			return nil
		}
	case reflect.Int, reflect.Int64, reflect.Float64:
		if n, ok := token.(json.Number); ok {
			return number(v, n.String(), place)
		}
	default:
		return &Error{place, "cannot be read into " + v.Type().String()}
	}
	return wrongKind(place, token, kindWords(v.Type()))
}

// list reads the rest of a list whose bracket was read. An array takes as many values
// as it has, a slice any number.
func (d *decoder) list(v reflect.Value, place string) error {
	n := 0
	if v.Kind() == reflect.Slice {
		v.SetZero() // an empty list is none
	}
	for ; d.More(); n++ {
		at := fmt.Sprintf("%s[%d]", place, n)
		if v.Kind() == reflect.Slice {
			one := reflect.New(v.Type().Elem()).Elem()
			fresh := *d
			fresh.KeepMissing = false
			if err := fresh.value(one, at); err != nil {
				return err
			}
			v.Set(reflect.Append(v, one))
			continue
		}
		if n >= v.Len() {
			return &Error{place, fmt.Sprintf("has more than %d values", v.Len())}
		}
		if err := d.value(v.Index(n), at); err != nil {
			return err
		}
	}
	if _, err := d.Token(); err != nil {
		return &Error{place, err.Error()}
	}
	if v.Kind() == reflect.Array && n < v.Len() {
		return &Error{place, fmt.Sprintf("has %d values; %d belong there", n, v.Len())}
	}
	return nil
}

// mostWhole is the largest whole number that a float64, and so a script of a web page,
// counts up to without a gap.
const mostWhole = 1 << 53

func number(v reflect.Value, text, place string) error {
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		return &Error{place, fmt.Sprintf("is %s, a number that is too large", shortened(text))}
	}
	if v.Kind() == reflect.Float64 {
		v.SetFloat(f)
		return nil
	}
	if f != math.Trunc(f) || math.Abs(f) > mostWhole {
		return &Error{place, fmt.Sprintf("is the number %s; %s belongs there", shortened(text), kindWords(v.Type()))}
	}
	v.SetInt(int64(f))
	return nil
}

func wrongKind(place string, token json.Token, wanted string) error {
	return &Error{place, fmt.Sprintf("%s; %s belongs there", tokenWords(token), wanted)}
}

// tokenWords says what a value is that begins with a token.
func tokenWords(token json.Token) string {
	switch t := token.(type) {
	case nil:
		return "is null"
	case bool:
		return "is " + strconv.FormatBool(t)
	case string:
		return "is the text “" + shortened(t) + "”"
	case json.Number:
		return "is the number " + shortened(t.String())
	case json.Delim:
		if t == '[' {
			return "is a list"
		}
	}
	return "is an object"
}

func kindWords(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Pointer:
		return kindWords(t.Elem())
	case reflect.Array:
		return fmt.Sprintf("a list of %d values", t.Len())
	case reflect.Slice:
		return "a list"
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int64:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	}
	return "an object"
}

func under(place, key string) string {
	if place == "" {
		return shortened(key)
	}
	return place + "." + shortened(key)
}

// shortened keeps a message short, whatever the text holds.
func shortened(s string) string {
	const most = 60
	letters := []rune(s)
	if len(letters) <= most {
		return s
	}
	return string(letters[:most]) + "…"
}
