package session

import (
	"reflect"
	"slices"
	"testing"

	"threeply/proof/strict"
)

// Every number of a session has a range, and every range has a number.
func TestEveryNumberHasARange(t *testing.T) {
	seen := map[string]bool{}
	var look func(typ reflect.Type, place string)
	look = func(typ reflect.Type, place string) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Array, reflect.Slice:
			look(typ.Elem(), place)
		case reflect.Struct:
			for _, f := range strict.Fields(typ) {
				at, _ := PlaceOf(f, place, true)
				look(f.Type, at)
			}
		case reflect.Int, reflect.Float64:
			r, ok := ranges[place]
			if seen[place] = true; !ok || r.Name == "" || !(r.Low < r.High || place == "version") {
				t.Errorf("%s: %+v", place, r)
			}
			if r.Whole != (typ.Kind() == reflect.Int) {
				t.Errorf("%s is a whole number: %v", place, r.Whole)
			}
		case reflect.String:
			seen[place] = true
		}
	}
	look(reflect.TypeFor[State](), "")
	for _, f := range strict.Fields(reflect.TypeFor[Pose]()) {
		seen["pose."+f.Name] = true
	}
	ofCommands := []string{"pin.n", "printingFilm.max", "wedge.exposure", "wedge.read", "tints", "fading.dose", "fading.before", "fading.after", "printer", "plate", "polarity", "exposures"}
	for place := range ranges {
		if !seen[place] && !slices.Contains(ofCommands, place) {
			t.Errorf("a range of “%s”, which is not there", place)
		}
	}
	for place := range choices {
		if !seen[place] && !slices.Contains(ofCommands, place) {
			t.Errorf("a choice of “%s”, which is not there", place)
		}
	}
}

// BenchmarkCheck is what every command waits for.
func BenchmarkCheck(b *testing.B) {
	s := New()
	for b.Loop() {
		if err := s.Check(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRead reads a session, as each kept step of a history is.
func BenchmarkRead(b *testing.B) {
	s := New()
	text, err := Write(s)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read("kept.json", text); err != nil {
			b.Fatal(err)
		}
	}
}
