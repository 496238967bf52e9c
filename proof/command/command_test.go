package command

import (
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// What the page sends is read as what it says.
func TestRead(t *testing.T) {
	for text, want := range map[string]Command{
		`{"do":"palette","id":"earth"}`:                    Palette{ID: "earth"},
		`{"do":"nudgeBy","printer":"cyan","dxUm":12.5}`:    NudgeBy{Printer: "cyan", DX: f(12.5)},
		`{"do":"gamma","source":0,"value":0.7}`:            Gamma{Source: 0, Value: 0.7},
		`{"do":"local","on":true}`:                         Local{On: true},
		`{"do":"registerBy","id":"both","value":0.25}`:     RegisterBy{ID: "both", Value: f(0.25)},
		`{"do":"section","x0":0,"y0":0.5,"x1":1,"y1":0.5}`: Section{X1: 1, Y0: 0.5, Y1: 0.5},
		`{"do":"pin","source":2,"x":10,"y":20.5}`:          Pin{Source: 2, X: 10, Y: 20.5},
		`{"do":"print","widthMm":300}`:                     PrintWidth{Width: 300},
		`{"do":"place","source":1,"pose":{"dxPx":1,"dyPx":2,"turnDeg":3,"stretchPct":4,"mirrored":true}}`: Place{Source: 1, Pose: session.Pose{DX: 1, DY: 2, Turn: 3, Stretch: 4, Mirrored: true}},
	} {
		got, gesture, err := Read([]byte(text))
		if err != nil || gesture != "" || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v of the gesture %q, %v", text, got, gesture, err)
		}
	}
	if c, gesture, err := Read([]byte(`{"do":"limit","value":0.5,"gesture":"g12"}`)); err != nil || gesture != "g12" || c != (Limit{0.5}) {
		t.Errorf("%+v of the gesture %q, %v", c, gesture, err)
	}
}

// A command that leaves out what it acts on is refused; it does not act on the first
// plate.
func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		`{"do":"polarity","polarity":"positive"}`:        "the command “polarity”: “source” is missing",
		`{"do":"gamma","value":0.7}`:                     "“source” is missing",
		`{"do":"assign","filter":"red"}`:                 "“source” is missing",
		`{"do":"place","pose":{}}`:                       "“pose.dxPx” is missing",
		`{"do":"centre"}`:                                "“source” is missing",
		`{"do":"pin","x":1,"y":2}`:                       "“source” is missing",
		`{"do":"weigh","value":2}`:                       "“n” is missing",
		`{"do":"hide","printer":"cyan"}`:                 "“hidden” is missing",
		`{"do":"limit"}`:                                 "“value” is missing",
		`{"do":"limit","value":"much"}`:                  "“value” is the text “much”; a number belongs there",
		`{"do":"limit","value":1e999}`:                   "a number that is too large",
		`{"do":"limit","value":1,"valeu":2}`:             "“valeu” is not known here",
		`{"do":"palette","id":"earth","printer":"cyan"}`: "“printer” is not known here",
		`{"do":"fly"}`:                                   "there is no command “fly”",
		`{"id":"earth"}`:                                 "“do” is missing",
		`[]`:                                             "this is no command: the text is a list",
		`palette`:                                        "this is no command: the text is no JSON",
		`{"do":"dim","on":true,"gesture":"` + strings.Repeat("g", 101) + `"}`: "gesture is longer than",
	} {
		if c, _, err := Read([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %+v, %v, want %q", text, c, err, want)
		}
	}
}

// examples are commands as the page sends them, one of each.
func examples(t testing.TB) []string {
	t.Helper()
	text, err := os.ReadFile("testdata/commands.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSpace(string(text)), "\n")
}

// Every command has a name, a noun for the undo button, and JSON that reads back.
func TestEveryCommandWritesAndReads(t *testing.T) {
	var names []string
	for _, text := range examples(t) {
		c, gesture, err := Read([]byte(text))
		if err != nil {
			t.Error(err)
			continue
		}
		name := NameOf(c)
		names = append(names, name)
		if Type(name) != reflect.TypeOf(c) || c.Words() == "" {
			t.Errorf("%T is called %q and changes the %q", c, name, c.Words())
		}
		out, err := Write(c, gesture)
		if err != nil {
			t.Fatal(err)
		}
		if got, again, err := Read(out); err != nil || again != gesture || !reflect.DeepEqual(got, c) {
			t.Errorf("%s: %+v, %q, %v", out, got, again, err)
		}
		var want, have any
		if json.Unmarshal([]byte(text), &want) != nil || json.Unmarshal(out, &have) != nil || !reflect.DeepEqual(want, have) {
			t.Errorf("%s is written as %s", text, out)
		}
	}
	if !slices.Equal(names, Names()) {
		t.Errorf("examples of %v, and there are %v", names, Names())
	}
	if Type("fly") != nil || NameOf(nil) != "" {
		t.Error("there is a type for no command")
	}
}

// Whatever a page sends, nothing panics, and a state is sound afterwards.
func FuzzCommands(f *testing.F) {
	for _, text := range examples(f) {
		f.Add([]byte(text))
	}
	f.Add([]byte(`{"do":"place","source":0,"pose":{"dxPx":1e300,"dyPx":-1e300,"turnDeg":1e9,"stretchPct":-75,"mirrored":true}}`))
	f.Add([]byte(`{"do":"pin","source":0,"x":999.4,"y":-0.5}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, gesture, err := Read(text)
		if err != nil {
			return
		}
		h := NewHistory(sessiontest.Opened())
		if err := h.Do(c, gesture); err != nil {
			return
		}
		if err := h.Check(); err != nil {
			t.Errorf("%s leaves a state that is not sound: %v", text, err)
		}
		if _, err := json.Marshal(h.State); err != nil {
			t.Errorf("%s leaves a state that cannot be written: %v", text, err)
		}
	})
}
