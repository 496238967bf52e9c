package browsertest

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"
)

// The window that tests share: small, for the software that stands in for a graphics
// card draws it quickly, yet with the whole page in it.
const (
	windowWidth  = 760
	windowHeight = 560
)

// shared are the pages that tests hand on to one another, nil until one asks for it
// and after one that failed; opening is how the demonstration set stood at first.
var shared struct {
	demo, scans, pier *tab
	opening           map[string]any
}

// demo gives a test the page with the demonstration set, registered, as it opens. Many
// tests share it: at the end of each it is taken back to its opening by undo and by
// commands, and a trace that stays fails the test that left it. Tests that open other
// files or register anew share another, see scans, those that try what is kept a third,
// see pier, and a few have a page of their own, see open.
func demo(t *testing.T) *page {
	t.Helper()
	p := lend(t, &stand(t).demo, &shared.demo, func(p *page) {
		p.resize(windowWidth, windowHeight)
		p.navigate()
		p.waitReady()
		p.waitRegistered()
		p.waitFor(`v.left.have`)
		p.command("look", map[string]any{"id": "beside"})
		p.rest() // the bar has other controls then, and the stage another size
		shared.opening = p.standing()
	})
	t.Cleanup(func() {
		if !t.Failed() {
			p.takeBack() // a failure ends only this function
		}
	})
	return p
}

// scans gives a test a page that takes scans, on a screen that says that it is Display P3.
// Many tests share it, and what one left open is still there for the next: each opens a
// set of its own first. The first of them overtakes the demonstration set.
func scans(t *testing.T) *page {
	t.Helper()
	lent := true
	p := lend(t, &stand(t).rest, &shared.scans, func(p *page) {
		lent = false
		p.resize(windowWidth, windowHeight)
		p.before(wideScreen)
		p.navigate()
		p.waitFor(`v !== null`)
	})
	if lent {
		p.waitFor(`v.idle`)
	}
	p.dismissAll()
	p.command("station", map[string]any{"id": ""}) // a set may have asked which plate is which there
	p.command("look", map[string]any{"id": "beside"})
	p.command("side", map[string]any{"which": "left", "id": "reference"})
	p.command("zoom", map[string]any{"fit": true})
	return p
}

// pier gives a test a page on which a set of the user's own is open, registered and
// kept. Tests share it: each finds the set as the last one left it. Its workers are
// listed in window.workers, and the exports given to them wait in window.held while it
// is a list.
func pier(t *testing.T) *page {
	t.Helper()
	p := lend(t, &stand(t).rest, &shared.pier, func(p *page) {
		p.resize(windowWidth, windowHeight)
		p.before(`window.workers = [];
			window.Worker = class extends Worker {
				constructor(...made) { super(...made); workers.push(this); }
				postMessage(...sent) {
					if (window.held && ["tiff", "proof"].includes(sent[0].op)) held.push(() => super.postMessage(...sent));
					else super.postMessage(...sent);
				}
			};`)
		p.openPier()
	})
	p.waitFor(idle)
	p.dismissAll()
	return p
}

// wideScreen has the page believe that it stands on a screen of Display P3.
const wideScreen = `(() => {
	const asked = window.matchMedia.bind(window);
	window.matchMedia = (query) => (query === "(color-gamut: p3)" ? { matches: true } : asked(query));
})()`

// lend gives a test a tab that others of its lane use too. Where there is none an empty one
// that observes the page is given to begin.
func lend(t *testing.T, l *lane, lent **tab, begin func(p *page)) *page {
	t.Helper()
	l.take(t)
	p := &page{t: t, tab: *lent}
	t.Cleanup(func() { // after the cleanups of the test and of what is made of the page
		p.complain()
		if t.Failed() {
			p.leaveShot()
			p.close()
			*lent = nil
		}
	})
	if *lent == nil {
		p.tab = newTab(l, start().origin())
		*lent = p.tab
		p.before(observer)
		begin(p)
	}
	return p
}

// pressMessage presses the button of a message, once it is there.
func (p *page) pressMessage(label string) {
	p.t.Helper()
	p.waitFor(`(b => b && (b.click(), true))([...document.querySelectorAll(".message button")].find(b => b.textContent === ` + quoted(label) + `))`)
}

// dismissAll dismisses what the page says.
func (p *page) dismissAll() {
	p.t.Helper()
	for _, m := range p.view().Messages {
		p.desk("dismiss", map[string]any{"message": m.ID})
	}
	p.waitFor(`v.messages.length === 0`)
}

// takeBack takes the page back to its opening.
func (p *page) takeBack() {
	p.t.Helper()
	p.resize(windowWidth, windowHeight)
	p.waitFor(`v.idle`)
	p.dismissAll()
	v := p.view()
	const most = 100 // steps that a test may have done
	for range most {
		if v.Undo == "" {
			break
		}
		p.command("undo", nil)
		v = p.view()
	}
	at := shared.opening["view"].(map[string]any)
	pair := func(name string) map[string]any {
		both := at[name].([]any)
		return map[string]any{"first": both[0], "second": both[1]}
	}
	id := func(name string) map[string]any { return map[string]any{"id": at[name]} }
	for _, c := range []struct {
		name   string
		fields map[string]any
	}{
		{"markChoose", map[string]any{"filter": "red"}}, {"contrast", map[string]any{"on": false}}, {"together", map[string]any{"on": false}},
		{"look", map[string]any{"id": "marks"}}, {"zoom", map[string]any{"percent": 400}},
		{"other", id("other")}, {"look", id("look")}, {"tool", id("tool")}, {"layer", id("layer")}, {"edges", pair("edges")}, {"plates", pair("platePair")},
		{"divider", map[string]any{"share": 0.5}}, {"select", map[string]any{"printer": at["selected"]}}, {"edit", map[string]any{"printer": ""}},
		{"whole", map[string]any{"hidden": at["whole"] == false}}, {"left", map[string]any{"hidden": true}},
		{"loupe", map[string]any{"on": false, "zoom": 4}}, {"hover", map[string]any{"x": 0, "y": 0, "hidden": true}},
		{"sort", map[string]any{"id": "kind"}}, {"hue", map[string]any{"degrees": nil}}, {"point", map[string]any{"x": -10000, "y": -10000}},
		{"room", map[string]any{"on": false}}, {"side", map[string]any{"which": "left", "id": "reference"}}, {"side", map[string]any{"which": "right", "id": "print"}}, {"zoom", map[string]any{"fit": true}}, {"station", id("station")}, {"cut", map[string]any{"on": false}}, {"stack", map[string]any{"on": true}},
	} {
		p.command(c.name, c.fields)
	}
	p.point(0, 0)
	p.rest()
	for _, trace := range differences("", shared.opening, p.standing()) {
		p.t.Errorf("the test leaves a trace in the page that others use: %s", trace)
	}
}

// standing is the session that the page holds, and how it is looked at.
func (p *page) standing() map[string]any {
	p.t.Helper()
	var all map[string]any
	text := eval[string](p, `(() => {
		const v = JSON.parse(threeply.view());
		const seen = Object.fromEntries(["station", "look", "tool", "layer", "other", "edges", "platePair", "selected", "zoom", "fitted", "whole",
			"frames", "hidden", "contrast", "together", "undo", "messages", "plates", "sample"].map((name) => [name, v[name]]));
		return JSON.stringify({view: seen, session: JSON.parse(threeply.sessionText())});
	})()`)
	if err := json.Unmarshal([]byte(text), &all); err != nil {
		p.t.Fatal(err)
	}
	return all
}

// differences says where two JSON values differ, a line each.
func differences(at string, want, got any) []string {
	a, isMap := want.(map[string]any)
	b, both := got.(map[string]any)
	if !isMap || !both {
		if reflect.DeepEqual(want, got) {
			return nil
		}
		return []string{fmt.Sprintf("%s is %.200v, was %.200v", at, got, want)}
	}
	var out []string
	for _, name := range slices.Sorted(maps.Keys(a)) {
		out = append(out, differences(at+"."+name, a[name], b[name])...)
	}
	for name := range b {
		if _, known := a[name]; !known {
			out = append(out, fmt.Sprintf("%s.%s is new", at, name))
		}
	}
	return out
}
