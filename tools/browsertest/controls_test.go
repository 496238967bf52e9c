package browsertest

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestDrawers opens the drawer of each station by its pull; its panel comes and the
// others go. Escape closes it, and the pictures have the whole table again.
func TestDrawers(t *testing.T) {
	p := demo(t)
	stations := []string{"plates", "register", "tissues", "proof", "review", "sheets"}
	alone := p.frameRect("print")
	for _, station := range stations {
		p.click("#pull-" + station)
		p.waitFor(`v.station === ` + quoted(station) + ` && document.getElementById("panel-` + station + `").checkVisibility()`)
		shown := eval[[]string](p, `[...document.querySelectorAll(".panel")].filter(e => e.checkVisibility()).map(e => e.id)`)
		if len(shown) != 1 {
			t.Errorf("%s: panels %q are shown at once", station, shown)
		}
		if drawer := eval[float64](p, `document.getElementById("drawer").getBoundingClientRect().left`); float64(p.frameRect("print").Max.X) > drawer {
			t.Errorf("%s: the print lies under the drawer", station)
		}
	}
	if clear := eval[bool](p, `(() => { // what is scrolled under Close goes under its bar, over the whole width
		const drawer = document.getElementById("drawer");
		drawer.scrollTo({ top: 300, behavior: "instant" });
		const [all, shut] = [drawer, drawer.querySelector(".shut")].map((e) => e.getBoundingClientRect());
		const at = (x, y) => document.elementFromPoint(x, y).closest(".bar") !== null;
		return drawer.scrollTop > 100 && [all.left + 3, all.left + 200].every((x) => at(x, shut.top) && at(x, shut.bottom) && at(x, all.top + 1)) && at(shut.left + 5, shut.top + 5);
	})()`); !clear {
		t.Error("Close covers a part of a line")
	}
	p.run(`document.querySelector("#drawer .shut").focus()`)
	p.press(kb.Escape)
	p.waitFor(`v.station === "" && document.activeElement.id === "pull-sheets" && !document.getElementById("drawer").checkVisibility()`)
	p.rest()
	if now := p.frameRect("print"); now != alone {
		t.Errorf("after the drawers the print lies at %v, before at %v", now, alone)
	}
}

// TestKeyboard chooses a palette, an order and an offset without a pointer, and reads
// the outcome from the page's own words.
func TestKeyboard(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "tissues"})
	p.waitFor(`document.getElementById("panel-tissues").checkVisibility()`)
	first := p.view()

	p.run(`document.querySelector("#panel-tissues input[name=palette]:checked").focus()`)
	p.press(kb.ArrowDown)
	p.waitFor(`v.palettes.find(q => q.chosen).id !== ` + quoted(first.palette()))
	second := p.view()
	for _, palette := range second.Palettes {
		if palette.Chosen {
			p.waitFor(`document.querySelector("#pull-tissues .status").textContent === ` + quoted(palette.Name))
		}
	}

	p.run(`document.querySelector("#stack .layers button").focus()`)
	top := eval[string](p, `document.querySelector("#stack .layers .printer").textContent`)
	p.press(kb.ArrowDown, chromedp.KeyModifiers(chromedp.ModifierAlt))
	p.waitFor(`v.order !== ` + quoted(second.Order))
	p.waitFor(`document.querySelectorAll("#stack .layers .printer")[1].textContent === ` + quoted(top))

	p.command("station", map[string]any{"id": "register"})
	p.waitFor(`document.getElementById("panel-register").checkVisibility()`)
	p.run(`(() => {
		const layer = document.querySelector("#panel-register details.offsets");
		for (let part = layer; part; part = part.parentElement.closest("details")) part.open = true;
		const input = layer.querySelector("input[type=number]");
		input.focus();
		input.select();
	})()`)
	p.typed("1500")
	p.waitFor(`v.register.rows.some(r => r.offset.dxUm !== 0 || r.offset.dxPx !== 0)`)
	p.waitFor(`v.register.onBench.sign === "out" && document.getElementById("panel-register").textContent.replaceAll("\u00a0", " ").includes(v.register.onBench.sentence)`)
}

// TestSection holds the drawing of the cut to the computed thicknesses: every layer has
// an outline, and it changes with the line.
func TestSection(t *testing.T) {
	p := demo(t)
	p.command("cut", map[string]any{"on": true})
	outlines := `[...document.querySelectorAll("#section svg path, #section svg polygon")].map(e => e.getAttribute("d") ?? e.getAttribute("points")).filter(Boolean)`
	p.waitFor(outlines + `.length >= 3`)
	before := eval[[]string](p, outlines)
	type section struct {
		N     int     `json:"n"`
		MaxUm float64 `json:"maxUm"`
		Least float64 `json:"least"`
		Most  float64 `json:"most"`
	}
	got := eval[section](p, `(() => {
		const s = threeply.section(200);
		const all = [...s.um.yellow, ...s.um.magenta, ...s.um.cyan];
		return {n: s.um.cyan.length, maxUm: s.maxUm, least: Math.min(...all), most: Math.max(...all)};
	})()`)
	if got.N != 200 || got.Least < 0 || got.Most <= 1 || got.Most > 200 {
		t.Errorf("the section has %d points between %.2f and %.2f µm", got.N, got.Least, got.Most)
	}
	// By keys one goes along it, and hears how thick each layer is there.
	const place = `document.querySelector("#section .profile")`
	p.run(place + `.focus()`)
	p.press(kb.ArrowRight)
	p.waitFor(`Math.abs(` + place + `.getAttribute("aria-valuenow") - ` + place + `.getAttribute("aria-valuemax") / 100) <= 0.06 && document.querySelector("#section .cursor").checkVisibility()`)
	p.press(kb.End)
	p.waitFor(place + `.getAttribute("aria-valuenow") === ` + place + `.getAttribute("aria-valuemax")`)
	said := eval[string](p, place+`.getAttribute("aria-valuetext")`)
	for printer, um := range eval[map[string]float64](p, `(({um}) => Object.fromEntries(Object.entries(um).map(([printer, all]) => [printer, all[all.length - 1]])))(threeply.section(480))`) {
		if want := fmt.Sprintf("%s %.1f µm", printer, um); !strings.Contains(said, want) {
			t.Errorf("at the end of the cut “%s” is said, without %s", said, want)
		}
	}
	p.focusCanvas() // elsewhere no place is chosen
	p.waitFor(place + `.getAttribute("aria-valuetext") === "no place chosen"`)
	p.command("section", map[string]any{"x0": 0.2, "y0": 0.1, "x1": 0.8, "y1": 0.9})
	// Tab comes to its ends, and arrow keys move them: two pixels, or with Shift twenty.
	share := func() map[string]float64 {
		return eval[map[string]float64](p, `JSON.parse(threeply.view()).line.share`)
	}
	p.rest()
	was := share()
	wide := eval[float64](p, `threeply.keyAt(100, 0)[0] - threeply.keyAt(99, 0)[0]`)
	p.run(`document.querySelectorAll(".cut-end")[1].focus()`)
	p.press(kb.ArrowLeft)
	p.press(kb.ArrowUp, chromedp.KeyModifiers(chromedp.ModifierShift))
	p.rest()
	now := share()
	if x, y := (was["x1"]-now["x1"])/wide, was["y1"]-now["y1"]; math.Abs(x-2) > 0.01 || !(y > 5*(was["x1"]-now["x1"])) || now["x0"] != was["x0"] || now["y0"] != was["y0"] {
		t.Errorf("the second end went from %v to %v: %g px to the left", was, now, x)
	}
	p.run(`document.querySelectorAll(".cut-end")[0].focus()`)
	for range 12 { // no farther than the picture's edge
		p.press(kb.ArrowUp, chromedp.KeyModifiers(chromedp.ModifierShift))
	}
	p.rest()
	if again := share(); again["y0"] != 0 || again["x0"] != was["x0"] || again["y1"] != now["y1"] {
		t.Errorf("the first end went from %v to %v", now, again)
	}
	p.waitFor(outlines + `.join() !== ` + quoted(strings.Join(before, ",")))
}

// TestCancel stops a register under way: the page is free at once, and the plates lie
// as before.
func TestCancel(t *testing.T) {
	p := demo(t)
	before := p.view()
	p.command("station", map[string]any{"id": "register"})
	p.waitFor(`document.getElementById("panel-register").checkVisibility()`)
	p.run(`[...document.querySelectorAll("#panel-register button")].find(b => b.textContent.startsWith("Register")).click()`)
	p.waitFor(`v.jobs.length === 1 && document.querySelector("#busy button")?.checkVisibility()`)
	since := p.now()
	p.run(`document.querySelector("#busy button").click()`)
	p.waitFor(`v.jobs.length === 0`)
	t.Logf("free again after %.0f ms (to reach: 200 ms)", p.now()-since)
	after := p.view()
	for i, row := range after.Register.Rows {
		if row.Found != before.Register.Rows[i].Found {
			t.Errorf("the %s plate moved: %v, before %v", row.Filter, row.Found, before.Register.Rows[i].Found)
		}
	}
	if texts := after.errors(); len(texts) != 0 {
		t.Errorf("messages: %q", texts)
	}
	p.waitFor(`v.messages.some(m => m.kind === "note" && m.text.includes("was stopped"))`)
}
