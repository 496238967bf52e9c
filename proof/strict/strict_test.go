package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"
)

type inner struct {
	Width float64 `json:"width"`
	N     int     `json:"n"`
}

type common struct {
	Name string `json:"name,omitempty"`
}

type sample struct {
	common  // embedded: its fields are sample's
	Shared  `json:",omitzero"`
	On      bool       `json:"on"`
	Sources [2]inner   `json:"sources"`
	Marks   []inner    `json:"marks,omitempty"`
	DX      *float64   `json:"dx,omitempty"`
	Zero    [2]float64 `json:"zero,omitzero"`
	Inside  inner      `json:"inside"`
	Hidden  int        `json:"-"`
}

// Shared is embedded in sample: its fields are sample's.
type Shared struct {
	Title string `json:"title"`
}

const whole = `{"title":"a","on":true,"sources":[{"width":1,"n":2},{"width":3.5,"n":-4}],"marks":[{"width":0,"n":1}],"dx":2,"inside":{"width":1e2,"n":1e2}}`

func TestReadsWhatIsWhole(t *testing.T) {
	var got sample
	if err := Read([]byte(whole), &got); err != nil {
		t.Fatal(err)
	}
	dx := 2.0
	want := sample{Shared: Shared{"a"}, On: true, Sources: [2]inner{{1, 2}, {3.5, -4}}, Marks: []inner{{0, 1}}, DX: &dx, Inside: inner{100, 100}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

func TestRefusesByPlace(t *testing.T) {
	for change, want := range map[[2]string]string{
		{`"title":"a",`, ``}:                                        "“title” is missing",
		{`"width":3.5,`, ``}:                                        "“sources[1].width” is missing",
		{`"width":3.5`, `"widht":3.5`}:                              "“sources[1].widht” is not known here",
		{`"width":3.5`, `"Width":3.5`}:                              "“sources[1].Width” is not known here",
		{`"on":true`, `"on":1`}:                                     "“on” is the number 1; true or false belongs there",
		{`"on":true`, `"on":null`}:                                  "“on” is null; true or false belongs there",
		{`"on":true`, `"on":true,"on":true`}:                        "“on” is given twice",
		{`"dx":2`, `"dx":null`}:                                     "“dx” is null; a number belongs there",
		{`"dx":2`, `"dx":"2"`}:                                      "“dx” is the text “2”; a number belongs there",
		{`"dx":2`, `"dx":1e999`}:                                    "“dx” is 1e999, a number that is too large",
		{`"dx":2`, `"dx":NaN`}:                                      "the text is no JSON, at line 1",
		{`"n":-4`, `"n":-4.5`}:                                      "“sources[1].n” is the number -4.5; a whole number belongs there",
		{`"n":-4`, `"n":1e300`}:                                     "“sources[1].n” is the number 1e300; a whole number belongs there",
		{`,{"width":3.5,"n":-4}`, ``}:                               "“sources” has 1 values; 2 belong there",
		{`{"width":0,"n":1}`, `{},{}`}:                              "“marks[0].width” is missing",
		{`[{"width":0,"n":1}]`, `{}`}:                               "“marks” is an object; a list belongs there",
		{`,"dx"`, `,"zero":[1],"dx"`}:                               "“zero” has 1 values; 2 belong there",
		{`,"dx"`, `,"zero":[1,2,3],"dx"`}:                           "“zero” has more than 2 values",
		{`,"dx"`, `,"Hidden":1,"dx"`}:                               "“Hidden” is not known here",
		{`"title":"a"`, `"title":["a"]`}:                            "“title” is a list; a text belongs there",
		{`"title":"a"`, "\"title\":\"\xff\""}:                       "the text holds bytes that are no letters",
		{whole, `[1]`}:                                              "the text is a list; an object belongs there",
		{whole, `7`}:                                                "the text is the number 7; an object belongs there",
		{whole, " \n"}:                                              "the text is empty",
		{whole, whole + `{}`}:                                       "the text is no JSON, at line 1",
		{whole, "{\n\"on\":true,\n}"}:                               "the text is no JSON, at line 3",
		{whole, strings.Repeat("[", 100000)}:                        "the text is no JSON, at line 1",
		{`"title"`, `"` + strings.Repeat("x", 500) + `":1,"title"`}: "xxx…” is not known here",
	} {
		text := strings.Replace(whole, change[0], change[1], 1)
		var into sample
		err := Read([]byte(text), &into)
		if err == nil || !strings.Contains(err.Error(), want) || len(err.Error()) > 300 {
			t.Errorf("%.80s: %v, want %q", change[1], err, want)
		}
		if _, ok := errors.AsType[*Error](err); !ok {
			t.Errorf("%.80s: %T", change[1], err)
		}
	}
}

// A struct that shows no field reads itself.
func TestClosedStructs(t *testing.T) {
	var into struct {
		At time.Time `json:"at"`
	}
	if err := Read([]byte(`{"at":"2026-11-26T00:00:00Z"}`), &into); err != nil || into.At.Year() != 2026 {
		t.Errorf("%v, %v", into.At, err)
	}
	if err := Read([]byte(`{"at":"soon"}`), &into); err == nil || !strings.HasPrefix(err.Error(), "“at” cannot be read: ") {
		t.Error(err)
	}
}

// A key belongs to the struct that has a field of its name.
func TestReadsOverSeveralStructs(t *testing.T) {
	var head struct {
		Do string `json:"do"`
	}
	var rest inner
	if err := Read([]byte(`{"do":"x","width":1,"n":2}`), &head, &rest); err != nil || head.Do != "x" || rest != (inner{1, 2}) {
		t.Errorf("%v: %+v, %+v", err, head, rest)
	}
	if err := Read([]byte(`{"do":"x","width":1}`), &head, &rest); err == nil || err.Error() != "“n” is missing" {
		t.Error(err)
	}
}

func TestLenientReaders(t *testing.T) {
	var head struct {
		Version int `json:"version"`
	}
	if err := (Reader{PassUnknown: true}).Read([]byte(`{"more":[{"x":{}}],"version":3,"other":null}`), &head); err != nil || head.Version != 3 {
		t.Errorf("%v: %+v", err, head)
	}
	kept := sample{Shared: Shared{"kept"}, Sources: [2]inner{{7, 7}, {8, 8}}}
	if err := (Reader{KeepMissing: true}).Read([]byte(`{"sources":[{"width":1},{}]}`), &kept); err != nil || kept.Title != "kept" || kept.Sources != [2]inner{{1, 7}, {8, 8}} {
		t.Errorf("%v: %+v", err, kept)
	}
	if err := (Reader{KeepMissing: true}).Read([]byte(`{"marks":[{"n":1}]}`), &kept); err == nil || err.Error() != "“marks[0].width” is missing" {
		t.Error(err)
	}
	if err := (Reader{KeepMissing: true}).Read([]byte(`{"sorces":[]}`), &kept); err == nil {
		t.Error("an unknown key is passed over")
	}
}

// Whatever is read strictly, the standard library's decoder reads as the same, and
// what is written of it can be read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	for _, text := range []string{`{}`, `{"inside":{"n":9007199254740993}}`, `{"title":"\ud800"}`, `{"marks":[{"n":1}]}`, `{"dx":-0}`, "{\"title\":\"\\u0000\"}"} {
		f.Add([]byte(text))
		f.Add([]byte(strings.Replace(whole, `{`, strings.TrimSuffix(text, "}")+",", 1)))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var got, want sample
		if err := Read(text, &got); err != nil {
			if _, ok := errors.AsType[*Error](err); !ok {
				t.Errorf("%T", err)
			}
			return
		}
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		err := d.Decode(&want)
		if len(want.Marks) == 0 {
			want.Marks = nil // an empty list is none
		}
		switch {
		case err != nil:
			if kind, ok := errors.AsType[*json.UnmarshalTypeError](err); !ok || !strings.HasPrefix(kind.Value, "number") {
				t.Errorf("read strictly, refused by the standard library: %v", err) // which takes 1.0 for no whole number
			}
		case !reflect.DeepEqual(got, want):
			t.Errorf("%+v, want %+v", got, want)
		}
		out, err := json.Marshal(got)
		if err != nil {
			t.Fatal(err)
		}
		var again sample
		if err := Read(out, &again); err != nil {
			t.Errorf("what was written of it: %v", err)
		}
	})
}
