package command

import (
	"math"
	"reflect"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/strict"
)

// Both ends of a range can be set, and nothing beyond them, wherever a range is asked
// for: by a command from the page and by the session that results.
func TestRangesAreWhatCommandsTake(t *testing.T) {
	for place, command := range map[string]func(v float64) Command{
		"print_width_mm":      func(v float64) Command { return PrintWidth{Width: v} },
		"viewing_mm":          func(v float64) Command { return ViewingDistance{Distance: v} },
		"tolerance_um":        func(v float64) Command { return Tolerance{Micron: v} },
		"limit":               func(v float64) Command { return Limit{Value: v} },
		"sources.film.gamma":  func(v float64) Command { return Gamma{Source: 2, Value: v} },
		"mark_share":          func(v float64) Command { return RegisterBy{ID: session.ByBoth, Value: &v} },
		"offsets.turn_deg":    func(v float64) Command { return Nudge{Printer: "cyan", Turn: &v} },
		"offsets.stretch_pct": func(v float64) Command { return Nudge{Printer: "cyan", Stretch: &v} },
		"offsets.across_pct":  func(v float64) Command { return Nudge{Printer: "cyan", Across: &v} },
		"pose.turnDeg":        func(v float64) Command { return Place{Source: 2, Pose: session.Pose{Turn: v}} },
		"pose.stretchPct":     func(v float64) Command { return Place{Source: 2, Pose: session.Pose{Stretch: v}} },
	} {
		r, ok := session.RangeAt(place)
		if !ok {
			t.Fatalf("no range of %s", place)
		}
		step := (r.High - r.Low) / 100
		for v, want := range map[float64]bool{
			r.Low: true, r.High: true, r.Low - step: false, r.High + step: false, math.Inf(1): false, math.NaN(): false,
		} {
			c := command(v)
			if err := NewHistory(sessiontest.Opened()).Do(c, ""); (err == nil) != want {
				t.Errorf("%s %g: %v", place, v, err)
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				continue // JSON has no such number
			}
			text, err := Write(c, "")
			if err != nil {
				t.Fatal(err)
			}
			if _, _, err := Read(text); (err == nil) != want {
				t.Errorf("%s: %v", text, err)
			}
		}
	}
	if err := NewHistory(session.New()).Do(Tolerance{}, ""); err != nil {
		t.Errorf("no tolerance: %v", err)
	}
	if err := NewHistory(session.New()).Do(Tolerance{Micron: 0.5}, ""); err == nil {
		t.Error("half a micrometre is taken")
	}
}

// Every number that a command brings has a range.
func TestEveryNumberOfACommandHasARange(t *testing.T) {
	var look func(name string, typ reflect.Type, place string, known bool)
	look = func(name string, typ reflect.Type, place string, known bool) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Array, reflect.Slice:
			look(name, typ.Elem(), place, known)
		case reflect.Struct:
			for _, f := range strict.Fields(typ) {
				at, ok := session.PlaceOf(f, place, known)
				look(name+"."+f.Name, f.Type, at, ok)
			}
		case reflect.Int, reflect.Float64:
			if _, ok := session.RangeAt(place); !ok || !known {
				t.Errorf("%s: no range “%s”", name, place)
			}
		}
	}
	for _, name := range Names() {
		look(name, Type(name), "", false)
	}
}
