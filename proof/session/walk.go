package session

import (
	"fmt"
	"reflect"
	"slices"
	"sync"
	"unicode/utf8"

	"threeply/proof/strict"
)

// Fault is the first thing that is wrong with a session or with what a command
// brings: its place in the JSON, such as "sources[1].width", and the reason.
type Fault struct {
	Place  string
	Reason string
}

// Error is the reason alone, for somebody who has just set what is wrong. Whoever
// reads a text adds the place.
func (f *Fault) Error() string { return f.Reason }

func fault(place, reason string, of ...any) *Fault { return &Fault{place, fmt.Sprintf(reason, of...)} }

// under puts a place below another one.
func under(place, rest string) string {
	if rest == "" || rest[0] == '[' {
		return place + rest
	}
	return place + "." + rest
}

// checker holds the values of one type to ranges, choices and lengths.
type checker struct {
	kind   reflect.Kind
	number Range
	bound  bool // number is to be held to
	choice *Choice
	most   int // characters
	fields []fieldChecker
	each   *checker // of a list's values
}

type fieldChecker struct {
	name  string
	index []int
	*checker
}

// newChecker is the checker of what stands at a place of a session. A field with the
// tag like:"place" is held to what that place of a session is; without a place
// (known false) nothing else is checked.
func newChecker(t reflect.Type, place string, known bool) *checker {
	c := &checker{kind: t.Kind()}
	switch t.Kind() {
	case reflect.Pointer:
		return newChecker(t.Elem(), place, known)
	case reflect.Int, reflect.Float64:
		if known {
			c.number, c.bound = ranges[place]
		}
	case reflect.String:
		c.most = LettersAt(place)
		if choice, ok := choices[place]; ok && known {
			c.choice = &choice
		}
	case reflect.Array, reflect.Slice:
		c.each = newChecker(t.Elem(), place, known)
	case reflect.Struct:
		for _, f := range strict.Fields(t) {
			at, fieldKnown := PlaceOf(f, place, known)
			c.fields = append(c.fields, fieldChecker{f.Name, f.In.Index, newChecker(f.Type, at, fieldKnown)})
		}
	}
	return c
}

// PlaceOf returns the place of a session that a struct's field is like: that of its
// tag, or the one below the struct's own place, where that is known.
func PlaceOf(f strict.Field, place string, known bool) (string, bool) {
	if like, ok := f.Tag.Lookup("like"); ok {
		return like, true
	}
	if place == "" {
		return f.Name, known
	}
	return place + "." + f.Name, known
}

// check returns a *Fault, or nil.
func (c *checker) check(v reflect.Value) *Fault {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return nil
		}
		v = v.Elem()
	}
	switch c.kind {
	case reflect.Int:
		if n := float64(v.Int()); c.bound && !c.number.holds(n) {
			return &Fault{"", c.number.says(n)}
		}
	case reflect.Float64:
		if n := v.Float(); c.bound && !c.number.holds(n) {
			return &Fault{"", c.number.says(n)}
		}
	case reflect.String:
		switch text := v.String(); {
		case c.choice != nil && !slices.Contains(c.choice.Of, text):
			return &Fault{"", c.choice.says(text)}
		case len(text) > c.most && utf8.RuneCountInString(text) > c.most:
			return fault("", "“%.40s…” is too long: it can have %d characters", text, c.most)
		}
	case reflect.Array, reflect.Slice:
		for i := range v.Len() {
			if f := c.each.check(v.Index(i)); f != nil {
				f.Place = under(fmt.Sprintf("[%d]", i), f.Place)
				return f
			}
		}
	case reflect.Struct:
		for _, field := range c.fields {
			if f := field.check(v.FieldByIndex(field.index)); f != nil {
				f.Place = under(field.name, f.Place)
				return f
			}
		}
	}
	return nil
}

var ofState = sync.OnceValue(func() *checker { return newChecker(reflect.TypeFor[State](), "", true) })

var ofOthers sync.Map // of reflect.Type to *checker

// CheckLike holds those fields of a struct, such as a command, to ranges, choices and
// lengths that have the tag like:"place": a number there can be what it can be at that
// place of a session. It returns a *Fault, or nil.
func CheckLike(v any) error {
	t := reflect.TypeOf(v)
	c, ok := ofOthers.Load(t)
	if !ok {
		c, _ = ofOthers.LoadOrStore(t, newChecker(t, "", false))
	}
	if f := c.(*checker).check(reflect.ValueOf(v)); f != nil {
		return f
	}
	return nil
}
