package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

type base struct {
	Name string `json:"name"`
}

type size struct {
	W int `json:"w"`
	H int `json:"h,omitempty"`
}

type letter byte

func (l letter) MarshalText() ([]byte, error) { return []byte{byte(l)}, nil }

type page struct {
	base
	*size
	Ready   bool               `json:"ready"`
	Side    string             `json:"side"`
	Deep    *base              `json:"deep"`
	Note    *base              `json:"note,omitempty"`
	Line    [2]float64         `json:"line"`
	Many    [5]float32         `json:"many"`
	Shares  map[string]float64 `json:"shares"`
	List    []*base            `json:"list"`
	Inner   struct{ X, Y int } `json:"inner"`
	Bytes   []byte             `json:"bytes"`
	Any     any                `json:"any"`
	Raw     json.RawMessage    `json:"raw"`
	Counted int                `json:"counted,string"`
	Zero    size               `json:"zero,omitzero"`
	Secret  string             `json:"-"`
	hidden  int
}

func TestDeclare(t *testing.T) {
	d := declarations{lists: map[string][]string{"side": {"left", "right"}}}
	got := d.declare(page{hidden: 1})
	if d.errs != nil {
		t.Fatal(d.errs)
	}
	want := `
export interface Page {
  name: string;
  w: number;
  h?: number;
  ready: boolean;
  side: Side;
  deep: Base | null;
  note?: Base;
  line: [number, number];
  many: number[];
  shares: { [name: string]: number };
  list: (Base | null)[];
  inner: { X: number; Y: number };
  bytes: string;
  any: unknown;
  raw: unknown;
  counted: string;
  zero?: Size;
}

export type Side = "left" | "right";

export interface Base {
  name: string;
}

export interface Size {
  w: number;
  h?: number;
}
`
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

func TestDeclareRefuses(t *testing.T) {
	type Page struct{ Done chan int }
	type sealed struct{ L letter }
	type twice struct {
		base
		Name string `json:"name"`
	}
	type pages struct {
		A page
		B Page
	}
	for name, c := range map[string]struct {
		root any
		says string
	}{
		"a type that writes its own JSON": {sealed{}, "letter writes JSON of its own"},
		"a channel":                       {Page{}, "chan int cannot be told in JSON"},
		"two types of one name":           {pages{}, "would both be declared as Page"},
		"a property twice":                {twice{}, `two properties "name"`},
	} {
		var d declarations
		d.declare(c.root)
		if err := errors.Join(d.errs...); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: it says %v, want %q", name, err, c.says)
		}
	}
}

func TestUnionOfCommands(t *testing.T) {
	type head struct {
		Do      string `json:"do"`
		Gesture string `json:"gesture,omitempty"`
	}
	type turn struct {
		Printer string   `json:"printer"`
		Degrees *float64 `json:"degrees,omitempty"`
		At      *base    `json:"at"`
	}
	var d declarations
	got := d.union("Command", head{}, []string{"stop", "turn"}, types([]any{struct{}{}, turn{}})) + d.used()
	if d.errs != nil {
		t.Fatal(d.errs)
	}
	want := `
export type Command =
  | { do: "stop"; gesture?: string }
  | { do: "turn"; gesture?: string; printer: string; degrees?: number; at: Base | null };

export interface Base {
  name: string;
}
`
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// The committed declarations are those of the program as it stands.
func TestDeclarationsAreFresh(t *testing.T) {
	files, err := declared()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join("../../web/types", name))
		if err != nil {
			t.Error(err)
		} else if string(got) != want {
			t.Errorf("web/types/%s is stale: run go run ./tools/types", name)
		}
	}
}

// What the program offers the page and what web/types/bridge.d.ts says of it have the
// same names.
func TestBridgeIsDeclared(t *testing.T) {
	names := func(pattern, text string) []string {
		var out []string
		for _, found := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
			out = append(out, found[1])
		}
		slices.Sort(out)
		return out
	}
	var offered string
	sources, err := filepath.Glob("../../wasm/page/bridge/*.go")
	if err != nil || len(sources) == 0 {
		t.Fatal("the bridge is not there", err)
	}
	for _, source := range sources {
		text, err := os.ReadFile(source)
		if err != nil {
			t.Fatal(err)
		}
		offered += string(text)
	}
	text, err := os.ReadFile("../../web/types/bridge.d.ts")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "threeply: {")
	declared, rest, _ := strings.Cut(rest, "threeplyPage: {")
	called, _, _ := strings.Cut(rest, "};")
	const method = `(?m)^    (\w+)\(`
	if want, got := names(`b\.(?:set|change)\("(\w+)"`, offered), names(method, declared); !slices.Equal(want, got) {
		t.Errorf("the bridge offers %q, web/types/bridge.d.ts says %q", want, got)
	}
	for _, name := range names(`\btell\("(\w+)"`, offered) {
		if !slices.Contains(names(method, called), name) {
			t.Errorf("web/types/bridge.d.ts lacks %s, which the bridge calls", name)
		}
	}
}
