// Package strict reads JSON to the letter: every key must be known, every field that
// is not marked omitempty or omitzero must be there, and every value must be of its
// field's kind. What is wrong is named by its place in the text, such as
// “sources[1].width”. Structs are read field by field, even where they have a way of
// their own to be read; only those that show no field read themselves.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"unicode/utf8"
)

// Error is the first thing that is wrong with a text.
type Error struct {
	Place  string // such as "sources[1].width"; "" for the text as a whole
	Reason string // such as "is missing"
}

func (e *Error) Error() string {
	if e.Place == "" {
		return "the text " + e.Reason
	}
	return "“" + e.Place + "” " + e.Reason
}

// Reader reads more leniently than Read where its fields say so.
type Reader struct {
	KeepMissing bool // a field that the text leaves out keeps the value it has, but for those in slices, which have none
	PassUnknown bool // keys that no field has are passed over
}

// Read reads an object over one or more structs, each given by its pointer: a key of
// the text goes to the struct that has a field of that name. What the structs hold
// after an error is not to be used. The error is an *Error.
func Read(text []byte, into ...any) error { return Reader{}.Read(text, into...) }

// Read reads an object; see the function Read.
func (r Reader) Read(text []byte, into ...any) error {
	if !utf8.Valid(text) {
		return &Error{"", "holds bytes that are no letters (it must be UTF-8)"}
	}
	var whole json.RawMessage
	if err := json.Unmarshal(text, &whole); err != nil {
		return notJSON(text, err)
	}
	d := &decoder{Decoder: json.NewDecoder(bytes.NewReader(text)), Reader: r}
	d.UseNumber()
	var fields []field
	for _, v := range into {
		fields = append(fields, fieldsOf(reflect.ValueOf(v).Elem())...)
	}
	open, err := d.Token()
	if err != nil {
		return notJSON(text, err)
	}
	if open != json.Delim('{') {
		return wrongKind("", open, "an object")
	}
	return d.fields(fields, "")
}

func notJSON(text []byte, err error) error {
	if len(bytes.TrimSpace(text)) == 0 {
		return &Error{"", "is empty"}
	}
	line := 0
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		line = 1 + bytes.Count(text[:min(max(syntax.Offset-1, 0), int64(len(text)))], []byte("\n"))
	}
	return &Error{"", fmt.Sprintf("is no JSON, at line %d: %v", line, err)}
}
