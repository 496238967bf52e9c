package model

import (
	"cmp"
	"encoding/json"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/desk"
	"threeply/proof/filter"
	"threeply/proof/levels"
	"threeply/proof/negative"
	"threeply/proof/picture/picturetest"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// given is everything that a model is made from, for tests to change.
type given struct {
	Input
	t     *testing.T
	maker Maker
}

// patches is the model of three small plates.
func patches(t *testing.T) *given {
	t.Helper()
	s, planes := picturetest.Patches()
	d := &given{t: t}
	d.Session, d.View, d.Residual = &s, view.New(), &view.Residual{}
	d.Notices.Messages = []desk.Message{}
	for i, p := range planes {
		d.Plates[i] = p.Pyramid(40)
	}
	var err error
	if d.Prints, err = prints.New(&s); err != nil {
		t.Fatal(err)
	}
	d.Opened = 1
	d.View.NewSet(&s)
	d.follow()
	return d
}

// take has the page show another session.
func (d *given) take(s *session.State) {
	d.t.Helper()
	d.Session = s
	var err error
	if d.Prints, err = prints.New(s); err != nil {
		d.t.Fatal(err)
	}
	d.follow()
}

// follow brings what is derived in step with the session.
func (d *given) follow() {
	d.t.Helper()
	d.View.Follow(d.Session)
	if err := d.Prints.Update(d.Session, d.Plates, prints.Looked{Masks: d.View.Look == "masks", Held: d.View.Held(d.Session)}); err != nil {
		d.t.Fatal(err)
	}
}

func (d *given) look(commands ...view.Command) {
	d.t.Helper()
	for _, c := range commands {
		if err := d.View.Do(c, view.Subject{State: d.Session, Residual: d.Residual}); err != nil {
			d.t.Fatal(err)
		}
	}
	d.follow()
}

// times is how often each part was made.
func (d *given) times() map[string]int {
	m := &d.maker
	return map[string]int{
		"fixed": m.fixed.times, "notices": m.notices.times, "head": m.head.times, "plates": m.plates.times, "neutrals": m.neutrals.times, "greys": m.greys.times, "register": m.register.times,
		"looking": m.looking.times, "stage": m.stage.times, "marks": m.marks.times, "pins": m.pins.times, "residual": m.residual.times,
		"loupe": m.loupe.times, "reading": m.reading.times, "points": m.points.times, "tissues": m.tissues.times, "turns": m.turns.times, "printed": m.printed.times, "figures": m.figures.times, "section": m.section.times, "bench": m.bench.times,
	}
}

// Every part is made anew where what it stands on has changed, and only there.
func TestPartsAreMadeWhereTheirInputChanged(t *testing.T) {
	d := patches(t)
	d.Session.Offsets[0].DX = 10 // so that it is no special case
	d.follow()
	d.maker.Make(d.Input)
	for _, c := range []struct {
		what   string
		change func()
		parts  string // that are made anew
	}{
		{"nothing", func() {}, ""},
		{"a message", func() { d.Notices.Messages = append([]desk.Message{}, desk.Message{ID: 1, Kind: "note", Text: "x"}) }, "notices"},
		{"progress", func() { d.Notices.Jobs = []desk.Job{{Token: 1, Words: "Opening", Share: 0.3}} }, "notices"},
		{"the station", func() { d.look(view.GoToStation{ID: "proof"}) }, "head printed"},
		{"undo", func() { d.Undo = "palette" }, "head"},
		{"the title", func() { d.Session.Title = "Quince" }, "head"},
		{"the tool", func() { d.look(view.TakeTool{ID: "nudge"}) }, "looking"},
		{"a pan", func() { d.look(view.Zoom{Percent: 300}, view.Pan{DX: 9, DY: 5}) }, "looking loupe pins residual stage"},
		{"a hidden layer", func() { d.Session.Hidden[2] = true }, "looking section stage"},
		{"the loupe", func() { d.look(view.SetLoupe{On: true}) }, "loupe"},
		{"the pointer under the loupe", func() { d.look(view.Hover{X: 200, Y: 200}) }, "loupe"},
		{"a point that is read", func() { d.look(view.ReadColours{X: 200, Y: 250}) }, "figures reading"},
		{"another point", func() { d.look(view.ReadColours{X: 230, Y: 250}) }, "figures reading"},
		{"the section's line", func() { d.Session.Section.X0 = 0.3 }, "section stage"},
		{"a nudge", func() { d.Session.Offsets[0].DX = 20 }, "figures head loupe marks pins reading register residual section"},
		{"a lock", func() { d.Session.Locked[1] = true }, "marks register"},
		{"the route", func() { d.Session.Route = "direct" }, "tissues turns"},
		{"what is not known", func() { d.Session.Unknowns = unsure(0.2); d.follow() }, "figures stage"},
		{"an exposure", func() { d.Session.Way.Stops[0] = 0.2; d.follow() }, "figures neutrals printed reading section"},
		{"the paper", func() { d.Session.Paper = "cream"; d.follow() }, "figures head looking printed reading section stage tissues"},
		{"another key proposed", func() { d.Proposal = &Proposal{"red", "it is sharper"} }, "register"},
		{"the key", func() { d.Session.Key = "red"; d.follow() }, "figures head loupe marks neutrals pins plates reading register residual section"},
		{"another white", func() { d.Session.Sources[0].Film.White += 0.1; d.follow() }, "figures loupe marks neutrals pins plates printed reading register residual section"},
		{"a scale that was seen", func() {
			d.Levels.Scale = &levels.Levels{Neutral: session.Neutral{By: session.ByScale, Key: "red", Greys: []session.Spot{{X: 90, Y: 90}, {X: 120, Y: 90}}}}
		}, "neutrals"},
		{"a search", func() { d.Search.Now = 1 }, "marks"},
		{"an editor", func() { d.look(view.EditTissue{Printer: "cyan"}) }, "head looking printed"},
		{"the sorting of a board that is not seen", func() { d.look(view.SortBoard{ID: "mean"}) }, ""},
		{"the board", func() { d.look(view.TakeLook{ID: "board"}) }, "figures looking loupe pins residual stage"},
		{"its sorting", func() { d.look(view.SortBoard{ID: "name"}) }, "figures"},
		{"the film", func() {
			setup := negative.Usual
			setup.Film.Max = 1.9
			d.Session.Negatives = &setup
		}, "bench"},
		{"depths", func() {
			for d.Prints.Fill(d.Session) {
			}
		}, "tissues"},
	} {
		before := d.times()
		c.change()
		d.maker.Make(d.Input)
		var made []string
		for part, n := range d.times() {
			if n != before[part] {
				made = append(made, part)
			}
		}
		slices.Sort(made)
		if got := strings.Join(made, " "); got != c.parts {
			t.Errorf("%s changed: made anew are %q, want %q", c.what, got, c.parts)
		}
	}
}

// Whatever was changed before, the kept parts are what would be made from nothing, but
// for the counter of the section.
func TestKeptPartsAreAsGoodAsNew(t *testing.T) {
	d := patches(t)
	changes := []func(){
		func() { d.Session.Palette = d.Session.Palettes()[0].ID }, func() { d.Session.Hidden[0] = true }, func() { d.Session.PrintWidth = 100 },
		func() { d.Session.Found[0].Matrix[2] = 7 }, func() { d.Session.Offsets[1].Turn = 0.5 }, func() { d.look(view.ReadColours{X: 210, Y: 260}) },
		func() {
			d.Session.Marks = []session.Pinned{{N: 1, Weight: 1, At: [3]session.Pin{{Set: true, X: 30, Y: 40}, {Set: true, X: 32, Y: 41}}}}
		},
		func() { d.look(view.TakeLook{ID: "edges"}) }, func() { d.Session.Sources[0].Film.Gamma = 0.6 }, func() { d.Session.Order = "cmy" },
		func() { d.Session.Masked = true }, func() { d.Session.Light = "A" }, func() { d.look(view.TakeLook{ID: "marks"}) },
		func() { d.Residual.Found = d.Session.Found },
		func() {
			d.Residual = &view.Residual{Found: d.Session.Found, Fields: [3][]register.Offset{{{X: 40, Y: 50, DX: 2, Certainty: 1}}}}
		},
	}
	for i, change := range changes {
		change()
		d.follow()
		kept, err := d.maker.JSON(d.Input)
		if err != nil {
			t.Fatal(err)
		}
		var fresh Maker
		anew, err := fresh.JSON(d.Input)
		if err != nil {
			t.Fatal(err)
		}
		var a, b map[string]any
		if json.Unmarshal(kept, &a) != nil || json.Unmarshal(anew, &b) != nil {
			t.Fatalf("no JSON: %s", kept)
		}
		a["sectionVersion"], b["sectionVersion"] = 0, 0
		for name := range b {
			if !reflect.DeepEqual(a[name], b[name]) {
				t.Errorf("after change %d %s is %v, made anew %v", i, name, a[name], b[name])
			}
		}
	}
}

// The JSON of all parts together is that of the model, each name once.
func TestJSONIsTheWholeModel(t *testing.T) {
	d := patches(t)
	text, err := d.maker.JSON(d.Input)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := json.Marshal(d.maker.Make(d.Input))
	if err != nil {
		t.Fatal(err)
	}
	var a, b map[string]json.RawMessage
	if err := json.Unmarshal(text, &a); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(whole, &b); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Errorf("the parts say %d things, the model %d", len(a), len(b))
	}
	decoder := json.NewDecoder(strings.NewReader(string(text)))
	seen, depth := map[string]bool{}, 0
	key := true
	for {
		token, err := decoder.Token()
		if err != nil {
			break
		}
		if delim, ok := token.(json.Delim); ok {
			if delim == '{' || delim == '[' {
				depth++
			} else {
				depth--
			}
			key = depth == 1
			continue
		}
		if name, ok := token.(string); ok && depth == 1 && key {
			if seen[name] {
				t.Errorf("%q is said twice", name)
			}
			seen[name] = true
			key = false
			continue
		}
		key = depth == 1
	}
	if len(seen) != len(b) {
		t.Errorf("%d names were seen, %d are there", len(seen), len(b))
	}
}

// A model before plates are open has all its lists, so that no script meets null.
func TestEmptyModel(t *testing.T) {
	s := session.New()
	p, err := prints.New(&s)
	if err != nil {
		t.Fatal(err)
	}
	var m Maker
	text, err := m.JSON(Input{Session: &s, View: view.New(), Prints: p, Residual: &view.Residual{}, Notices: Notices{Messages: []desk.Message{}}})
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"messages", "plates", "frames", "hidden", "marks", "marksGive", "pins", "palettes", "papers", "turns", "looks"} {
		if _, ok := got[name].([]any); !ok {
			t.Errorf("%s is %v, not a list", name, got[name])
		}
	}
	if got["ready"] != false || got["pulls"].(map[string]any)["plates"] != "none open" {
		t.Errorf("ready %v, pulls %v", got["ready"], got["pulls"])
	}
	coming := m.Make(Input{Session: &s, View: view.New(), Prints: p, Residual: &view.Residual{}, Coming: "A harbour"})
	if coming.Title != "A harbour" || coming.Pulls["plates"] != "opening …" || coming.Ready {
		t.Errorf("of a kept set on its way: %+v", coming.Head)
	}
}

// A figure that is no number is said, not handed on.
func TestNoNumberIsAnError(t *testing.T) {
	d := patches(t)
	zero := 0.0
	d.View.Zoom = zero / zero
	if _, err := d.maker.JSON(d.Input); err == nil {
		t.Error("a zoom that is no number is handed on")
	}
}

// unsure are the usual doubts but for that of the pigment.
func unsure(amount float64) *spread.Unknowns {
	u := spread.Usual
	u.Amount = amount
	return &u
}

// Where a plate does not reach all of the picture the frames say which part it reaches:
// moved by a quarter to the left, three quarters of what is shown.
func TestWhatPlatesDoNotReach(t *testing.T) {
	d := patches(t)
	d.look(view.ShowBorders{})
	for _, f := range d.maker.Make(d.Input).Frames {
		if f.Part {
			t.Errorf("%s: only a part is reached of plates that lie on each other", f.ID)
		}
	}
	w, _ := d.Session.Frame()
	d.Session.Registered, d.Session.FoundKey = "auto", d.Session.KeySource()
	red := d.Session.Assign[filter.Red]
	d.Session.Found[red].Matrix, d.Session.Found[red].Confidence = affine.Translate(-float64(w)/4, 0), 1
	d.follow()
	for _, f := range d.maker.Make(d.Input).Frames {
		if !f.Part || len(f.Reached) != 4 {
			t.Fatalf("%s: %v is reached", f.ID, f.Reached)
		}
		left := slices.MinFunc(f.Reached, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
		if share := (left[0] - f.X) / f.W; math.Abs(share-0.25) > 0.02 {
			t.Errorf("%s: a share of %.3f at the left is not reached, of 0.25", f.ID, share)
		}
	}
}

// What was prepared is not made anew, and the browser has its turn between the pieces.
func TestPrepare(t *testing.T) {
	d := patches(t)
	pauses := 0
	d.maker.Prepare(d.Input, func() { pauses++ })
	once := d.times()
	for part, times := range once {
		if times != 1 {
			t.Errorf("%s was prepared %d times", part, times)
		}
	}
	d.maker.Make(d.Input)
	if after := d.times(); !maps.Equal(after, once) {
		t.Errorf("made %v times after it was prepared", after)
	}
	if pauses < 5 {
		t.Errorf("%d pauses", pauses)
	}
}
