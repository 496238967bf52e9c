package browsertest

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"threeply/proof/session"
)

// TestMessagesKeepFileNames gives the page sessions that are none: a message that
// begins with a file's name begins as the file is named, any other with a capital.
func TestMessagesKeepFileNames(t *testing.T) {
	p := demo(t)
	for name, want := range map[string]string{"über.json": "über.json: ", "session-x.json": "session-x.json: "} {
		p.desk("openSession", map[string]any{"name": name, "text": "no session"})
		p.waitFor(`v.messages.length === 1`)
		m := p.view().Messages[0]
		if !strings.HasPrefix(m.Text, want) {
			t.Errorf("%s: %s", name, m.Text)
		}
		p.desk("dismiss", map[string]any{"message": m.ID})
		p.waitFor(`v.messages.length === 0`)
	}
}

// TestFieldsTakeWhatASessionTakes holds the ends of the page's fields to the session's.
func TestFieldsTakeWhatASessionTakes(t *testing.T) {
	p := demo(t)
	p.station()
	ends := eval[map[string][2]float64](p, `Object.fromEntries([...document.querySelectorAll("#panel-register .judgement .number")]
		.map((field) => [field.querySelector("label").textContent, [Number(field.querySelector("input").min), Number(field.querySelector("input").max)]]))`)
	for label, place := range map[string]string{"Print width": "print_width_mm", "Seen from": "viewing_mm", "Own limit": "tolerance_um"} {
		if r, ok := session.RangeAt(place); !ok || ends[label] != [2]float64{r.Low, r.High} {
			t.Errorf("%s: the field takes %v, the session %v", label, ends[label], r)
		}
	}
	p.command("station", map[string]any{"id": "plates"}) // its cards are made when they are first seen
	p.waitFor(`document.querySelector("#panel-plates .card .number") !== null`)
	for label, of := range map[string]struct {
		panel, place string
		factor       float64
	}{
		"film γ":                         {"plates", "sources.film.gamma", 1},
		"Share of the marks":             {"register", "mark_share", 100},
		"Pigment ±":                      {"proof", "unknowns.amount", 100},
		"Enlarged to a density range of": {"proof", "way.range", 1},
		"Thickest layer":                 {"proof", "limit", 100},
	} {
		p.command("station", map[string]any{"id": of.panel}) // a drawer is made when it is first asked for
		p.rest()
		got := eval[[2]float64](p, fmt.Sprintf(`(i => [Number(i.min), Number(i.max)])([...document.querySelectorAll("#panel-%s .number")].find((f) => f.querySelector("label")?.textContent === %s).querySelector("input"))`, of.panel, quoted(label)))
		if r, ok := session.RangeAt(of.place); !ok || math.Abs(got[0]-of.factor*r.Low) > 1e-9 || math.Abs(got[1]-of.factor*r.High) > 1e-9 {
			t.Errorf("%s: the field takes %v, the session %v", label, got, r)
		}
	}
}
