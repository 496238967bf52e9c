package view

import (
	"reflect"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/survey"
)

// What the page's scripts send, one of each kind and shape.
var sent = []string{
	`{"do":"station","id":"proof"}`, `{"do":"station","id":""}`, `{"do":"stack","on":true}`, `{"do":"cut","on":false}`, `{"do":"goToPoint","n":1}`, `{"do":"room","on":true}`, `{"do":"side","which":"left","id":"print"}`, `{"do":"edit","printer":"cyan"}`, `{"do":"edit","printer":""}`, `{"do":"select","printer":""}`,
	`{"do":"select","printer":"magenta"}`, `{"do":"tool","id":"line"}`, `{"do":"look","id":"edges"}`, `{"do":"blink"}`, `{"do":"pause","on":true}`, `{"do":"layer","id":"yellow"}`, `{"do":"other","id":"earth"}`,
	`{"do":"edges","first":0,"second":2}`, `{"do":"plates","first":2,"second":1}`, `{"do":"divider","share":0.3}`,
	`{"do":"zoom","by":1.25}`, `{"do":"zoom","by":0.9,"x":10,"y":20}`, `{"do":"zoom","percent":100}`, `{"do":"zoom","fit":true}`,
	`{"do":"pan","dx":3,"dy":-4}`, `{"do":"pan","dx":3,"dy":-4,"x":10,"y":20,"together":false}`,
	`{"do":"whole","hidden":true}`, `{"do":"left","hidden":false}`, `{"do":"point","x":3,"y":4}`,
	`{"do":"loupe","on":true}`, `{"do":"loupe","on":true,"zoom":8}`, `{"do":"hover","x":0,"y":0,"hidden":true}`,
	`{"do":"contrast","on":true}`, `{"do":"together","on":true}`, `{"do":"markChoose"}`, `{"do":"markChoose","n":2,"filter":"blue"}`,
	`{"do":"noteChoose","n":1}`, `{"do":"noteGo","n":1}`, `{"do":"notesList","only":"open"}`, `{"do":"markPlate"}`, `{"do":"markNext"}`, `{"do":"markGo","n":1}`, `{"do":"sort","id":"mean","on":true}`, `{"do":"hue","degrees":null}`, `{"do":"hue","degrees":-20}`,
	`{"do":"fill","id":"proof.file","text":"tiff"}`, `{"do":"fill","id":"film.table","text":""}`,
	`{"do":"worst"}`, `{"do":"rule","x0":10,"y0":20,"x1":30,"y1":40}`, `{"do":"rule","hidden":true}`, `{"do":"tool","id":"scale"}`,
}

func TestEveryCommandIsRead(t *testing.T) {
	read := map[string]bool{}
	for _, text := range sent {
		c, err := ReadCommand([]byte(text))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		read[nameOf(c)] = true
		v, s := looking(t, "beside")
		if err := v.Do(c, Subject{s, &Residual{}}); err != nil && nameOf(c) != "worst" && nameOf(c) != "noteGo" {
			t.Errorf("%s: %v", text, err)
		}
	}
	for _, name := range Names() {
		if !read[name] {
			t.Errorf("no text of %q was read", name)
		}
	}
}

func TestCommandsAreReadToTheLetter(t *testing.T) {
	for text, want := range map[string]string{
		`{"do":"look","id":"edges","name":"x"}`: "“name” is not known here",
		`{"do":"look"}`:                         "“id” is missing",
		`{"do":"pan","dx":3}`:                   "“dy” is missing",
		`{"do":"pan","dx":"3","dy":1}`:          "a number belongs there",
		`{"do":"somersault"}`:                   "no command “somersault”",
		`{"id":"edges"}`:                        "“do” is missing",
		`[]`:                                    "an object belongs there",
	} {
		if _, err := ReadCommand([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want “…%s…”", text, err, want)
		}
	}
}

// What cannot be done is refused, and nothing changes.
func TestRefusedCommandsChangeNothing(t *testing.T) {
	for _, c := range []Command{
		GoToStation{"kitchen"}, EditTissue{"black"}, SelectLayer{"black"}, TakeTool{"saw"}, TakeLook{"sideways"}, ShowLayer{""},
		CompareEdges{0, 3}, ComparePlates{-1, 0}, ChooseMark{Filter: "infrared"}, SortBoard{ID: "weight"}, TurnHue{[]byte(`"red"`)}, GoToWorst{},
	} {
		v, s := looking(t, "beside")
		s.Survey = [3]survey.Map{} // nothing is known of what is left
		before := *v
		if err := v.Do(c, Subject{s, &Residual{}}); err == nil {
			t.Errorf("%#v is done", c)
		}
		if !reflect.DeepEqual(before, *v) {
			t.Errorf("%#v is refused and changes the view", c)
		}
	}
}

func TestHueTurnsRound(t *testing.T) {
	v, s := looking(t, "beside")
	for text, want := range map[string]float64{"-20": 340, "725": 5, "95": 95} {
		do(t, v, s, TurnHue{[]byte(text)})
		if v.Hue == nil || *v.Hue != want {
			t.Errorf("%s° is %v, want %g", text, v.Hue, want)
		}
	}
	do(t, v, s, TurnHue{[]byte("null")})
	if v.Hue != nil {
		t.Error("null does not follow the point")
	}
}

func TestEditorsWaitWhileRegistering(t *testing.T) {
	v, s := looking(t, "beside")
	for station, want := range map[string]string{"register": "register", "proof": "tissues"} {
		v.Station = station
		do(t, v, s, EditTissue{"cyan"})
		if v.Station != want || v.Editing.Printer != "cyan" {
			t.Errorf("from %s the editor of %s goes to %s", station, v.Editing.Printer, v.Station)
		}
	}
	if v.Editing.Times != 2 {
		t.Errorf("it was asked for %d times", v.Editing.Times)
	}
}

// A reload comes back to what was kept.
func TestKeepAndRecall(t *testing.T) {
	v, s := looking(t, "beside")
	for _, c := range []Command{
		GoToStation{"register"}, TakeTool{"nudge"}, SelectLayer{"cyan"}, ShowLayer{"yellow"}, CompareEdges{0, 1}, SetLoupe{true, 8},
		SortBoard{"mean", true}, TurnHue{[]byte("40")}, Zoom{Percent: 150}, Pan{DX: 40, DY: -20}, SetContrast{true}, ShowArrows{}, MoveDivider{0.3},
	} {
		do(t, v, s, c)
	}
	kept := v.Keep()
	again := New()
	again.Resize(v.Stage)
	if err := again.Recall(kept, s); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(v, again) {
		t.Errorf("recalled\n%+v, want\n%+v", again, v)
	}
	if string(again.Keep()) != string(kept) {
		t.Errorf("kept anew it is %s, before %s", again.Keep(), kept)
	}
}

func TestRecallRefusesWhatCannotBe(t *testing.T) {
	s := session.New()
	for _, text := range []string{
		`{"look":"sideways"}`, `{"station":"kitchen"}`, `{"tool":"saw"}`, `{"layer":"black"}`, `{"edges":[0,3]}`, `{"zoom":1e300}`, `{"zoom":-1}`,
		`{"divider":2}`, `{"board":{"by":"weight"}}`, `{"hue":1000}`, `{"loupe":{"zoom":0}}`, `{"zoom":"1"}`, `nothing`,
	} {
		v := New()
		if err := v.Recall([]byte(text), &s); err == nil || !reflect.DeepEqual(v, New()) {
			t.Errorf("%s: %v, and the view is changed: %t", text, err, !reflect.DeepEqual(v, New()))
		}
	}
	v := New()
	if err := v.Recall([]byte(`{"look":"edges","later":true}`), &s); err != nil || v.Look != "edges" {
		t.Errorf("what a newer page kept beside is not passed over: %v", err)
	}
}

// The section lies beside the stack: one opens with the other, and laying its line opens
// both; closed, a click lays it no longer.
func TestStackAndCut(t *testing.T) {
	v, s := looking(t, "beside")
	do(t, v, s, ShowStack{false})
	do(t, v, s, TakeTool{"line"})
	if !v.Stack || !v.Cut {
		t.Error("the line is laid while the section is closed")
	}
	do(t, v, s, ShowStack{false})
	if v.Cut || v.Tool != "pan" {
		t.Errorf("the stack is closed, the section is open: %t, the tool is %s", v.Cut, v.Tool)
	}
	do(t, v, s, ShowCut{true})
	if !v.Stack || !v.Cut {
		t.Error("the section opens without the stack")
	}
	do(t, v, s, GoToStation{"proof"})
	do(t, v, s, GoToStation{""})
	if v.Station != "" {
		t.Errorf("the drawer of %s stays open", v.Station)
	}
}

// nameOf returns the name of a command, "" for a type that is none of this package.
func nameOf(c Command) string {
	for name, k := range kinds {
		if k.typ == reflect.TypeOf(c) {
			return name
		}
	}
	return ""
}
