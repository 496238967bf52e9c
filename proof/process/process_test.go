package process

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/workshop"
)

var made = label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}

func sheetOf(t *testing.T, change func(*session.State)) *Sheet {
	t.Helper()
	s := sessiontest.Marked()
	change(&s)
	sheet, err := Of(&s, made)
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// The three routes as they are practised: what is put down first, how often the stack is
// turned, and how the letter reads on the tissue, on the supports and in the end.
func TestRoutes(t *testing.T) {
	for _, c := range []struct {
		route, put, onTissue, onSupport string
		turns                           int
	}{
		{"direct", "yellow magenta cyan", "mirrored", "right", 0},
		{"clear-paper", "cyan magenta yellow", "right", "mirrored", 1},
		{"clear-temporary-paper", "yellow magenta cyan", "mirrored", "right", 2},
	} {
		s := sheetOf(t, func(s *session.State) { s.Route, s.Order = c.route, "ymc" })
		var put []string
		for _, l := range s.Layers {
			put = append(put, l.Name)
			for _, step := range l.Dry.Steps[3:] {
				if step.Letter != c.onTissue {
					t.Errorf("%s: on the tissue “%s” reads %s", c.route, step.Do, step.Letter)
				}
			}
			if last := l.Wet.Steps[len(l.Wet.Steps)-1]; last.Letter != c.onSupport {
				t.Errorf("%s: on the first support it reads %s", c.route, last.Letter)
			}
		}
		if got := strings.Join(put, " "); got != c.put || len(s.Turns) != c.turns {
			t.Errorf("%s: %s, %d turns", c.route, got, len(s.Turns))
		}
		if end := s.Supports[len(s.Supports)-1]; end.Letter != "right" || end.Layers != "yellow → magenta → cyan" {
			t.Errorf("%s ends as %+v", c.route, end)
		}
		// A layer is laid only to those that lie there already.
		for i, l := range s.Layers {
			said := l.Wet.Steps[1].Do
			for k, other := range s.Layers {
				if strings.Contains(said, other.Name) != (k < i) {
					t.Errorf("%s: %s is laid so: %s", c.route, l.Name, said)
				}
			}
		}
	}
}

// The usual times, by common practice, and those that a workshop has set.
func TestTimes(t *testing.T) {
	times := func(s *Sheet) string {
		var out []string
		for _, step := range s.Layers[0].Wet.Steps {
			if step.Time != "" {
				out = append(out, step.Time)
			}
		}
		return strings.Join(out, ", ")
	}
	if got := times(sheetOf(t, func(s *session.State) { s.Workshop = nil })); got != "4 min, 15 min, 40 °C, 5 min" {
		t.Errorf("the usual times are %s", got)
	}
	s := sheetOf(t, func(s *session.State) {
		w := workshop.Usual
		w.Process.Soak, w.Process.Mate, w.Process.Develop, w.Process.Film = 1.5, 20, 42, true
		w.Unit, w.Layers[pigment.Yellow].Exposure = workshop.Lights, 300
		s.Workshop, s.Way.Stops = &w, [3]float64{1, 0, 0}
	})
	if got := times(s); got != "1.5 min, 20 min, 42 °C, 5 min" {
		t.Errorf("the set times are %s", got)
	}
	if s.Layers[0].Exposure != "600 light units" || s.Layers[1].Exposure != "" || len(s.Tests) == 0 {
		t.Errorf("exposures: %q, %q", s.Layers[0].Exposure, s.Layers[1].Exposure)
	}
}

// A toxic pigment is named in full where its tissue is coated, and only there.
func TestToxicPigments(t *testing.T) {
	s := sheetOf(t, func(s *session.State) { s.Palette = "latechrome" })
	for _, l := range s.Layers {
		if got := strings.Contains(l.Dry.Steps[0].Danger, "Lead chromate"); got != (l.Printer == pigment.Yellow) {
			t.Errorf("%s: %s", l.Name, l.Dry.Steps[0].Danger)
		}
	}
	if !strings.Contains(strings.Join(s.Dangers, " "), "Lead chromate") {
		t.Error("the first leaf does not name it")
	}
	if clear := sheetOf(t, func(s *session.State) { s.Palette = "arylide" }); strings.Contains(strings.Join(clear.Dangers, " "), "Lead") {
		t.Error("a palette without lead is warned of it")
	}
}

// Yellow is never what others are registered to by eye.
func TestKeyWords(t *testing.T) {
	const y, m, c = pigment.Yellow, pigment.Magenta, pigment.Cyan
	for _, put := range [][]pigment.Printer{{y, m, c}, {y, c, m}, {m, y, c}, {m, c, y}, {c, m, y}, {c, y, m}} {
		said := strings.Join(KeyWords(put, workshop.ByPins), " ")
		if put[0] == y && !strings.Contains(said, "too faint") || put[0] != y && !strings.Contains(said, title(put[0].String())+" is the key") || !strings.Contains(said, "6 mm") {
			t.Errorf("%v: %s", put, said)
		}
	}
}

// The page has a leaf for the dry and for the wet side of each layer, a box for each
// step, and nothing of a person's words becomes markup.
func TestPage(t *testing.T) {
	s := sheetOf(t, func(s *session.State) { s.Title = `Quay <b>&</b> "noon"` })
	var out bytes.Buffer
	if err := s.Write(&out); err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(&out)
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for n := range doc.Descendants() {
		if n.Type == html.TextNode && strings.Contains(n.Data, s.Title) && n.Parent.Data != "title" && !slices.Contains(n.Parent.Attr, html.Attribute{Key: "translate", Val: "no"}) {
			t.Errorf("the title is not marked as a person's words in a %s", n.Parent.Data)
		}
		if n.Type == html.ElementNode {
			count[n.Data]++
			for _, a := range n.Attr {
				if a.Key == "class" {
					count["."+a.Val]++
				}
			}
		}
	}
	steps := len(s.End.Steps)
	for _, l := range s.Layers {
		steps += len(l.Dry.Steps) + len(l.Wet.Steps)
	}
	for _, turn := range s.Turns {
		steps += len(turn.Steps)
	}
	if count[".leaf"] != 6+2+1 || count[".box"] != steps || count[".hatch"] != 3+6 || count["script"] > 0 {
		t.Errorf("%v, want %d boxes", count, steps)
	}
}

func TestNoPlates(t *testing.T) {
	s := session.New()
	if _, err := Of(&s, made); err == nil || !strings.Contains(err.Error(), "no plates") {
		t.Errorf("%v", err)
	}
}
