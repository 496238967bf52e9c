package session_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/spread"
)

// spoilt is the text of a sound session after a change of one value: at a path of keys
// and indices, to the JSON that is given, or taken away where that is "".
func spoilt(t *testing.T, text []byte, to string, path ...any) []byte {
	t.Helper()
	var whole any
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	at := whole
	for _, step := range path[:len(path)-1] {
		switch step := step.(type) {
		case string:
			at = at.(map[string]any)[step]
		case int:
			at = at.([]any)[step]
		}
	}
	switch last := path[len(path)-1].(type) {
	case string:
		if to == "" {
			delete(at.(map[string]any), last)
		} else {
			at.(map[string]any)[last] = json.RawMessage(to)
		}
	case int:
		at.([]any)[last] = json.RawMessage(to)
	}
	out, err := json.Marshal(whole)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A session that does not stand is refused by name of the file, the place and the
// reason.
func TestReadRefuses(t *testing.T) {
	s := sessiontest.Marked()
	sound, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("kept.json", sound); err != nil || !back.Equal(s) {
		t.Fatalf("the sound one: %v", err)
	}
	long := `"` + strings.Repeat("x", 3000) + `"`
	for _, c := range []struct {
		path []any
		to   string
		want string
	}{
		{[]any{"sources", 1, "width"}, `-5`, "“sources[1].width”: the width of a scan is -5\u00a0px; it can be 1 to 1e+06\u00a0px, or 0 without a scan"},
		{[]any{"sources", 1, "width"}, `0`, "“sources[1].width”: green.tif: it has no width"},
		{[]any{"sources", 1, "width"}, `2.5`, "“sources[1].width” is the number 2.5; a whole number belongs there"},
		{[]any{"sources", 1, "width"}, ``, "“sources[1].width” is missing"},
		{[]any{"sources", 0, "width"}, `999999`, "“sources[0].width”: red.tif: 999999 × 700 pixels are more than"},
		{[]any{"sources", 1, "file"}, `""`, "“sources[1].file”: a plate has no file"},
		{[]any{"sources", 1, "sha256"}, `"abc"`, "“sources[1].sha256”: “abc” is no SHA-256"},
		{[]any{"sources", 1, "sha256"}, ``, "“sources[1].sha256” is missing"},
		{[]any{"sources", 1, "part"}, `3`, "“sources[1].part”: the part of its file that a plate is is 3"},
		{[]any{"sources", 2, "area"}, `[0,0,5000,10]`, "“sources[2].area”: blue.tif: the picture within its borders"},
		{[]any{"sources", 2, "area"}, `[10,0,10,10]`, "“sources[2].area”"},
		{[]any{"sources", 2, "film", "gamma"}, `9`, "“sources[2].film.gamma”: the film's contrast γ is 9; it can be 0.2 to 5"},
		{[]any{"sources", 2, "film", "white"}, `1e300`, "“sources[2].film.white”"},
		{[]any{"sources", 2, "film", "bend"}, `[{"density":1,"straight":1}]`, "“sources[2].film.bend” has 1 values; 16 belong there"},
		{[]any{"sources", 2, "film", "bend"}, `[` + strings.Repeat(`{"density":1,"straight":2},`, 15) + `{"density":0,"straight":0}]`, "“sources[2].film.bend”: blue.tif: a bend of 0 points"},
		{[]any{"neutral"}, `{"by":"guess"}`, "“neutral.by”: “guess” is no thing that films can rest on"},
		{[]any{"neutral"}, `{"by":"greys","greys":[{"x":1e300,"y":0}]}`, "“neutral.greys[0].x”"},
		{[]any{"sources", 2, "remarks"}, `[` + long + `]`, "“sources[2].remarks[0]”: “xxx"},
		{[]any{"assign"}, `[0,1,1]`, "“assign[2]”: the three plates need three different sources"},
		{[]any{"assign"}, `[0,1,3]`, "“assign[2]”"},
		{[]any{"layout"}, `"heap"`, "“layout”: “heap” is no way that plates lie in their files: there are separate, tall, channels and pages"},
		{[]any{"registered"}, `"perhaps"`, "“registered”: “perhaps” is no state of register"},
		{[]any{"registered"}, `"none"`, "“found_key”: plates whose register is “none”"},
		{[]any{"found_key"}, `-1`, "“found_key”"},
		{[]any{"found_key"}, `7`, "“found_key”"},
		{[]any{"found", 0, "matrix"}, `[1e300,0,0,0,1e300,0]`, "“found[0].matrix[0]”"},
		{[]any{"found", 0, "matrix"}, `[1,0,1e300,0,1,0]`, "“found[0].matrix[2]”"},
		{[]any{"found", 0, "matrix"}, `[0,0,0,0,0,0]`, "“found[0].matrix”: a register that folds a plate"},
		{[]any{"found", 0, "matrix"}, `[1000,0,0,0,0.001,0]`, "“found[0].matrix”"},
		{[]any{"found", 0, "matrix"}, `[1e6,0,0,0,1e6,0]`, "“found[0].matrix”"},
		{[]any{"found", 0, "matrix"}, `[1,1,0,1,1.000001,0]`, "“found[0].matrix”"},
		{[]any{"found", 0, "matrix"}, `[1,0,0]`, "“found[0].matrix” has 3 values; 6 belong there"},
		{[]any{"found", 0, "confidence"}, `1.5`, "“found[0].confidence”"},
		{[]any{"found", 0, "words"}, long, "“found[0].words”"},
		{[]any{"local", 0, "cx", 0}, `900`, "“local[0]”: a local register of red.tif that folds the picture"},
		{[]any{"local", 0, "h"}, `1`, "“local[0]”: a local register of a picture"},
		{[]any{"outvoted", 1}, `-0.1`, "“outvoted[1]”"},
		{[]any{"tones", 1}, `2`, "“tones[1]”"},
		{[]any{"key"}, `"black"`, "“key”: “black” is no plate to be the key"},
		{[]any{"marks", 0, "at", 0, "x"}, `1e300`, "“marks[0].at[0].x”"},
		{[]any{"marks", 0, "at", 0, "x"}, `5000`, "“marks[0].at[0]”: mark 1 at 5000"},
		{[]any{"marks", 1, "n"}, `1`, "“marks[1].n”: two marks have the number 1"},
		{[]any{"marks", 1, "n"}, `0`, "“marks[1].n”"},
		{[]any{"marks", 0, "weight"}, `0`, "“marks[0].weight”"},
		{[]any{"marks", 0, "at", 2, "certainty"}, `2`, "“marks[0].at[2].certainty”"},
		{[]any{"register_by"}, `"guess"`, "“register_by”"},
		{[]any{"mark_share"}, `1`, "“mark_share”"},
		{[]any{"offsets", 2, "dx_um"}, `900000`, "“offsets[2]”: the cyan layer would lie off the print"},
		{[]any{"offsets", 2, "turn_deg"}, `90`, "“offsets[2].turn_deg”"},
		{[]any{"grain"}, `"round"`, "“grain”: “round” is no way that the paper's grain runs: there are upright and level"},
		{[]any{"bench"}, `"yellow"`, "“bench”: “yellow” is no layer to register to: there are magenta and cyan; yellow is too faint"},
		{[]any{"own_palettes", 0, "cyan", "load"}, `100`, "“own_palettes[0].cyan.load”"},
		{[]any{"own_palettes", 0, "cyan", "haze"}, `"much"`, "“own_palettes[0].cyan.haze” is the text “much”; a number belongs there"},
		{[]any{"own_palettes", 0, "cyan", "pigments", 0, "ci"}, `"PX1"`, "“own_palettes[0].cyan.pigments[0].ci”"},
		{[]any{"own_palettes", 0, "yellow"}, ``, "“own_palettes[0].yellow” is missing"},
		{[]any{"own_palettes", 0, "id"}, `"earth"`, "“own_palettes[0].id”: two palettes have the id “earth”"},
		{[]any{"own_papers", 0, "r"}, `[0.5]`, "“own_papers[0].r” has 1 values; 71 belong there"},
		{[]any{"own_papers", 0, "r", 4}, `1.5`, "“own_papers[0].r[4]”"},
		{[]any{"own_papers", 0, "name"}, `""`, "“own_papers[0]”"},
		{[]any{"palette"}, `"none"`, "“palette”: there is no palette “none”"},
		{[]any{"order"}, `"yy"`, "“order”: “yy” is no order of the layers"},
		{[]any{"paper"}, `"none"`, "“paper”"},
		{[]any{"finish"}, `"none"`, "“finish”"},
		{[]any{"light"}, `"moon"`, "“light”"},
		{[]any{"limit"}, `9`, "“limit”"},
		{[]any{"limit"}, `1.5`, "“limit”"},
		{[]any{"unknowns", "scatter"}, `0.5`, "“unknowns.scatter”"},
		{[]any{"unknowns", "paper"}, ``, "“unknowns.paper” is missing"},
		{[]any{"way", "range"}, `0.1`, "“way.range”"},
		{[]any{"way", "stops", 1}, `6`, "“way.stops[1]”"},
		{[]any{"way", "straight"}, `1`, "“way.straight”"},
		{[]any{"route"}, `"none"`, "“route”"},
		{[]any{"print_width_mm"}, `0`, "“print_width_mm”: the print width is 0\u00a0mm; it can be 10 to 5000\u00a0mm"},
		{[]any{"print_width_mm"}, `"wide"`, "“print_width_mm” is the text “wide”; a number belongs there"},
		{[]any{"tolerance_um"}, `0.5`, "“tolerance_um”: the tolerance is 0.5\u00a0µm; it can be 1 to 10000\u00a0µm, or 0 for what the eye sees"},
		{[]any{"section", "x1"}, `0.15`, "“section”"},
		{[]any{"section", "x1"}, `1.5`, "“section.x1”"},
		{[]any{"title"}, long, "“title”"},
		{[]any{"carried"}, ``, "“carried” is missing"},
		{[]any{"local_off"}, `null`, "“local_off” is null"},
		{[]any{"colour"}, `"blue"`, "“colour” is not known here"},
		{[]any{"sources", 0, "colour"}, `1`, "“sources[0].colour” is not known here"},
		{[]any{"version"}, fmt.Sprint(session.Version + 1), fmt.Sprintf("written by a later Threeply (session version %d, this one reads up to %d)", session.Version+1, session.Version)},
		{[]any{"version"}, `0`, "it is not a session of Threeply (its version is 0)"},
		{[]any{"version"}, ``, "it is not a session of Threeply (“version” is missing)"},
	} {
		_, err := session.Read("kept.json", spoilt(t, sound, c.to, c.path...))
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "kept.json: ") {
			t.Errorf("%v %.40s: %v, want %q", c.path, c.to, err, c.want)
		}
	}
	for text, want := range map[string]string{
		"":                  "the text is empty",
		"plate":             "the text is no JSON",
		"[]":                "the text is a list",
		`{"version":3`:      "the text is no JSON, at line 1: unexpected end",
		`{"version":1e999}`: "a number that is too large",
	} {
		if _, err := session.Read("kept.json", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if back, err := session.Read("kept.json", append([]byte("\ufeff"), sound...)); err != nil || !back.Equal(s) {
		t.Errorf("with a byte-order mark: %v", err)
	}
}

// Sessions that earlier versions wrote are read, and written as the present one.
func TestOldSessions(t *testing.T) {
	read := func(name string) session.State {
		t.Helper()
		text, err := os.ReadFile("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := session.Read(name, text)
		if err != nil {
			t.Fatal(err)
		}
		again, err := session.Write(s)
		if err != nil || !strings.HasPrefix(string(again), fmt.Sprintf("{\n  \"version\": %d,", session.Version)) {
			t.Errorf("%s is written as %.30s (%v)", name, again, err)
		}
		if back, err := session.Read(name, again); err != nil || !back.Equal(s) {
			t.Errorf("%s: written anew it is another one (%v)", name, err)
		}
		return s
	}
	one := read("version1.json")
	n := session.New()
	if one.Title != "Old mill" || one.Assign != [3]int{2, 1, 0} || one.Offsets[2].DX != 120 || one.Found[2].Matrix != affine.Translate(-2, 5) {
		t.Errorf("of version 1: %+v", one)
	}
	if one.FoundKey != 1 || one.Carried || one.Sources[2].Part != 2 || one.Sources[2].SHA256 != "" {
		t.Errorf("of version 1 the found key is %d, source 2 is %+v", one.FoundKey, one.Sources[2])
	}
	if one.Limit != n.Limit || one.By != n.By || one.Unknowns != n.Unknowns || one.Way != n.Way || one.Grain != n.Grain || one.Bench != n.Bench || one.MarkShare != n.MarkShare {
		t.Errorf("what version 1 did not have is not as at first: %+v", one)
	}
	two := read("version2.json")
	if two.FoundKey != 1 || len(two.Marks) != 1 || two.Marks[0].At[0].X != 104 || two.Limit != 0.9 || len(two.OwnPalettes) != 1 || two.OwnPalettes[0].Cyan.Load != 1.5 || two.Local[0].CX[0] != 1.5 || two.Sources[2].Film.Negative || two.Sources[1].Remarks == nil {
		t.Errorf("of version 2: %+v", two)
	}
	if two.Sources[2].Part != 0 {
		t.Errorf("a separate file is part %d", two.Sources[2].Part)
	}
	three := read("version3.json")
	if three.Title != "Harbour at dusk" || len(three.Marks) != 2 || three.Way.Range != 1.3 || three.Unknowns == nil || three.Notes != nil || three.Names != "" {
		t.Errorf("of version 3: %+v", three)
	}

	four := read("version4.json")
	if four.Title != "Harbour at dusk" || len(four.Notes) != 1 || four.Decision.Seen == nil || four.Negatives != nil || four.Workshop != nil {
		t.Errorf("of version 4: %+v", four)
	}

	five := read("version5.json")
	if five.Negatives == nil || five.Workshop == nil || five.Survey[0].Known() || five.Found[0].Confidence != 0.9 {
		t.Errorf("of version 5: %+v", five)
	}

	six := read("version6.json")
	if six.Title != "Harbour at dusk" || six.Negatives == nil || len(six.Notes) != 1 || six.Held != nil {
		t.Errorf("of version 6: %+v", six)
	}

	seven := read("version7.json")
	if seven.Negatives == nil || seven.Negatives.PPI != 720 || seven.Negatives.Screen != 0 {
		t.Errorf("of version 7: %+v", seven)
	}

	for v := 8; v <= 12; v++ { // as their programs wrote them
		s := read(fmt.Sprintf("version%d.json", v))
		if s.Title != "Harbour at dusk" || len(s.Marks) != 2 || len(s.Held) != 1 || len(s.Notes) != 1 || s.Decision.Seen == nil || s.Notes[0].Seen != s.Shown() || (len(s.Points) == 2) != (v >= 10) || s.Negatives == nil {
			t.Errorf("of version %d: %+v", v, s)
		}
	}
	thirteen := read("version13.json")
	if len(thirteen.Held) != 1 || thirteen.Held[0].Palette == nil || len(thirteen.Points) != 2 || thirteen.Decision.Seen == nil || thirteen.Decision.Seen.OwnPalette != nil {
		t.Errorf("of version 13: %+v", thirteen)
	}
	fifteen := read("version15.json")
	if m := fifteen.OwnPalettes[0].Measured; m == nil || m.Told != [3]float64{1, 2, 1.5} || fifteen.Printed != nil || fifteen.TestSheet != "" {
		t.Errorf("of version 15: %+v", fifteen)
	}
	fourteen := read("version14.json")
	if m := fourteen.OwnPalettes[0].Measured; m == nil || m.Sheets != 2 || m.Told != [3]float64{} || m.Seen.Deep != "C3" {
		t.Errorf("of version 14: %+v", fourteen)
	}

	text, err := os.ReadFile("testdata/version2.json")
	if err != nil {
		t.Fatal(err)
	}
	// Spreads of load and thickness are one product, whose shares add as squares do; a
	// limit beyond the coat is the coat.
	own, err := session.Read("old.json", spoilt(t, spoilt(t, text, `{"load":0.3,"thickness":0.4,"haze":0.5,"finish":false}`, "spread"), `2.5`, "limit"))
	if err != nil || own.Unknowns == nil || math.Abs(own.Unknowns.Amount-0.5) > 1e-9 || own.Unknowns.Scatter != 2 || own.Unknowns.Surface != 1 || own.Unknowns.Exposure != spread.Usual.Exposure || own.Limit != 1 {
		t.Errorf("own spreads of version 2 are read as %+v, limit %g (%v)", own.Unknowns, own.Limit, err)
	}
	// Version 3 had them too while it was made.
	early3, err := session.Write(two)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ spreads, limit string }{
		{`{"load":0.3,"thickness":0.4,"haze":0.5,"finish":false}`, `2.5`}, {`{"load":0.1,"thickness":0.1,"haze":0.5,"finish":true}`, `0.9`},
	} {
		early, err := session.Read("early.json", spoilt(t, spoilt(t, early3, c.spreads, "spread"), c.limit, "limit"))
		if want := c.limit == `2.5`; err != nil || (early.Unknowns != nil) != want || want && (early.Limit != 1 || math.Abs(early.Unknowns.Amount-0.5) > 1e-9) || !want && !early.Equal(two) {
			t.Errorf("early version 3 with %s: %+v, limit %g (%v)", c.spreads, early.Unknowns, early.Limit, err)
		}
	}
	if _, err := session.Read("early.json", spoilt(t, early3, `{"load":"much"}`, "spread")); err == nil || !strings.Contains(err.Error(), "spread") {
		t.Errorf("spreads that are none: %v", err)
	}
	for want, bad := range map[string][]byte{
		"“colour” is not known here":             spoilt(t, text, `1`, "colour"),
		"“found_key” is not known here":          spoilt(t, text, `1`, "found_key"),
		"“sources[0].sha256” is not known here":  spoilt(t, text, `""`, "sources", 0, "sha256"),
		"“own_palettes[0].cyan.haze” is missing": spoilt(t, text, ``, "own_palettes", 0, "cyan", "haze"),
		"“sources[0].width”: ":                   spoilt(t, text, `-5`, "sources", 0, "width"),
		"“found[2].matrix[2]”: ":                 spoilt(t, text, `1e300`, "found", 2, "matrix", 2),
	} {
		if _, err := session.Read("old.json", bad); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	// Version 2 wrote texts of version 1 with its own fields in them.
	if s, err := session.Read("old.json", spoilt(t, text, `1`, "version")); err != nil || !s.Equal(two) {
		t.Errorf("version 1 with fields of version 2: %v", err)
	}
}

// An old session does not say which plate the others were found against: it is the one
// that was found with most confidence of those that lie still, not one that somebody
// laid there.
func TestTheFoundKeyOfOldSessions(t *testing.T) {
	text, err := os.ReadFile("testdata/version2.json")
	if err != nil {
		t.Fatal(err)
	}
	still := `[1,0,0,0,1,0]`
	text = spoilt(t, spoilt(t, text, still, "found", 0, "matrix"), `true`, "found", 0, "by_hand")   // centre on centre
	text = spoilt(t, spoilt(t, text, still, "found", 2, "matrix"), `0.1`, "found", 2, "confidence") // not found
	if s, err := session.Read("old.json", text); err != nil || s.FoundKey != 1 {
		t.Errorf("the found key is %d (%v)", s.FoundKey, err)
	}
	if s, err := session.Read("old.json", spoilt(t, text, `"none"`, "registered")); err != nil || s.FoundKey != -1 {
		t.Errorf("not registered, the found key is %d (%v)", s.FoundKey, err)
	}
	moved := spoilt(t, spoilt(t, text, `[1,0,5,0,1,0]`, "found", 0, "matrix"), `[1,0,9,0,1,0]`, "found", 1, "matrix")
	moved = spoilt(t, moved, `[1,0,2,0,1,0]`, "found", 2, "matrix")
	if s, err := session.Read("old.json", moved); err != nil || s.FoundKey != 1 {
		t.Errorf("where none lies still, the found key is %d (%v)", s.FoundKey, err)
	}
}

// Whatever a file holds, reading it neither panics nor lets through what cannot be
// checked or written.
func FuzzRead(f *testing.F) {
	sound, err := session.Write(sessiontest.Marked())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sound)
	for _, name := range []string{"version1.json", "version2.json", "version3.json", "version4.json", "version5.json", "version6.json", "version7.json", "version8.json", "version9.json", "version10.json", "version11.json", "version12.json", "version13.json"} {
		text, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"version":2,"found":[{"matrix":[1e300,0,0,0,1e-300,0]},{},{}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := session.Read("a.json", text)
		if err != nil {
			return
		}
		out, err := session.Write(s)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := session.Read("a.json", out); err != nil || !reflect.DeepEqual(back, s) {
			t.Errorf("written and read again: %v", err)
		}
	})
}

// A state of no plates, as a session begins, is sound.
func TestEmptySession(t *testing.T) {
	n := session.New()
	if err := n.Check(); err != nil {
		t.Error(err)
	}
	text, err := session.Write(n)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("new.json", text); err != nil || !back.Equal(n) {
		t.Error(err)
	}
	if _, err := session.Read("old.json", fmt.Appendf(nil, `{"version":2,"print_width_mm":240}`)); err != nil {
		t.Error(err)
	}
}

// A file says what wrote it and when; the state that is read is the same.
func TestWriteFile(t *testing.T) {
	s := sessiontest.Marked()
	text, err := session.WriteFile(s, &session.Written{By: "Threeply v1", At: "2026-03-02T10:20:00Z"})
	if err != nil || !strings.Contains(string(text), `"by": "Threeply v1"`) {
		t.Fatalf("%s (%v)", text, err)
	}
	if back, err := session.Read("a.json", text); err != nil || !back.Equal(s) {
		t.Errorf("read back: %v", err)
	}
}

// A note's text holds 10 240 characters, however many bytes they take; a longer one is
// refused in words, and never cut.
func TestLongNotes(t *testing.T) {
	s := sessiontest.Marked()
	for letters, fits := range map[int]bool{10240: true, 10241: false} {
		s.Notes[0].Text = strings.Repeat("é", letters)
		text, err := session.Write(s)
		if err == nil {
			var back session.State
			if back, err = session.Read("a.json", text); err == nil && !back.Equal(s) {
				t.Errorf("%d letters are read as %d bytes", letters, len(back.Notes[0].Text))
			}
		}
		if fits && err != nil || !fits && (err == nil || !strings.Contains(err.Error(), "10240")) {
			t.Errorf("%d letters: %v", letters, err)
		}
	}
}
